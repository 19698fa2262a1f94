import { describe, expect, it } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import type { TransferMeasured } from '../../src/probe/transfer-measured.ts';
import { transferProof } from '../../src/probe/transfer-proof.ts';
import { columnsOf } from '../../src/report/layout.ts';
import { rateSteps, stepChart } from '../../src/report/transfer-chart.ts';
import { transferJson } from '../../src/report/transfer-json.ts';
import { notDone } from '../../src/report/transfer-not-done.ts';
import {
  reckon,
  type TransferDirection,
  type TransferResult,
  transferStatus,
} from '../../src/report/transfer-result.ts';
import { transferSchema } from '../../src/report/transfer-schema.ts';
import { transferText } from '../../src/report/transfer-text.ts';
import { plottingSite } from '../site/plotting-site.ts';
import { expectGolden } from './golden.ts';

const site = plottingSite();
const look = { width: 100, colour: false };
const toAddress = '198.18.20.2';

/** Ten seconds at so many Mb/s, with all that Linux tells. */
function at(mbps: number, more: Partial<TransferMeasured> = {}): TransferMeasured {
  const perMs = mbps * 125;
  return {
    ...{ whole: true, endedBy: 'time', listener: 'to', missed: [], streams: 1 },
    ...{ bytes: perMs * 10_000, tookSeconds: 10, goodputMbps: mbps },
    arrived: Array.from({ length: 10 }, (_, second) => ({
      ms: (second + 1) * 1000,
      bytes: Math.round(perMs * (second + 1) * 1000),
    })),
    packet: { bytes: 9000, segmentBytes: 8948, timestamps: true },
    transmitted: { transmittedBytes: 1.02e9, retransmittedBytes: 2e7, counted: 'bytes' },
    idle: { ms: 0.25, by: 'kernel' },
    loadedMs: Array.from({ length: 9 }, () => 0.32),
    waited: { window: 0.01, buffer: 0 },
    from: {
      ...{ node: 'plot-1', system: 'Linux', tool: 'perl' },
      cpu: { own: 0.31, busiest: 0.62, all: 0.09, cores: 8 },
    },
    to: {
      ...{ node: 'vault', system: 'Linux', tool: 'python3' },
      cpu: { own: 0.52, busiest: 0.71, all: 0.2, cores: 4 },
    },
    absent: {},
    ...more,
  };
}

function done(measured: TransferMeasured, goodputMbps?: number): TransferDirection {
  const [path] = site.paths;
  if (path === undefined) throw new Error('no path');
  const declared = goodputMbps === undefined ? path.declared : { ...path.declared, goodputMbps };
  const reckoned = reckon(
    measured,
    { ...path, declared },
    { ipVersion: 4, directions: site.directions },
  );
  return { from: 'plot-1', to: 'vault', toAddress, ok: true, measured, reckoned };
}

function resultOf(
  direction: TransferDirection,
  more: Partial<TransferResult> = {},
): TransferResult {
  return { path: 'plotting', directions: [direction], interrupted: false, ...more };
}

const shut: TransferDirection = {
  ...{ from: 'plot-1', to: 'vault', toAddress, ok: false },
  ...notDone(
    {
      ok: false,
      interrupted: false,
      missed: [
        { listener: 'to', why: 'silent' },
        { listener: 'from', why: 'refused' },
      ],
    },
    { from: 'plot-1', to: 'vault' },
  ),
};
const bare: Partial<TransferMeasured> = {
  from: { node: 'plot-1', system: 'FreeBSD', tool: 'nc' },
  to: { node: 'vault', system: 'Linux', tool: 'perl', cpu: { own: 0.2 } },
  loadedMs: [],
  absent: {
    packet: 'nc does not tell the size of its segments',
    transmitted: 'nc does not tell what was sent again',
    idle: 'nc answers nothing by which a round trip could be taken',
    'from.cpu': 'nc does not tell it',
  },
};

function without(measured: TransferMeasured, ...names: readonly string[]): TransferMeasured {
  const kept = Object.entries(measured).filter(([name]) => !names.includes(name));
  return Object.fromEntries(kept) as unknown as TransferMeasured;
}

