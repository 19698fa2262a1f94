import type { PortDraft } from '../unix/draft.ts';

/** What nobody asks a Windows host for. */
export const notAsked = {
  driverMtuBytes: undefined,
  untaggedVlan: undefined,
  untaggedVlans: undefined,
  taggedVlans: undefined,
  spanningTree: undefined,
  aggregate: undefined,
  aggregateMode: undefined,
  aggregatorId: undefined,
  lacpActor: undefined,
  lacpPartner: undefined,
  lacpPartnerSystem: undefined,
  rxOversize: undefined,
  rxFragments: undefined,
  rxJabbers: undefined,
  forwardTooLong: undefined,
} satisfies Partial<PortDraft>;
