import { parseEthtoolModes } from '../ethernet/ethtool-mode.ts';
import type { Gap } from '../facts/gap.ts';
import { isMissing, type Known, type LiveLook, type PortChange } from '../probe/live-types.ts';
import { speedWords } from './fact-words.ts';
import { clean } from './layout.ts';

/** What the intent says of a port that is watched. */
export interface DeclaredLine {
  readonly speedMbps?: number;
  readonly duplex?: 'full' | 'half';
  /** IP packet that it is to carry, in bytes. */
  readonly packetBytes?: number;
}

/** One change as a sentence without time and name. */
export function changeWords(change: PortChange, declared: DeclaredLine): string {
  const { kind, look, was } = change;
  if (isMissing(look)) {
    return `${kind === 'first' ? 'no such port' : 'the port is gone'}: ${clean(look.words)}`;
  }
  switch (kind) {
    case 'first':
      return firstWords(look, declared);
    case 'there':
      return `the port is there again: ${stateWords(look, declared)}`;
    case 'blink':
      return blinkWords(change);
    case 'line':
      return `now ${lineWords(look)}${was === undefined ? '' : `, was ${lineWords(was)}`}${againstWords(look, declared)}`;
    case 'partner':
      return `the far side now offers ${offerWords(look.partnerModes)}`;
    case 'mtu':
      return `MTU ${numberWords(look.mtuBytes)}${was === undefined ? '' : `, was ${numberWords(was.mtuBytes)}`}${packetWords(look, declared)}`;
    case 'admin':
      return look.adminUp.value === true ? 'switched on' : 'switched off';
    case 'errors':
      return `frames with errors: ${rateWords(change.perSecond ?? 0)} a second`;
    case 'errors-over':
      return 'no more frames with errors';
    case 'unknown':
      return `it does not tell any more whether there is a link${reasonWords(look.up.gap)}`;
    case 'flapping':
      return `the link comes and goes: ${foldedWords(change)}; only counted while that lasts`;
    case 'settled':
      return `settled after ${foldedWords(change)}: ${stateWords(look, declared)}`;
    case 'up':
    case 'down':
    case 'gone':
      return stateWords(look, declared);
  }
}

function foldedWords({ times = 0, seconds = 0 }: PortChange): string {
  return `${times} changes in ${seconds} s`;
}

function blinkWords({ was, times = 1, atLeast }: PortChange): string {
  const what = was?.up.value === true ? 'went down and came back' : 'came up and went again';
  const count = atLeast === true ? ', once or more,' : times === 1 ? '' : ` ${times} times`;
  return `the link ${what}${count} between two looks`;
}

/** What a port is, and what it does not tell. */
function firstWords(look: LiveLook, declared: DeclaredLine): string {
  const mtu = look.mtuBytes.value === undefined ? '' : `, MTU ${look.mtuBytes.value}`;
  const made = look.virtual === true ? '; no hardware: its speed is only what its driver says' : '';
  return `${stateWords(look, declared, mtu)}${packetWords(look, declared)}${made}${untoldWords(look)}`;
}

/** `link up at 1 Gb/s full; declared 10 Gb/s` */
export function stateWords(look: LiveLook, declared: DeclaredLine, more = ''): string {
  if (look.adminUp.value === false) return `link down: the port is switched off${more}`;
  if (look.up.gap !== undefined) return `link not told${reasonWords(look.up.gap)}${more}`;
  if (!look.up.value) return `link down${more}`;
  return `link up at ${lineWords(look)}${more}${againstWords(look, declared)}`;
}

/** `1 Gb/s full`; what is not told is said so. */
export function lineWords({ speedMbps, duplex, autoNegotiation }: LiveLook): string {
  const speed =
    speedMbps.value === undefined
      ? `a speed that is not told${reasonWords(speedMbps.gap)}`
      : speedWords(speedMbps.value);
  const fixed = autoNegotiation.value === false ? ', not negotiated' : '';
  return `${speed}${duplex.value === undefined ? '' : ` ${duplex.value}`}${fixed}`;
}

