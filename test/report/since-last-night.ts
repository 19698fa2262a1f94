import type { Finding } from '../../src/judge/types.ts';
import type { AuditResult, Moved } from '../../src/report/types.ts';
import { middleSmall } from './saltmarsh.ts';
import { at } from './samples.ts';

/** The Saltmarsh office on a night on which something moved, cleared, waits and is waived. */

const before = '2026-11-24T02:00:00.000Z';
const [small, smallPort] = middleSmall.judgement.findings;
if (small === undefined || smallPort === undefined) throw new Error('the sample has two findings');

const label: Finding = {
  ...smallPort,
  id: '5d0c2d3e4b',
  policy: 'essential',
  rule: 'duplex-full',
  severity: 'warning',
  verdict: 'waived',
  beneath: 'broken',
  subject: { kind: 'port', id: 'quay-sw:g7' },
  cause: 'port quay-sw:g7',
  what: 'runs in half duplex',
  waiver: { until: '2027-03-31', because: 'label printer is half duplex by design', place: at(44) },
};
const noisy: Finding = {
  ...smallPort,
  id: '6e0c2d3e4b',
  policy: 'signal',
  rule: 'port-errors',
  severity: 'warning',
  verdict: 'undetermined',
  subject: { kind: 'port', id: 'vault:eth4' },
  cause: 'port vault:eth4',
  what: 'whether its errors are too many is not known',
  evidence: [{ fact: 'port.errorRatio', gap: { reason: 'unasked', words: 'one night only' } }],
  nights: 2,
};
const findings = [small, smallPort, label, noisy];

const moved: Moved = {
  first: false,
  lastAt: before,
  lastCompleteAt: '2026-11-25T02:00:02.200Z',
  settlement: {
    living: [
      { finding: small, life: 'new', since: middleSmall.startedAt },
      { finding: smallPort, life: 'worsened', since: before },
      { finding: label, life: 'standing', since: before },
      { finding: noisy, life: 'waiting', since: middleSmall.startedAt },
    ],
    cleared: [
      {
        id: '7f0c2d3e4b',
        policy: 'essential',
        rule: 'link-speed',
        subject: { kind: 'port', id: 'old-desk:en0' },
        severity: 'error',
        verdict: 'broken',
        what: 'old-desk:en0 runs at 1000 of the declared 10000 Mb/s',
        cause: 'port old-desk:en0',
        since: '2026-11-20T02:00:00.000Z',
        lastAt: before,
        nights: 5,
        told: true,
      },
    ],
    open: [],
  },
  changes: [
    {
      kind: 'fact',
      node: 'quay-sw',
      port: 'xg3',
      fact: 'mtuBytes',
      was: 9216,
      is: 1500,
      seenAt: before,
      why: 'the node restarted between: the old value was not persistent',
    },
    {
      kind: 'fact',
      node: 'quay-sw',
      port: 'xg9',
      fact: 'neighbour',
      was: ['cellar-box eth7'],
      is: ['vault eth5'],
      seenAt: before,
    },
    { kind: 'port-renamed', node: 'vault', port: 'eth9', to: 'eth5', seenAt: before },
  ],
  growths: [{ node: 'vault', port: 'eth4', fact: 'rxCrcErrors', added: 12 }],
  asleep: [{ node: 'plot-1', seenAt: before }],
  idleWaivers: [],
  endedWaivers: [
    { rule: 'link-speed', on: 'vault:eth5', until: '2026-11-24', because: 'cord', place: at(45) },
  ],
};

export const sinceLastNight: AuditResult = {
  ...middleSmall,
  judgement: {
    ...middleSmall.judgement,
    findings,
    tally: { ...middleSmall.judgement.tally, broken: 2, undetermined: 1, waived: 1 },
    metByRule: [
      { policy: 'essential', rule: 'link-up', met: 4 },
      { policy: 'jumbo', rule: 'segment-mtu', met: 1 },
    ],
    faults: [
      {
        policy: 'ours',
        rule: 'no-half-duplex',
        subject: 'vault:eth4',
        what: 'division by zero',
        place: { file: 'ours.yaml', line: 7, column: 12 },
      },
    ],
  },
  moved,
};
