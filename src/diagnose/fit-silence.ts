import { mtuExtras } from '../ethernet/mtu-extras.ts';
import type { Hop, SitePath } from '../site/types.ts';
import { crossedHops, saidMtuBytes } from './fit-hops.ts';
import type { FitReason } from './fit-seen.ts';

/** What came back and what did not, of one path. IP packets in bytes. */
export interface Silence {
  /** Absent: nothing came back. */
  readonly provenBytes?: number;
  readonly lostBytes: number;
  /** Packet that is to pass. */
  readonly wantedBytes: number;
}

const portsShownMax = 4;

/** Why a size is lost in silence, by what is known of the hops; the strongest reason alone. */
export function silenceReason(path: SitePath, silence: Silence): FitReason {
  const hops = crossedHops(path);
  return (
    smallHops(hops, silence) ??
    countingHop(
      hops.filter((hop) => !surely(hop, silence)),
      silence,
    ) ??
    unreadHops(hops, silence) ??
    unknownHops(hops, silence) ??
    countingHop(hops, silence) ??
    nobody(path, hops, silence)
  );
}

function surely({ clearance: { atLeastBytes = 0 } }: Hop, { lostBytes }: Silence): boolean {
  return atLeastBytes >= lostBytes;
}

/** Known to be too small, and not so small that what came back could not have passed. */
function smallHops(hops: readonly Hop[], { lostBytes, wantedBytes, provenBytes = 0 }: Silence) {
  const small = hops.filter(({ clearance: { atMostBytes: most } }) => {
    return most !== undefined && most < lostBytes && most >= provenBytes;
  });
  if (small.length === 0) return undefined;
  const named = small.map(({ port, clearance: { atLeastBytes: least, atMostBytes: most } }) => {
    return `${port.id} passes ${least === most ? `${most}` : `at most ${most}`} bytes`;
  });
  return reason('explains', small, {
    says: `${few(named)}: that is why ${lostBytes} bytes are lost in silence`,
    remedy: `raise ${few(small.map(({ port }) => port.id))} so that ${wantedBytes} bytes pass, switches before hosts; then run the fit again`,
  });
}

/**
 * A hop whose number, read as one accounting and as no other, lies between what passed and what did
 * not: where several would do, the sizes that were tried tell nothing of what it counts.
 */
function countingHop(hops: readonly Hop[], { lostBytes, provenBytes, wantedBytes }: Silence) {
  if (provenBytes === undefined) return undefined;
  const between = (hop: Hop, counted: number) => {
    const passes = (saidMtuBytes(hop) ?? 0) - counted;
    return passes >= provenBytes && passes < lostBytes;
  };
  const settled = hops.filter((hop) => {
    return mtuExtras.filter(({ bytes }) => between(hop, bytes)).length === 1;
  });
  for (const { bytes, words, ...named } of mtuExtras) {
    const fits = settled.filter((hop) => between(hop, bytes));
    const [first] = fits;
    if (first === undefined) continue;
    const ids = few(fits.map(({ port }) => port.id));
    const said = saidMtuBytes(first) ?? 0;
    const word = 'word' in named ? named.word : undefined;
    const declare =
      word === undefined ? '' : `; or declare mtuCounts: { port: ${word} } for its node`;
    return reason('counts', fits, {
      says: `${ids}: its MTU of ${said} seems to count ${words}, ${bytes} bytes, so that ${said - bytes} pass; ${provenBytes} came back and ${lostBytes} did not`,
      remedy: `set it to ${wantedBytes + bytes} or more${declare}`,
    });
  }
  return undefined;
}

function unreadHops(hops: readonly Hop[], { lostBytes }: Silence) {
  const unread = hops.filter(({ clearance }) => clearance.onWord);
  if (unread.length === 0) return undefined;
  const nodes = [...new Set(unread.map(({ port }) => port.node))];
  return reason('unread', unread, {
    says: `no hop that was read explains why ${lostBytes} bytes are lost; nobody reads ${few(nodes)}, which is known from the intent alone`,
    remedy: `look at ${few(nodes)}: its data sheet, its own pages, or put a cord in its place and run the fit again`,
  });
}

function unknownHops(hops: readonly Hop[], silence: Silence) {
  const unknown = hops.filter((hop) => !surely(hop, silence));
  if (unknown.length === 0) return undefined;
  const ids = few(unknown.map(({ port }) => port.id));
  if (!hops.some(({ port }) => port.survey !== undefined)) {
    return reason('unknown', [], {
      says: 'which hop loses them is in their settings, and none was read',
      remedy: 'save them with hopgauge survey --out FILE, and give the fit --survey FILE',
    });
  }
  return reason('unknown', unknown, {
    says: `no hop is known to be too small for ${silence.lostBytes} bytes; what these pass is not known: ${ids}`,
    remedy: 'look at them first; mtuCounts in the intent says what the MTU of a switch counts',
  });
}

function nobody(path: SitePath, hops: readonly Hop[], { lostBytes }: Silence): FitReason {
  return reason('contradicts', hops, {
    says: `every hop of ${path.id} says that ${lostBytes} bytes pass, and they do not: one of them says what is not so, something undeclared is in between, or the traffic takes another way`,
    remedy:
      'read the survey anew; then split the path: run the fit from a host at a switch in the middle, or take one hop out at a time',
  });
}

function reason(
  kind: FitReason['kind'],
  hops: readonly Hop[],
  words: Pick<FitReason, 'says' | 'remedy'>,
): FitReason {
  return { kind, at: hops.map(({ port }) => port.id), ...words };
}

/** The first few of a list in words. */
function few(words: readonly string[]): string {
  const shown = words.slice(0, portsShownMax).join(', ');
  const more = words.length - portsShownMax;
  return more > 0 ? `${shown} and ${more} more` : shown;
}
