import type { StepSetting } from './types.ts';

/** The fact of a port that a step sets; undefined: it sets no fact. */
export function stepFact(
  setting: StepSetting,
): 'mtuBytes' | 'speedMbps' | 'duplex' | 'autoNegotiation' | undefined {
  if (setting === 'mtu') return 'mtuBytes';
  if (setting === 'speed') return 'speedMbps';
  if (setting === 'duplex') return 'duplex';
  return setting === 'auto-negotiation' ? 'autoNegotiation' : undefined;
}
