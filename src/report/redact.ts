import type { FindingEvent } from '../drift/timeline.ts';
import type { Survey } from '../facts/survey.ts';
import type { Site } from '../site/types.ts';
import { unreadNode } from './finding-gist.ts';
import type { HistoryView } from './history-text.ts';
import type { PagePast } from './page/past/page-past.ts';
import { type Hide, hideFor, pseudonym } from './pseudonym.ts';
import { type HistoryNames, historyNames, siteNames, surveyNames } from './site-names.ts';
import type { AuditResult } from './types.ts';

/** Words of ours, of standards and of the dictionary: never a name of the site's. */
const keptKeys: ReadonlySet<string> = new Set([
  'auth',
  'beneath',
  'by',
  'category',
  'duplex',
  'endedAt',
  'fact',
  'kind',
  'least',
  'life',
  'moduleType',
  'policy',
  'position',
  'privacy',
  'reason',
  'role',
  'rule',
  'severity',
  'source',
  'sources',
  'portSources',
  'startedAt',
  'subjectKind',
  'toolVersion',
  'unit',
  'unread',
  'until',
  'verdict',
  'version',
  'via',
]);

/** Free text of the owner's or of a device: nothing in it is needed, everything may be telling. */
const wholeKeys: Readonly<Record<string, string>> = {
  alias: 'text',
  because: 'because',
  label: 'label',
  labels: 'label',
  portText: 'text',
  systemName: 'name',
  systemText: 'text',
};

/**
 * The result with stable pseudonyms for the names of the site, nodes, paths, segments, aggregates
 * and labels, for users, addresses, MAC addresses, keys, serial numbers and files. The same value
 * has the same pseudonym in every report of one site, so that reports can still be compared. Names
 * of ports, rules and facts stay. It hides from a reader; someone who knows the name of the site
 * and guesses a name can still confirm the guess.
 */
export function redactResult(result: AuditResult): AuditResult {
  return redactKept(result, []).shown;
}

/**
 * A result of the history with the same pseudonyms, where nodes may have been read that no intent
 * has any more; `hide` gives the pseudonym of one by itself.
 */
export function redactKept(
  result: AuditResult,
  nodes: readonly string[],
): { readonly shown: AuditResult; readonly hide: Hide } {
  const site = result.site.intent.site;
  const names = siteNames(result);
  for (const node of nodes) if (!names.has(node)) names.set(node, 'node');
  const hide = hideFor(site, names);
  const { past } = result;
  const told = past === undefined ? result : { ...result, past: withoutWords(past) };
  return { shown: hideIn(told, '', { site, hide }) as AuditResult, hide };
}

/**
 * What findings of earlier nights said and why is left out: it may name neighbours and labels that
 * no intent, survey or change of today still has, so that no list of names would find them.
 */
function withoutWords(past: PagePast): PagePast {
  return {
    ...past,
    findings: past.findings.map(({ what: _, ...life }) => ({ ...life, cause: '' })),
  };
}

/**
 * A site with the same pseudonyms, in the same order. What is told of it is told of pseudonyms, so
 * that no sentence made from it can name anything.
 */
export function redactSite(named: Site, survey: Survey | undefined): Site {
  const { site } = named.intent;
  const names = siteNames({
    site: named,
    ...(survey === undefined ? {} : { survey }),
    judgement: { faults: [], findings: [] },
  });
  return hideIn(named, '', { site, hide: hideFor(site, names) }) as Site;
}

/**
 * A history with the same pseudonyms. Of a finding its rule stands for what it said, as in a page's
 * past: no list of names of today would find all that it may name.
 */
export function redactHistory(view: HistoryView, known: HistoryNames): HistoryView {
  const { site, timeline } = view;
  const hide = hideFor(site, historyNames(view, known));
  const events = timeline.events.map((event) =>
    event.kind === 'found' || event.kind === 'cleared'
      ? { ...event, what: event.rule, cause: keptCause(event) }
      : event,
  );
  const told = { ...view, timeline: { ...timeline, events } };
  return hideIn(told, '', { site, hide }) as HistoryView;
}

/** That a node was not read is told by its cause, which is its name. */
function keptCause(event: FindingEvent): string {
  return unreadNode(event) === undefined ? event.id : event.cause;
}

/** A survey with the same pseudonyms, to be shown; it can no longer be judged. */
export function redactSurvey(survey: Survey): Survey {
  const { site } = survey;
  const hide = hideFor(site, surveyNames(survey));
  return hideIn(survey, '', { site, hide }) as Survey;
}

interface Hiding {
  readonly site: string;
  readonly hide: Hide;
}

function hideIn(value: unknown, key: string, hiding: Hiding): unknown {
  if (keptKeys.has(key)) return value;
  if (typeof value === 'string') return hideText(value, key, hiding);
  if (Array.isArray(value)) return value.map((item) => hideIn(item, key, hiding));
  if (value === null || typeof value !== 'object') return value;
  const telling = tellingKey(value);
  const hidden = Object.entries(value).map(([name, item]) => [
    name,
    hideIn(item, valueKeys.has(name) ? telling : name, hiding),
  ]);
  return inRun(Object.fromEntries(hidden), value);
}

/** Keys beside `fact` that hold a value of it. */
const valueKeys: ReadonlySet<string> = new Set(['value', 'was', 'is']);

/** Of a piece of evidence on such a fact, the value is hidden as the fact itself would be. */
function tellingKey(value: object): string {
  const fact = 'fact' in value && typeof value.fact === 'string' ? value.fact : '';
  return fact.slice(fact.indexOf('.') + 1);
}

/** A label may be a bare number, which no search for names finds in the text of its piece. */
function inRun(hidden: Record<string, unknown>, value: object): unknown {
  if (!('text' in value) || !('label' in value)) return hidden;
  const { text } = hidden;
  if (typeof text !== 'string' || typeof value.label !== 'string') return hidden;
  return { ...hidden, text: text.replaceAll(value.label, String(hidden['label'])) };
}

function hideText(text: string, key: string, { site, hide }: Hiding): string {
  const kind = Object.hasOwn(wholeKeys, key) ? wholeKeys[key] : undefined;
  if (kind !== undefined && text !== '')
    return hide(text) === text ? pseudonym(site, kind, text) : hide(text);
  // A finding's identifier is made of names: a plain digest of them that could be guessed.
  if (key === 'id' && /^[0-9a-f]{10}$/.test(text)) return pseudonym(site, '', text).slice(1);
  return hide(text);
}