const scenes: Readonly<Record<string, TransferResult>> = {
  'at-the-ceiling': resultOf(done(at(9890), 9400), { declaredMbps: 9400 }),
  'small-packets': resultOf(
    done(at(9390, { packet: { bytes: 1500, segmentBytes: 1448, timestamps: true } })),
  ),
  'a-gigabit': resultOf(done(at(941), 9400), { declaredMbps: 9400 }),
  window: resultOf(
    done(at(5200, { waited: { window: 0.6, buffer: 0.02 }, streams: 4, endedBy: 'cap' })),
  ),
  processor: resultOf(
    done(
      at(4100, {
        to: {
          node: 'vault',
          system: 'Linux',
          tool: 'perl',
          cpu: { own: 0.99, busiest: 1, all: 0.3, cores: 4 },
        },
        missed: [{ listener: 'to', why: 'silent' }],
        listener: 'from',
      }),
    ),
  ),
  'nc-alone': resultOf(done(without(at(3000, bare), 'packet', 'transmitted', 'idle', 'waited'))),
  interrupted: resultOf(done(at(9500, { whole: false }), 9400), {
    ...{ interrupted: true, declaredMbps: 9400 },
  }),
  shut: resultOf(shut),
};

describe('a transfer in words', () => {
  it.each(Object.keys(scenes))('%s', (name) => {
    const scene = scenes[name];
    if (scene === undefined) throw new Error(name);
    expectGolden(`transfer/${name}.txt`, transferText(scene, look));
  });

  it.each(Object.keys(scenes))('keeps to the width: %s', (name) => {
    const scene = scenes[name];
    if (scene === undefined) throw new Error(name);
    for (const width of [20, 40, 80, 120, 500]) {
      const lines = transferText(scene, { width, colour: false }).split('\n');
      expect(Math.max(...lines.map(columnsOf))).toBeLessThanOrEqual(
        Math.min(120, Math.max(40, width)),
      );
      expect(lines.join(' ')).not.toMatch(/undefined|NaN|Infinity/);
    }
  });
});

describe('a transfer as JSON', () => {
  it.each(Object.keys(scenes))('fits its schema, and is the same twice: %s', (name) => {
    const scene = scenes[name];
    if (scene === undefined) throw new Error(name);
    const [direction] = scene.directions;
    const proof = direction?.ok
      ? transferProof(direction.measured, { toAddress, at: new Date('2026-11-25T02:00:00Z') })
      : undefined;
    const proofs = proof === undefined ? [] : [proof];
    const text = transferJson(scene, proofs);
    const told = transferSchema.safeParse(parseJson(text));
    expect(told.error).toBeUndefined();
    expect(told.data?.proofs).toHaveLength(direction?.ok && direction.measured.whole ? 1 : 0);
    expect(transferJson(scene, proofs)).toBe(text);
  });
});

describe('the exit status', () => {
  it.each([
    ['at-the-ceiling', 0],
    ['small-packets', 0],
    ['a-gigabit', 1],
    ['interrupted', 130],
    ['shut', 2],
  ])('of %s is %i', (name, status) => {
    const scene = scenes[name];
    expect(scene && transferStatus(scene)).toBe(status);
  });

  it('is 2 where nothing was measured, or not to its end', () => {
    expect(transferStatus({ path: 'plotting', directions: [], interrupted: false })).toBe(2);
    expect(transferStatus(resultOf(done(at(9000, { whole: false }), 9400)))).toBe(2);
  });

  it.each([6000, 9600])('does not hold %d Mb/s of a tenth of a second against it', (mbps) => {
    const short = at(mbps, { tookSeconds: 0.1, endedBy: 'cap' });
    const result = resultOf(done(short, 9400), { declaredMbps: 9400 });
    expect(transferStatus(result)).toBe(2);
    expect(transferText(result, { width: 200, colour: false })).toContain(
      'declared   9400 Mb/s: cannot be told of a transfer of less than a second; raise --at-most, or leave it out\n',
    );
  });
});

