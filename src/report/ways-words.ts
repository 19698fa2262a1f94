import { breaksMore, pathsBroken } from '../change/state-cost.ts';
import type { PathWays, SegmentWays, Way } from '../change/ways-types.ts';
import { speedWords } from './fact-words.ts';
import { rounded } from './figures.ts';
import { stateWords } from './state-words.ts';

/** Groups of paths alike that are told of one segment. */
const groupsShownMax = 8;
/** Paths that are named of one group. */
const namesShownMax = 3;

/** The two ways of a segment in words. */
export interface WaysInWords {
  /** `two ways for segment storage: all at 9000 bytes, or all at 1500`. */
  readonly title: string;
  /** By size, the larger first. */
  readonly ways: readonly { readonly label: string; readonly words: string }[];
  /** What of the segment is not known, a sentence; absent: all of it was read. */
  readonly unread?: string;
  /** What both give the paths over it. */
  readonly paths: readonly string[];
}

/** What each way takes, and what both give the paths that are declared over the segment. */
export function waysInWords({ segment, larger, smaller, unread, paths }: SegmentWays): WaysInWords {
  return {
    title: `two ways for segment ${segment}: all at ${larger.bytes} bytes, or all at ${smaller.bytes}`,
    ways: [larger, smaller].map((way) => ({ label: `${way.bytes} bytes`, words: wayWords(way) })),
    ...(unread.length === 0
      ? {}
      : { unread: `what ${namesOf(unread)} may need either way, which could not be read` }),
    paths: pathsWords(paths, [larger.bytes, smaller.bytes]),
  };
}

/** That there are segments of which no ways are told; nothing where there are none. */
export function leftOutWords(segments: readonly string[]): string[] {
  if (segments.length === 0) return [];
  return [
    `no ways are worked out for ${segments.join(', ')}: rehearse these in a change of their own`,
  ];
}

function wayWords(way: Way): string {
  const { isChange, steps, bounces, restarts, impossible, firstImpossible: first } = way;
  const own = isChange ? 'as in this change: ' : '';
  const down = bounces === 0 ? [] : [`a link goes down for a moment at ${bounces} of them`];
  const restart = restarts === 0 ? [] : [counted(restarts, 'node restarts', 'nodes restart')];
  const set = steps === 0 ? 'nothing to set' : counted(steps, 'step', 'steps');
  const more = impossible > 1 ? ` and ${impossible - 1} more cannot follow` : '';
  const cannot =
    first === undefined ? [] : [`impossible: ${first.on} ${first.what}${more && `;${more}`}`];
  return [`${own}${[set, ...down, ...restart].join(', ')}`, ...worstWords(way), ...cannot].join(
    '; ',
  );
}

function worstWords({ steps, start, worst }: Way): string[] {
  if (steps === 0) return [];
  if (worst === undefined || start === undefined) return ['its steps were not put into an order'];
  const broken = pathsBroken(start) > 0 && !breaksMore(worst, start);
  return [`at worst ${stateWords(worst)}${broken ? ', and no worse than before it' : ''}`];
}

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** Paths with the same figures together. */
function pathsWords(paths: readonly PathWays[], sizes: readonly [number, number]): string[] {
  const groups = new Map<string, string[]>();
  for (const path of paths) {
    const words = figureWords(path, sizes);
    groups.set(words, [...(groups.get(words) ?? []), path.id]);
  }
  const lines = [...groups].map(([words, ids]) => `${namesOf(ids)}${words}`);
  const left = lines.length - groupsShownMax;
  return [
    ...lines.slice(0, groupsShownMax),
    ...(left > 0
      ? [`${counted(left, 'more line', 'more lines')} of other paths: --format json has all`]
      : []),
  ];
}

function namesOf(ids: readonly string[]): string {
  const more = ids.length - namesShownMax;
  return `${ids.slice(0, namesShownMax).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

function figureWords({ ceilings, gap }: PathWays, sizes: readonly [number, number]): string {
  if (ceilings === undefined) return `: what the ways give is not known, since ${gap}`;
  const { slowestMbps, larger, smaller, gainPercent } = ceilings;
  const lead = ` at ${speedWords(slowestMbps)}, the slowest that is known of it`;
  if (larger.packetBytes === smaller.packetBytes)
    return `${lead}: the same either way, since another segment on it passes ${larger.packetBytes} bytes`;
  const [most, least] = [larger, smaller].map(
    ({ packetBytes, goodputMbps, packetsPerSecond }, at) =>
      `${packetBytes === sizes[at] ? 'at' : 'with packets of'} ${packetBytes} bytes at most ${rounded(goodputMbps, 1)} Mb/s of TCP data in ${packetsPerSecond} packets a second`,
  );
  return `${lead}: ${most}; ${least}: ${rounded(gainPercent, 2)} % more with the larger`;
}
