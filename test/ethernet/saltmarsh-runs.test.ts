import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type RunReach, reachOfRun } from '../../src/ethernet/run-reach.ts';
import type { DeclaredLink } from '../../src/intent/types.ts';
import { loadFrom } from '../intent/load.ts';

const text = readFileSync(new URL('../../mocks/saltmarsh/intent.yaml', import.meta.url), 'utf8');
let links: readonly DeclaredLink[];
beforeAll(async () => {
  const loaded = await loadFrom({ 'site.yaml': text });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
  links = loaded.value.links;
});

function reachBetween(a: string, b: string): RunReach | undefined {
  const link = links.find(
    ({ ends: [one, other] }) =>
      `${one.node}:${one.port}` === a && `${other.node}:${other.port}` === b,
  );
  if (link === undefined) throw new Error(`no link ${a} - ${b}`);
  const { run, speedMbps } = link;
  return reachOfRun(run, speedMbps === undefined ? undefined : { rateMbps: speedMbps });
}

const rated10 = { standing: 'rated', ratedMbps: 10_000, carriesWanted: 'assured' } as const;
const power =
  'module 10GBASE-T: draws 2.5 to 3.5 W where a cage grants 2 W at most; it runs hot, and the cages beside it may have to stay empty';

describe('the runs of the Saltmarsh survey office (secondary source, power common practice)', () => {
  it('desk to quay: 2 + 21 + 2 = 25 m, within 37 m of category 6 and 30 m of the module', () => {
    expect(reachBetween('plot-1:desk', 'quay-sw:xg2')).toEqual({
      ...rated10,
      medium: 'copper',
      lengthMetres: 25,
      lengthIsWhole: true,
      cordsMetres: 4,
      wallMetres: 21,
      connectors: 2,
      fieldTerminated: 1,
      doubts: [
        'cord cat6 2 m field-terminated: its plugs were put on by hand; try another cord first',
      ],
      cautions: [power],
    });
  });

  it.each([
    ['vault:eth4', 'quay-sw:xg3'],
    ['vault:eth5', 'quay-sw:xg4'],
  ])('%s to %s: direct attach of 3 m, within 7 m', (a, b) => {
    expect(reachBetween(a, b)).toEqual({
      ...rated10,
      medium: 'direct-attach',
      lengthMetres: 3,
      lengthIsWhole: true,
      cordsMetres: 0,
      wallMetres: 0,
      connectors: 0,
      fieldTerminated: 0,
      doubts: ['its length suits 10 Gb/s; the rate it is made for is not declared'],
      cautions: [],
    });
  });

  it('quay to loft: 2 + 38 + 2 = 42 m of OM3, within 300 m', () => {
    expect(reachBetween('quay-sw:xg8', 'loft-sw:xg1')).toEqual({
      ...rated10,
      medium: 'fibre',
      lengthMetres: 42,
      lengthIsWhole: true,
      cordsMetres: 4,
      wallMetres: 0,
      connectors: 2,
      fieldTerminated: 0,
      doubts: [],
      cautions: [],
    });
  });

  it('loft to shed: a module and 3 m of category 6A', () => {
    expect(reachBetween('loft-sw:xg5', 'shed-sw:uplink')).toMatchObject({
      ...rated10,
      lengthMetres: 3,
      connectors: 0,
      doubts: [],
      cautions: [power],
    });
  });

  it('shed to the second table: the cord of category 5e is not made for 10 Gb/s', () => {
    expect(reachBetween('shed-sw:p2', 'plot-2:eno1')).toEqual({
      standing: 'rated',
      medium: 'copper',
      ratedMbps: 1000,
      conditionalMbps: 5000,
      carriesWanted: 'no',
      limitedBy: { pieceIndex: 4, reason: '10GBASE-T is not specified for cat5e' },
      lengthMetres: 25,
      lengthIsWhole: true,
      cordsMetres: 7,
      wallMetres: 18,
      connectors: 2,
      fieldTerminated: 0,
      doubts: ['5 Gb/s over cat5e only where alien crosstalk is low: no long tight bundles'],
      cautions: [],
    });
  });

  it.each([
    ['quay-sw:xg7', 'gate:em0'],
    ['quay-sw:g7', 'labeller:lan'],
  ])('%s to %s: no run declared, nothing claimed', (a, b) => {
    expect(reachBetween(a, b)).toBeUndefined();
  });
});