/** `; declared 10 Gb/s full; the far side offers up to 1 Gb/s`; empty where all is as declared. */
function againstWords(look: LiveLook, declared: DeclaredLine): string {
  const differs = differsFrom(look, declared);
  if (differs.length === 0) return '';
  const best = bestOf(look.partnerModes);
  const offers = best === undefined ? '' : `; the far side offers up to ${speedWords(best)}`;
  return `; declared ${differs.join(' ')}${offers}`;
}

/** What of a line that is up is not as declared, as it is declared. Of no hardware: nothing. */
export function differsFrom(look: LiveLook, declared: DeclaredLine): readonly string[] {
  if (look.virtual === true || look.up.value !== true) return [];
  const { speedMbps, duplex } = look;
  const slow = speedMbps.value !== undefined && declared.speedMbps !== undefined;
  return [
    ...(slow && speedMbps.value !== declared.speedMbps ? [speedWords(declared.speedMbps)] : []),
    ...(duplex.value !== undefined &&
    declared.duplex !== undefined &&
    duplex.value !== declared.duplex
      ? [declared.duplex]
      : []),
  ];
}

/** Whatever a port counts as its MTU, less than the packet itself is too little. */
function packetWords({ mtuBytes }: LiveLook, { packetBytes }: DeclaredLine): string {
  if (mtuBytes.value === undefined || packetBytes === undefined) return '';
  return mtuBytes.value < packetBytes ? `; declared packet ${packetBytes} bytes` : '';
}

function bestOf(modes: Known<readonly string[]>): number | undefined {
  if (modes.value === undefined) return undefined;
  const speeds = parseEthtoolModes(modes.value).modes.map(({ speedMbps }) => speedMbps);
  return speeds.length === 0 ? undefined : Math.max(...speeds);
}

/** `100 Mb/s half, 1 Gb/s` in order of speed; half duplex is said where a speed has no other. */
export function offerWords(modes: Known<readonly string[]>): string {
  if (modes.value === undefined) return 'what is not told';
  const read = parseEthtoolModes(modes.value).modes;
  const speeds = [...new Set(read.map(({ speedMbps }) => speedMbps))].sort((a, b) => a - b);
  if (speeds.length === 0) return 'modes that are not known here';
  const full = (mbps: number) =>
    read.some((mode) => mode.speedMbps === mbps && mode.duplex === 'full');
  return speeds.map((mbps) => `${speedWords(mbps)}${full(mbps) ? '' : ' half'}`).join(', ');
}

/** What a port does not tell, each with its reason; what a down link cannot tell is left out. */
function untoldWords(look: LiveLook): string {
  const { rxErrors, txErrors } = look.counters;
  const facts: readonly (readonly [string, Gap | undefined])[] = [
    ['duplex', look.duplex.gap],
    ["the far side's modes", look.partnerModes.gap],
    ['errors', rxErrors.gap === undefined || txErrors.gap === undefined ? undefined : rxErrors.gap],
    ['MTU', look.mtuBytes.gap],
  ];
  return facts
    .flatMap(([name, gap]) =>
      gap === undefined || gap.reason === 'down' ? [] : [`; ${name} not told${reasonWords(gap)}`],
    )
    .join('');
}

function reasonWords(gap: Gap | undefined): string {
  return gap === undefined ? '' : ` (${clean(gap.words)})`;
}

function numberWords(known: Known<number>): string {
  return known.value === undefined ? 'not told' : String(known.value);
}

/** `0.5`, `12`, `1200`: no more than a person reads. */
export function rateWords(perSecond: number): string {
  return perSecond >= 10 || Number.isInteger(perSecond)
    ? String(Math.round(perSecond))
    : perSecond.toFixed(1);
}

/** `02:13:07` of a time, UTC. */
export function clockWords(atMs: number): string {
  return new Date(atMs).toISOString().slice(11, 19);
}
