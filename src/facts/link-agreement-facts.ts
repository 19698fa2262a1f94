import type { FactEntry } from './entry.ts';

/** What both ends of a link must agree on beside speed and duplex. */
export const linkAgreementFacts = {
  endsShareSubnet: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The two hosts that the link joins have addresses in a common subnet on it',
    label: 'whether both ends have addresses in one subnet',
    absentWhen:
      'addresses of an end were not read; absent without a reason: an end is no host that is read, or forwards',
    sources: ['port.addresses of both ends and the layers above them'],
  },
  endAddresses: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Addresses at each end, with its name; `no address` where it has none',
    absentWhen: 'there is no `endsShareSubnet`',
    sources: ['port.addresses of both ends and the layers above them'],
  },
  bothFixed: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Neither end of a twisted-pair link negotiates',
    label: 'whether an end negotiates',
    absentWhen: 'no twisted pair, or an end does not say',
    sources: ['port.autoNegotiation'],
  },
  pauseHeeded: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Each end that sends pause frames has a partner that honours them',
    label: 'whether each end heeds the pause frames of the other',
    absentWhen: 'an end does not say',
    sources: ['port.pauseTx, port.pauseRx'],
  },
  pauseIgnoredBy: {
    type: 'text',
    origin: 'derived',
    meaning: 'The end that does not honour the pause frames of the other',
    absentWhen: 'there is none',
    sources: ['port.pauseTx, port.pauseRx'],
  },
} as const satisfies Record<string, FactEntry>;
