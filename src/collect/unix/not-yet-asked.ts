import type { PortDraft } from './draft.ts';

/** Facts that no command on the list of hosts asks for: they are absent, and never expected. */
export const notYetAsked = {
  busText: undefined,
  busMbps: undefined,
  busMaxMbps: undefined,
  phyText: undefined,
  moduleText: undefined,
  rxPowerDbm: undefined,
  txPowerDbm: undefined,
  rxPowerLowDbm: undefined,
  rxPowerHighDbm: undefined,
  txPowerLowDbm: undefined,
  txPowerHighDbm: undefined,
  moduleTemperatureCelsius: undefined,
  pauseRx: undefined,
  pauseTx: undefined,
  rxPauseFrames: undefined,
  txPauseFrames: undefined,
  eeeEnabled: undefined,
  eeeActive: undefined,
  fecText: undefined,
  partnerAutoNegotiation: undefined,
  linkDownEvents: undefined,
} satisfies Partial<PortDraft>;
