import { cleanText, sentenceLengthMax } from '../facts/clean-text.ts';
import type { Gap } from '../facts/gap.ts';
import { byName } from '../facts/order.ts';
import type { Provenance } from '../facts/subject.ts';
import type { Disagreement } from '../facts/survey.ts';
import { unreadGap } from './clearance.ts';
import type { NodeView } from './node-view.ts';
import { isPhysical } from './port-kind.ts';
import type { Company } from './port-neighbour.ts';
import {
  type Draft,
  gapOf,
  newDraft,
  nodeReadGaps,
  nothingShared,
  ownProvenance,
  put,
} from './provenance.ts';
import { portRef, type SiteIndex } from './site-index.ts';
import type { SiteNode } from './types.ts';
import { undeclaredLinks } from './undeclared-links.ts';
import { versionAtLeast } from './version-at-least.ts';

/** A node with everything that intent and survey together say of it. */
export function siteNode(index: SiteIndex, node: NodeView, company: Company): SiteNode {
  const { declared, survey } = node;
  const draft = newDraft();
  if (node.read) Object.assign(draft.facts, survey?.facts);
  putState(draft, node);
  putVersion(draft, node);
  putTrouble(draft, node);
  const live = undeclaredLivePorts(index, node);
  const inLinks = index.linksOf.has(declared.name);
  const { ports, neighbours } = survey?.gaps ?? {};
  if (live !== undefined) putFound(draft, 'undeclaredLivePorts', live.up, ports ?? live.gap);
  else if (inLinks && !node.onWord) put(draft, 'undeclaredLivePorts', undefined, node.gap);
  const links = undeclaredLinks(index, node, company);
  const cut = neighbours?.reason === 'truncated' ? neighbours : undefined;
  if (links !== undefined) putFound(draft, 'undeclaredLinks', links, cut);
  const subject = {
    kind: 'node' as const,
    id: declared.name,
    facts: draft.facts,
    own: ownProvenance(draft),
    shared: sharedOf(node),
    place: declared.place,
  };
  return { declared, ...(survey === undefined ? {} : { survey }), subject };
}

/** That nothing was found in a list that may lack some is not known. */
function putFound(draft: Draft, name: string, found: readonly string[], gap?: Gap): void {
  put(draft, name, found.length === 0 && gap !== undefined ? undefined : found, gap);
}

function sharedOf(node: NodeView): Provenance {
  if (node.onWord) return nothingShared;
  if (!node.read) return { sources: {}, gaps: node.gap ? nodeReadGaps(node.gap) : {} };
  return { sources: node.survey?.sources ?? {}, gaps: node.survey?.gaps ?? {} };
}

function putState(draft: Draft, node: NodeView): void {
  const gap = node.onWord ? undefined : node.gap;
  put(draft, 'name', node.declared.name);
  put(draft, 'unread', node.declared.unread !== undefined);
  put(draft, 'sleeps', node.declared.sleeps);
  put(draft, 'mayBeAbsent', node.declared.mayBeAbsent);
  put(draft, 'read', node.read ? true : undefined, gap);
  const judged = node.read || node.contradictions.length > 0;
  put(draft, 'contradictions', judged ? node.contradictions : undefined, gap);
}

function putVersion(draft: Draft, { declared, survey, read, gap }: NodeView): void {
  const { osAtLeast } = declared;
  if (osAtLeast === undefined) return;
  put(draft, 'declaredOsAtLeast', osAtLeast);
  const version = read ? survey?.facts.osVersion : undefined;
  const recent = version === undefined ? undefined : versionAtLeast(version, osAtLeast);
  if (typeof recent === 'boolean') put(draft, 'osRecentEnough', recent);
  else
    put(draft, 'osRecentEnough', undefined, recent ?? gap ?? survey?.gaps['osVersion'] ?? unsaid);
}

const unsaid = gapOf('unsupported', 'the node does not tell the version of its system');

function putTrouble(draft: Draft, { survey }: NodeView): void {
  const troubles = (survey?.readings ?? []).flatMap(({ by, trouble }) =>
    trouble === undefined ? [] : [{ by, trouble }],
  );
  const lines = troubles.map(({ by, trouble }) => `${by}: ${trouble.seen}`);
  const remedies = new Set(troubles.map(({ trouble }) => trouble.remedy));
  if (troubles.length > 0) {
    put(draft, 'trouble', cleanText(lines.join('; '), sentenceLengthMax));
    put(draft, 'remedy', cleanText([...remedies].join('; '), sentenceLengthMax));
  }
  const answered = (survey?.readings ?? []).length - troubles.length;
  if (answered >= 2) put(draft, 'disagreements', survey?.disagreements.map(disagreementLine));
}

function disagreementLine({ port, fact, values }: Disagreement): string {
  const said = values.map(({ value, source }) => `${value} (${source})`).join(' against ');
  return cleanText(`${port === undefined ? '' : `${port} `}${fact}: ${said}`);
}

/** Names of physical ports with link that no link of the intent ends at, and why there may be more. */
function undeclaredLivePorts(
  index: SiteIndex,
  node: NodeView,
): { readonly up: string[]; readonly gap?: Gap } | undefined {
  const links = index.linksOf.get(node.declared.name);
  if (links === undefined || node.gap !== undefined) return undefined;
  const named = new Set<string>();
  for (const link of links) for (const end of link.ends) if (end.node === node) named.add(end.name);
  const free = [...node.ports.values()].filter(
    ({ name, facts }) => isPhysical(facts) && !named.has(name),
  );
  const up = free.flatMap(({ name, facts }) => (facts.operUp === true ? [name] : [])).sort(byName);
  const dark = free.find(({ facts }) => facts.operUp === undefined);
  if (dark === undefined) return { up };
  return { up, gap: unreadGap(portRef(index.ports, node, dark.name), 'operUp') };
}
