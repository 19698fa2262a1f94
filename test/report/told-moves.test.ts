import { describe, expect, it } from 'vitest';
import type { Change } from '../../src/drift/known-node.ts';
import { toldMoves } from '../../src/report/told-moves.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { firstNight } from '../drift/nights.ts';
import { makeIntent, makeSurvey } from '../site/builders.ts';

const intent = makeIntent({
  nodes: {
    'quay-sw': { ports: { uplink: { name: 'te1' } } },
    vault: {},
    'plot-1': { sleeps: true },
    'plot-2': { mayBeAbsent: true },
    'loft-sw': {},
  },
  links: {
    'vault:eth4 - quay-sw:xg1': {},
    'plot-1:en7 - quay-sw:xg2': {},
    'plot-2:en7 - quay-sw:xg3': {},
    'loft-sw:te9 - quay-sw:uplink': {},
  },
});
const physical = { kind: 'physical', mtuBytes: 1500 } as const;
const site = buildSite(
  intent,
  makeSurvey({
    'quay-sw': {
      ports: { xg1: physical, xg2: physical, xg3: physical, xg7: physical, te1: physical },
    },
    vault: {
      ports: {
        eth4: physical,
        eth9: physical,
        bond0: { kind: 'aggregate', lowerPorts: ['eth4'], mtuBytes: 1500 },
      },
    },
    'plot-1': { ports: { en7: physical } },
  }),
  { strict: false },
);

function moved(node: string, port?: string): Change {
  const where = port === undefined ? { node } : { node, port };
  return { kind: 'fact', ...where, fact: 'mtuBytes', was: 9000, is: 1500, seenAt: firstNight };
}

describe('a move is told, or only kept', () => {
  it.each<[string, Change, boolean]>([
    ['of a node', moved('quay-sw'), true],
    ['of a node that may sleep', moved('plot-1'), true],
    ['of a declared port', moved('quay-sw', 'xg1'), true],
    ['of a port that is declared by another name', moved('quay-sw', 'te1'), true],
    ['of a port that nothing declares', moved('quay-sw', 'xg7'), false],
    ['of a host port that nothing declares', moved('vault', 'eth9'), false],
    ['of a port towards a node that sleeps', moved('quay-sw', 'xg2'), false],
    ['of the port of a node that sleeps', moved('plot-1', 'en7'), false],
    ['of a port towards a node that may be away', moved('quay-sw', 'xg3'), false],
    [
      'a declared port that is gone',
      { kind: 'port-gone', node: 'loft-sw', port: 'te9', seenAt: firstNight },
      true,
    ],
    [
      'a port that was renamed to a declared one',
      { kind: 'port-renamed', node: 'quay-sw', port: 'xg0', to: 'xg1', seenAt: firstNight },
      true,
    ],
    [
      'a new port that nothing declares',
      { kind: 'port-new', node: 'quay-sw', port: 'xg7', seenAt: firstNight },
      false,
    ],
  ])('%s', (_, change, told) => {
    expect(toldMoves([change], site)).toEqual(told ? [change] : []);
  });
});
