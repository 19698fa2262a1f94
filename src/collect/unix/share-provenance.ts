import type { Gap, Gaps } from '../../facts/gap.ts';
import { byName } from '../../facts/order.ts';
import type { PortReadFacts } from '../../facts/port-facts.ts';
import type { PortSurvey } from '../../facts/survey.ts';
import type { Found, PortDraft, Settled } from './draft.ts';

/** Ports, with what most of them have in common said once. */
export interface SharedPorts {
  readonly ports: readonly PortSurvey[];
  readonly portSources: Readonly<Record<string, string>>;
  readonly portGaps: Gaps;
}

type Entries = readonly (readonly [string, NonNullable<Settled<unknown>>])[];

/**
 * Ports in the order of their names, with the sources and gaps that most of them have kept once
 * and only exceptions kept per port.
 */
export function shareProvenance(drafts: ReadonlyMap<string, PortDraft>): SharedPorts {
  const ports = [...drafts]
    .map(([name, draft]): readonly [string, Entries] => [name, settled(draft)])
    .sort(([a], [b]) => byName(a, b));
  const sources = mostCommon(ports, (item) => (isFound(item) ? item.source : undefined));
  const gapKeys = mostCommon(ports, (item) => (isFound(item) ? undefined : gapKey(item)));
  const everywhere = inAll(ports);
  const shareable = new Map([...gapKeys].filter(([fact]) => everywhere.has(fact)));
  return {
    ports: ports.map(([name, entries]) => portOf(name, entries, { sources, gaps: shareable })),
    portSources: Object.fromEntries(sources),
    portGaps: Object.fromEntries([...shareable].map(([fact, key]) => [fact, gapFrom(key)])),
  };
}

function settled(draft: PortDraft): Entries {
  const entries: (readonly [string, Settled<unknown>])[] = Object.entries(draft);
  return entries.flatMap(([fact, item]) => (item === undefined ? [] : [[fact, item] as const]));
}

function isFound(item: NonNullable<Settled<unknown>>): item is Found<unknown> {
  return 'source' in item;
}

/** Facts of which every port says something. */
function inAll(ports: readonly (readonly [string, Entries])[]): ReadonlySet<string> {
  const counts = new Map<string, number>();
  for (const [, entries] of ports)
    for (const [fact] of entries) counts.set(fact, (counts.get(fact) ?? 0) + 1);
  return new Set([...counts].filter(([, count]) => count === ports.length).map(([fact]) => fact));
}

function mostCommon(
  ports: readonly (readonly [string, Entries])[],
  keyOf: (item: NonNullable<Settled<unknown>>) => string | undefined,
): ReadonlyMap<string, string> {
  const counts = new Map<string, Map<string, number>>();
  for (const [, entries] of ports) {
    for (const [fact, item] of entries) {
      const key = keyOf(item);
      if (key === undefined) continue;
      const ofFact = counts.get(fact);
      if (ofFact === undefined) counts.set(fact, new Map([[key, 1]]));
      else ofFact.set(key, (ofFact.get(key) ?? 0) + 1);
    }
  }
  return new Map([...counts].map(([fact, ofFact]) => [fact, highest(ofFact)]));
}

function highest(counts: ReadonlyMap<string, number>): string {
  const [first] = [...counts].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1));
  return first?.[0] ?? '';
}

function portOf(
  name: string,
  entries: Entries,
  shared: {
    readonly sources: ReadonlyMap<string, string>;
    readonly gaps: ReadonlyMap<string, string>;
  },
): PortSurvey {
  const facts: Record<string, unknown> = {};
  const sources: Record<string, string> = {};
  const gaps: Record<string, Gap> = {};
  for (const [fact, item] of entries) {
    if (isFound(item)) {
      facts[fact] = item.value;
      if (shared.sources.get(fact) !== item.source) sources[fact] = item.source;
    } else if (shared.gaps.get(fact) !== gapKey(item)) gaps[fact] = item;
  }
  return {
    name,
    facts: facts as PortReadFacts,
    ...(Object.keys(sources).length === 0 ? {} : { sources }),
    ...(Object.keys(gaps).length === 0 ? {} : { gaps }),
  };
}

function gapKey(gap: Gap): string {
  return `${gap.reason} ${gap.words}`;
}

function gapFrom(key: string): Gap {
  const at = key.indexOf(' ');
  return { reason: key.slice(0, at) as Gap['reason'], words: key.slice(at + 1) };
}
