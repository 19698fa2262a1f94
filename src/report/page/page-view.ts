import { wasRead } from '../../facts/was-read.ts';
import type { Finding } from '../../judge/types.ts';
import type { SiteLink, SiteNode, SitePort } from '../../site/types.ts';
import { timeWords } from '../summary-line.ts';
import type { AuditResult } from '../types.ts';
import type { Markup } from './markup.ts';
import { findingPasts } from './past/finding-past.ts';

/** One audit, with what the parts of its page look up in it. */
export interface PageView {
  readonly result: AuditResult;
  readonly nodes: ReadonlyMap<string, SiteNode>;
  readonly ports: ReadonlyMap<string, SitePort>;
  readonly links: ReadonlyMap<string, SiteLink>;
  /** Findings on a subject, gravest first. */
  readonly findingsOn: (kind: Finding['subject']['kind'], id: string) => readonly Finding[];
  /** What became of a finding since the audit before; absent: no history, or it has only begun. */
  readonly lifeOf: (finding: Finding) => FindingLife | undefined;
  /** The nights of a finding; absent: the history has none. */
  readonly pastOf: (finding: Finding) => Markup | undefined;
  /** When a node was read, ISO 8601 UTC; absent: it gave no answer. */
  readonly readAt: (node: string) => string | undefined;
}

/** The life of a finding: one word to sort by, and how it is said. */
export interface FindingLife {
  readonly word: 'new' | 'back' | 'worse' | 'open' | 'waiting';
  readonly words: string;
}

/** Indexes an audit once, so that every part of the page looks things up in one step. */
export function pageView(result: AuditResult): PageView {
  const { site, judgement } = result;
  const bySubject = new Map<string, Finding[]>();
  for (const finding of judgement.findings) {
    const key = `${finding.subject.kind} ${finding.subject.id}`;
    const list = bySubject.get(key);
    if (list === undefined) bySubject.set(key, [finding]);
    else list.push(finding);
  }
  const nodes = new Map(site.nodes.map((node) => [node.declared.name, node]));
  const lives = livesOf(result);
  const pastOf = result.past === undefined ? undefined : findingPasts(result.past);
  return {
    result,
    nodes,
    ports: new Map(site.ports.map((port) => [port.id, port])),
    links: new Map(site.links.map((link) => [link.declared.id, link])),
    findingsOn: (kind, id) => bySubject.get(`${kind} ${id}`) ?? [],
    lifeOf: ({ id }) => lives.get(id),
    pastOf: ({ id }) => pastOf?.(id),
    readAt: (name) => readAt(nodes.get(name)),
  };
}

function readAt(node: SiteNode | undefined): string | undefined {
  const survey = node?.survey;
  if (survey === undefined || !wasRead(survey)) return undefined;
  return survey.readings.find(({ trouble }) => trouble === undefined)?.startedAt;
}

function livesOf({ moved, past }: AuditResult): ReadonlyMap<string, FindingLife> {
  if (moved === undefined || moved.first) return new Map();
  const cleared = new Map(
    (past?.findings ?? []).flatMap(({ id, clearedAt }) =>
      clearedAt === undefined ? [] : [[id, clearedAt] as const],
    ),
  );
  return new Map(
    moved.settlement.living.map(({ finding, life, since }) => {
      const from = timeWords(since);
      const before = cleared.get(finding.id);
      const said: Readonly<Record<typeof life, FindingLife>> = {
        new:
          before === undefined
            ? { word: 'new', words: 'new' }
            : { word: 'back', words: `came back; it had cleared ${timeWords(before)}` },
        worsened: { word: 'worse', words: `worse than before, open since ${from}` },
        standing: { word: 'open', words: `open since ${from}` },
        waiting: { word: 'waiting', words: `seen since ${from}, waits for another audit` },
      };
      return [finding.id, said[life]];
    }),
  );
}
