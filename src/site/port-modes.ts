import { parseEthtoolModes } from '../ethernet/ethtool-mode.ts';
import type { OfferedModes } from '../ethernet/link-mode.ts';
import { parseMediaList } from '../ethernet/media-words.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import type { PortRef } from './site-index.ts';

/** The three lists of modes that a port tells; each absent where it does not. */
export interface PortModes {
  /** What it can do. */
  readonly capable?: OfferedModes;
  /** What it offers. */
  readonly advertised?: OfferedModes;
  /** What it heard its partner offer. */
  readonly partner?: OfferedModes;
}

type ModeFact = 'supportedModes' | 'advertisedModes' | 'partnerModes';

/**
 * Twisted-pair speeds in Mb/s that a source cannot say: IANAifMauAutoNegCapBits has no 2.5 and 5
 * Gb/s, and LLDP carries its first 16 bits alone, none above 1 Gb/s.
 */
const unsaidBy: readonly (readonly [source: RegExp, speedsMbps: readonly number[]])[] = [
  [/LLDP/i, [2500, 5000, 10_000]],
  [/MAU/i, [2500, 5000]],
];

/** The lists of a port, read; `ref` may be a port of which nothing was read. */
export function modesOf(ref: PortRef): PortModes {
  const capable = listOf(ref, 'supportedModes');
  const advertised = listOf(ref, 'advertisedModes');
  const partner = listOf(ref, 'partnerModes');
  return {
    ...(capable === undefined ? {} : { capable }),
    ...(advertised === undefined ? {} : { advertised }),
    ...(partner === undefined ? {} : { partner }),
  };
}

function listOf(ref: PortRef, fact: ModeFact): OfferedModes | undefined {
  const texts = ref.survey?.facts[fact];
  return texts === undefined ? undefined : offeredModes(texts, sourceOfRef(ref, fact) ?? '');
}

function sourceOfRef(ref: PortRef, fact: keyof PortReadFacts): string | undefined {
  return ref.survey?.sources?.[fact] ?? ref.node.portProvenance.sources[fact];
}

/**
 * A list of modes as a system spells it, `ethtool` or `ifconfig`; `source` tells what its words
 * cannot say. Undefined for an empty list, which says nothing.
 */
export function offeredModes(texts: readonly string[], source: string): OfferedModes | undefined {
  if (texts.length === 0) return undefined;
  const [ethtool, media] = [parseEthtoolModes(texts), parseMediaList(texts)];
  const read = media.aside.length < ethtool.aside.length ? media : ethtool;
  const silent = unsaidBy.find(([pattern]) => pattern.test(source))?.[1] ?? [];
  return { ...read, silentMbps: [...new Set([...read.silentMbps, ...silent])] };
}

/** Highest speed of a list in Mb/s; undefined: no list, or nothing in it was understood. */
export function highestMbps(list: OfferedModes | undefined): number | undefined {
  return list?.modes[0]?.speedMbps;
}