// Common practice: the start of a transfer of some seconds costs up to a twentieth of its rate.
describe('a declared goodput', () => {
  it.each([
    [9500, 0, 'reached'],
    [9499, 0, 'reached, less what the start of a transfer costs (from 95 % on)'],
    [9025, 0, 'reached, less what the start of a transfer costs (from 95 % on)'],
    [9024, 1, 'not reached'],
  ])('of 9500 Mb/s, and %d Mb/s came: %d, %s', (mbps, status, words) => {
    const result = resultOf(done(at(mbps), 9500), { declaredMbps: 9500 });
    expect(transferStatus(result)).toBe(status);
    expect(transferText(result, { width: 200, colour: false })).toContain(
      `declared   9500 Mb/s: ${words}\n`,
    );
  });
});

describe('what the figures say', () => {
  it('is nothing wrong at the ceiling, whatever else was busy', () => {
    const scene = done(at(9890, { waited: { window: 0.9, buffer: 0.9 } }));
    expect(scene.ok && scene.reckoned.limits.map(({ kind }) => kind)).toEqual(['line']);
  });

  it('is that the line is another where more came than it carries', () => {
    const scene = done(at(16_000));
    expect(scene.ok && scene.reckoned.limits.map(({ says }) => says)).toEqual([
      'not the line as declared, since more came than it carries: it is faster, or the traffic takes another way',
    ]);
  });

  it('takes the ceiling of the packet that was really used', () => {
    const scene = done(at(9390, { packet: { bytes: 1500, segmentBytes: 1448, timestamps: true } }));
    // 10 Gb/s x 1448 / 1538 (RFC 6349 4.1.1 with timestamps, RFC 7323).
    expect(scene.ok && scene.reckoned.ceiling?.goodputMbps).toBeCloseTo(9414.8, 1);
  });

  it('is not what the figure alone would say where a limit was measured', () => {
    const full = { node: 'vault', system: 'Linux', tool: 'perl' as const, cpu: { own: 0.99 } };
    // 3600 Mb/s lie in the range of USB at 5 Gb/s, too: nothing but the processor was measured.
    const [busy, idle] = [done(at(3600, { to: full })), done(at(3600))];
    const kinds = (each: TransferDirection) =>
      each.ok ? each.reckoned.diagnosis.explanations.map(({ kind }) => kind) : [];
    expect(kinds(idle)).toContain('bus');
    expect(kinds(busy)).toEqual([]);
    const text = transferText(resultOf(busy), look);
    expect(text).toContain('limit      the processor of vault');
    expect(text).not.toContain('measured 3600M');
  });

  it('points at the gigabit that explains 941 Mb/s', () => {
    const scene = done(at(941));
    const [first] = scene.ok ? scene.reckoned.diagnosis.explanations : [];
    expect(first).toMatchObject({ kind: 'link', rateMbps: 1000, packetBytes: 1500 });
  });
});

describe('the course', () => {
  it('is the rate of each stretch, and of no stretch that is too short', () => {
    const arrived = [
      { ms: 1000, bytes: 125_000_000 },
      { ms: 2000, bytes: 125_000_000 },
      { ms: 2500, bytes: 250_000_000 },
      { ms: 2501, bytes: 250_000_001 },
    ];
    expect(rateSteps(arrived)).toEqual([
      { seconds: 1, mbps: 1000 },
      { seconds: 1, mbps: 0 },
      { seconds: 0.5, mbps: 2000 },
    ]);
  });

  it('is drawn in eighths of a row, against the ceiling', () => {
    const steps = [1000, 500, 0, 1].map((mbps) => ({ seconds: 1, mbps }));
    expect(stepChart(steps, 1000, 16)).toEqual([
      '1000 Mb/s ▕█',
      '          ▕█',
      '          ▕██',
      '          ▕██',
      '0         ▕▔▔▔▔ 4 s',
    ]);
    expect(stepChart([], 1000, 80)).toEqual([]);
    expect(stepChart([{ seconds: 1, mbps: 0 }], undefined, 80)).toEqual([]);
  });
});
