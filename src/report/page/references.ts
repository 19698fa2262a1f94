import type { Finding } from '../../judge/types.ts';
import { gist } from '../finding-gist.ts';
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

/** A link to the finding, in the first sentence of its title. */
export function findingReference(finding: Finding): Markup {
  return markup`<a href="#${findingFragment(finding.id)}">${gist(titleWords(finding))}</a>`;
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
export function nodesOf({ subject, cause }: Finding, view: PageView): readonly string[] {
  const { kind, id } = subject;
  if (kind === 'node') return [id];
  const own = nodesNamed(kind === 'port' || kind === 'link' ? id : causeName(cause), view);
  if (own.length > 0 || kind !== 'path') return own;
  const hops = view.result.site.paths.find((path) => path.id === id)?.hops ?? [];
  return [...new Set(hops.flatMap(({ port, narrowest }) => (narrowest ? [port.node] : [])))];
}

/** What a cause names: `mtu loft-sw:xg1` gives `loft-sw:xg1`. */
function causeName(cause: string): string {
  return cause.slice(cause.indexOf(' ') + 1);
}

function nodesNamed(name: string, view: PageView): readonly string[] {
  if (view.nodes.has(name)) return [name];
  const ends = view.links.get(name)?.ends;
  if (ends !== undefined) return [...new Set(ends.map(({ node }) => node))];
  const known = view.ports.get(name)?.node;
  if (known !== undefined) return [known];
  const node = name.slice(0, Math.max(0, name.indexOf(':')));
  return view.nodes.has(node) ? [node] : [];
}
