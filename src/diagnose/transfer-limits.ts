import { fitsCeiling } from './figure-fit.ts';

/** What was seen of one end while a transfer lasted; shares of 1, absent where not told. */
export interface EndSigns {
  readonly node: string;
  /** Of one processor core, by the program. */
  readonly own?: number | undefined;
  /** Of the busiest core, by all that ran there. */
  readonly busiest?: number | undefined;
}

/** What was seen of a transfer. */
export interface TransferSigns {
  readonly goodputMbps: number;
  readonly ceilingMbps?: number | undefined;
  /** Absent: the sender's kernel does not tell. */
  readonly waited?: { readonly window: number; readonly buffer: number } | undefined;
  readonly efficiencyPercent?: number | undefined;
  readonly from: EndSigns;
  readonly to: EndSigns;
}

/** One thing that held a transfer back. */
export interface TransferLimit {
  readonly kind: 'line' | 'processor' | 'window' | 'send-buffer' | 'losses';
  readonly certainty: 'is' | 'likely';
  readonly says: string;
  readonly next?: string;
}

/** A core that is busy for so much of the time has none left (common practice). */
const fullCoreShare = 0.95;
/** Waiting for so much of the time costs as much of the throughput. */
const waitedShareMin = 0.2;
/** Sound Ethernet loses less than one packet in a thousand even under load (common practice). */
const soundEfficiencyPercent = 99.9;

/**
 * What held a transfer back, the surest first. A transfer that reaches what its line allows was held
 * back by nothing else, so nothing else is then looked for.
 */
export function transferLimits(signs: TransferSigns): readonly TransferLimit[] {
  const { goodputMbps, ceilingMbps } = signs;
  const figure = { mbps: goodputMbps, roundingShare: 0 };
  if (ceilingMbps !== undefined && fitsCeiling(figure, ceilingMbps)) {
    return [{ kind: 'line', certainty: 'is', says: 'the line: it carries what its speed allows' }];
  }
  if (ceilingMbps !== undefined && goodputMbps > ceilingMbps) {
    return [{ kind: 'line', certainty: 'is', says: fasterThanDeclared }];
  }
  return [
    ...processorLimits(signs.from, 'sends'),
    ...processorLimits(signs.to, 'receives'),
    ...waitLimits(signs),
    ...lossLimits(signs),
  ];
}

const fasterThanDeclared =
  'not the line as declared, since more came than it carries: it is faster, or the traffic takes another way';

function processorLimits({ node, own, busiest }: EndSigns, does: string): readonly TransferLimit[] {
  const percent = (share: number) => `${Math.round(share * 100)} %`;
  if (own !== undefined && own >= fullCoreShare) {
    const says = `the processor of ${node}: the program that ${does} takes ${percent(own)} of one core`;
    const next = 'larger packets take less of it; a real server may need more than one core';
    return [{ kind: 'processor', certainty: 'is', says, next }];
  }
  if (busiest !== undefined && busiest >= fullCoreShare) {
    const says = `the processor of ${node}: its busiest core was busy for ${percent(busiest)} of the time`;
    const next = 'see what else ran there: interrupts of the adapter, encryption, other work';
    return [{ kind: 'processor', certainty: 'likely', says, next }];
  }
  return [];
}

function waitLimits({ waited, from, to }: TransferSigns): readonly TransferLimit[] {
  if (waited === undefined) return [];
  const percent = (share: number) => `${Math.round(share * 100)} % of its time`;
  const limits: TransferLimit[] = [];
  if (waited.window >= waitedShareMin) {
    const says = `the window: ${from.node} waited ${percent(waited.window)} for room at ${to.node}`;
    const next = `raise the receive buffer of ${to.node}, or compare with more connections (--streams)`;
    limits.push({ kind: 'window', certainty: 'is', says, next });
  }
  if (waited.buffer >= waitedShareMin) {
    const says = `the send buffer: ${from.node} waited ${percent(waited.buffer)} for room in its own`;
    const next = `raise the send buffer of ${from.node}, or compare with more connections (--streams)`;
    limits.push({ kind: 'send-buffer', certainty: 'is', says, next });
  }
  return limits;
}

function lossLimits({ efficiencyPercent }: TransferSigns): readonly TransferLimit[] {
  if (efficiencyPercent === undefined || efficiencyPercent >= soundEfficiencyPercent) return [];
  const says = `losses: ${(100 - efficiencyPercent).toFixed(2)} % had to be sent again`;
  const next = 'see which port drops or corrupts: hopgauge explain tells its counters';
  return [{ kind: 'losses', certainty: 'likely', says, next }];
}
