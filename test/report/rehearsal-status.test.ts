import { describe, expect, it } from 'vitest';
import { rehearse } from '../../src/change/rehearse.ts';
import { rehearsalStatus } from '../../src/report/rehearsal-status.ts';
import { planned, twoSwitches } from '../change/two-switches.ts';

const now = '2026-11-25T02:00:00.000Z';
const hosts = 'ports: { "plot-1:en7": { mtu: 9000 }, "vault:bond0": { mtu: 9000 } }';
const switches = 'ports: { "quay-sw:xg8": { mtu: 9216 }, "loft-sw:xg1": { mtu: 9216 } }';

describe('the status of a rehearsal', () => {
  it.each([
    ['hosts above their switches', hosts, { hosts: 1500, switches: 1518, declared: 1500 }, 1],
    ['hosts below their switches', hosts, { hosts: 1500, switches: 9216, declared: 1500 }, 0],
    // Cut before and after: no step makes it worse.
    ['some switches below hosts', switches, { hosts: 9000, switches: 1518, declared: 9000 }, 0],
  ] as const)('%s', (_, text, sketch, wanted) => {
    const { intent, survey } = twoSwitches(sketch);
    const told = rehearse({ intent, survey, policies: [], now }, planned(text, intent, survey));
    expect(rehearsalStatus(told, 'notice')).toBe(wanted);
  });
});
