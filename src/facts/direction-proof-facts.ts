import type { FactEntry } from './entry.ts';
import { goodputShareMin } from './newest-proofs.ts';

const noFit = 'no fit of it counts any more, or none was run';
const noTransfer = 'no transfer of it counts any more, or none was run';

/**
 * What active tests have shown of a direction. A test counts for 30 days; ages are those at the end
 * of the reading, so that a saved survey that is judged again gives the same.
 */
export const directionProofFacts = {
  fitAsked: {
    type: 'flag',
    origin: 'declared',
    meaning: 'The intent asks for a fit every night (`fit: nightly`), and its sender can run one',
    label: 'whether a fit is asked for every night',
    sources: ['intent paths.*.fit, nodes.*.access'],
  },
  isProven: {
    type: 'flag',
    origin: 'derived',
    meaning: 'A fit of this direction, to the address that is in use, still counts',
    label: 'whether a fit of it still counts',
    sources: ['hopgauge fit'],
  },
  provenMtuBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'Largest IP packet that a fit has shown to pass',
    label: 'which packet was shown to pass',
    absentWhen: `${noFit}; or no packet came back`,
    sources: ['hopgauge fit'],
  },
  provenLostBytes: {
    type: 'number',
    origin: 'derived',
    unit: 'bytes',
    meaning: 'Smallest IP packet that a fit has shown not to pass',
    absentWhen: `${noFit}; or all that were tried passed`,
    sources: ['hopgauge fit'],
  },
  declaredMtuPassed: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The declared packet was shown to pass; false: it was shown not to',
    label: 'whether packets of the declared size were shown to pass',
    absentWhen: `${noFit}; or it did not try that size; absent without a reason: no MTU is declared`,
    sources: ['hopgauge fit: direction.provenMtuBytes, direction.provenLostBytes'],
  },
  provenAgeHours: {
    type: 'number',
    origin: 'derived',
    unit: 'h',
    meaning: 'How old that fit was when the reading ended; 0 for one of after it',
    label: 'how old its last fit is',
    absentWhen: noFit,
    sources: ['hopgauge fit'],
  },
  provenOn: {
    type: 'text',
    origin: 'derived',
    meaning: 'Day of that fit, UTC',
    absentWhen: noFit,
    sources: ['hopgauge fit'],
  },
  proofSays: {
    type: 'text',
    origin: 'derived',
    meaning: 'What that fit has shown, in words',
    absentWhen: noFit,
    sources: ['hopgauge fit'],
  },
  proofAgrees: {
    type: 'flag',
    origin: 'derived',
    meaning: 'Nothing that was read of the hops contradicts that fit',
    label: 'whether what was read agrees with its fit',
    absentWhen: noFit,
    sources: ['hopgauge fit against path.mtuAtLeastBytes and port.passesAtMostBytes'],
  },
  proofAgainst: {
    type: 'text',
    origin: 'derived',
    meaning: 'What was read that cannot be so, if that fit is right',
    absentWhen: 'nothing contradicts it, or there is none',
    sources: ['direction.proofAgrees'],
  },
  isMeasured: {
    type: 'flag',
    origin: 'derived',
    meaning: 'A transfer of this direction, to the address that is in use, still counts',
    label: 'whether a transfer of it still counts',
    sources: ['hopgauge transfer'],
  },
  measuredGoodputMbps: {
    type: 'number',
    origin: 'derived',
    unit: 'Mb/s',
    meaning: 'TCP payload per second that a transfer has brought over',
    label: 'which goodput was measured',
    absentWhen: `${noTransfer}; or it lasted less than a second`,
    sources: ['hopgauge transfer'],
  },
  declaredGoodputReached: {
    type: 'flag',
    origin: 'derived',
    meaning: `That transfer brought at least ${goodputShareMin * 100} % of the declared goodput: it loses some while it starts`,
    label: 'whether the declared goodput was reached',
    absentWhen: `${noTransfer}; or it lasted less than a second; absent without a reason: no goodput is declared`,
    sources: ['hopgauge transfer: direction.measuredGoodputMbps, direction.declaredGoodputMbps'],
  },
  measuredAgeHours: {
    type: 'number',
    origin: 'derived',
    unit: 'h',
    meaning: 'How old that transfer was when the reading ended; 0 for one of after it',
    label: 'how old its last transfer is',
    absentWhen: noTransfer,
    sources: ['hopgauge transfer'],
  },
  measuredOn: {
    type: 'text',
    origin: 'derived',
    meaning: 'Day of that transfer, UTC',
    absentWhen: noTransfer,
    sources: ['hopgauge transfer'],
  },
} as const satisfies Record<string, FactEntry>;
