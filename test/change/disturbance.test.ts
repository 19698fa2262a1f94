import { describe, expect, it } from 'vitest';
import { planned, twoSwitches } from './two-switches.ts';

const raise = 'segments: { storage: { mtu: 9000 } }';
const low = (mtuChange?: 'live' | 'bounce' | 'reload') =>
  twoSwitches({
    hosts: 1500,
    switches: 1518,
    declared: 1500,
    ...(mtuChange === undefined
      ? {}
      : {
          intent: {
            nodes: {
              'quay-sw': { mtuCounts: { port: 'header-fcs' }, believe: ['mtu'], mtuChange },
            },
          },
        }),
  });

function disturbed(text: string, site: ReturnType<typeof low>, node: string): string[] {
  const { steps } = planned(text, site.intent, site.survey);
  return [...new Set(steps.filter((step) => step.node === node).map(({ disturbs }) => disturbs))];
}

describe('what a new MTU does to a node', () => {
  it('is a link that goes down for a moment where nobody says (common practice)', () => {
    expect(disturbed(raise, low(), 'quay-sw')).toEqual(['link-bounce']);
  });

  it.each([
    ['live', 'nothing'],
    ['bounce', 'link-bounce'],
    ['reload', 'node-reload'],
  ] as const)('is %s where the intent says so, %s', (word, disturbs) => {
    expect(disturbed(raise, low(word), 'quay-sw')).toEqual([disturbs]);
    expect(disturbed(raise, low(word), 'loft-sw')).toEqual(['link-bounce']);
  });

  it('is what the change says where both do', () => {
    const text = `${raise}\nnodes: { quay-sw: { mtuChange: live } }`;
    expect(disturbed(text, low('reload'), 'quay-sw')).toEqual(['nothing']);
  });
});
