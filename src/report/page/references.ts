import type { Finding } from '../../judge/types.ts';
import { titleWords } from '../finding-lines.ts';
import {
  findingFragment,
  linkFragment,
  nodeFragment,
  pathFragment,
  portFragment,
} from './fragments.ts';
import { type Markup, markup } from './markup.ts';
import type { PageView } from './page-view.ts';

/** A link to the finding, in the words of its title. */
export function findingReference(finding: Finding): Markup {
  return markup`<a href="#${findingFragment(finding.id)}">${titleWords(finding)}</a>`;
}

/** The name of what a finding is about, as a link to it where the page has it. */
export function subjectReference({ subject }: Finding, view: PageView): Markup {
  const fragment = subjectFragment(subject, view);
  if (fragment === undefined) return markup`${subject.id}`;
  return markup`<a href="#${fragment}">${subject.id}</a>`;
}

function subjectFragment({ kind, id }: Finding['subject'], view: PageView): string | undefined {
  const { site } = view.result;
  switch (kind) {
    case 'node':
      return view.nodes.has(id) ? nodeFragment(id) : undefined;
    case 'port':
      return view.ports.has(id) ? idFragment(id) : undefined;
    case 'link':
      return view.links.has(id) ? linkFragment(id) : undefined;
    case 'path':
      return pathFragment(id);
    case 'direction': {
      const of = site.directions.find((direction) => direction.id === id);
      return of === undefined ? undefined : pathFragment(of.path);
    }
    case 'segment':
      return undefined;
  }
}

/** The fragment of a port by its whole identifier. */
export function idFragment(id: string): string {
  const at = id.indexOf(':');
  return portFragment(id.slice(0, at), id.slice(at + 1));
}

/** The nodes on which one would look for a finding: of its subject, else of its cause. */
export function nodesOf({ subject, cause, evidence }: Finding, view: PageView): readonly string[] {
  const { kind, id } = subject;
  if (kind === 'node') return [id];
  if (kind === 'port') return portNode(id, view);
  if (kind === 'link') return [...new Set(view.links.get(id)?.ends.map(({ node }) => node) ?? [])];
  const [, causeKind = '', named = ''] = /^(node|port) (.*)$/s.exec(cause) ?? [];
  if (causeKind === 'node') return view.nodes.has(named) ? [named] : [];
  if (causeKind === 'port') return portNode(named, view);
  return evidence.flatMap(({ fact, value }) =>
    fact === 'path.narrowestPort' && typeof value === 'string' ? portNode(value, view) : [],
  );
}

function portNode(id: string, view: PageView): readonly string[] {
  const known = view.ports.get(id)?.node;
  if (known !== undefined) return [known];
  const node = id.slice(0, id.indexOf(':'));
  return view.nodes.has(node) ? [node] : [];
}
