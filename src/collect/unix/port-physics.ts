import type { Gap } from '../../facts/gap.ts';
import type { PortDraft } from './draft.ts';

/** Facts that tell why a line is slow, whatever system reads them; those of the bus apart. */
export type LinePhysics = Pick<
  PortDraft,
  | 'phyText'
  | 'moduleText'
  | 'rxPowerDbm'
  | 'txPowerDbm'
  | 'rxPowerLowDbm'
  | 'rxPowerHighDbm'
  | 'txPowerLowDbm'
  | 'txPowerHighDbm'
  | 'moduleTemperatureCelsius'
  | 'pauseRx'
  | 'pauseTx'
  | 'rxPauseFrames'
  | 'txPauseFrames'
  | 'eeeEnabled'
  | 'eeeActive'
  | 'fecText'
  | 'partnerAutoNegotiation'
  | 'linkDownEvents'
  | 'lateCollisions'
  | 'rxSymbolErrors'
>;

/** The same reason for all that a module tells. */
export function noModuleFacts(why: Gap | undefined) {
  return {
    moduleText: why,
    rxPowerDbm: why,
    txPowerDbm: why,
    rxPowerLowDbm: why,
    rxPowerHighDbm: why,
    txPowerLowDbm: why,
    txPowerHighDbm: why,
    moduleTemperatureCelsius: why,
  } satisfies Partial<PortDraft>;
}
