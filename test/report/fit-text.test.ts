import { describe, expect, it } from 'vitest';
import type { FitReason } from '../../src/diagnose/fit-seen.ts';
import { parseJson } from '../../src/facts/json.ts';
import { fitProof } from '../../src/probe/fit-proof.ts';
import type { FitVerdict } from '../../src/probe/fit-types.ts';
import { type FitWay, settleFits } from '../../src/probe/settle-fits.ts';
import { fitJson } from '../../src/report/fit-json.ts';
import { fitSchema } from '../../src/report/fit-schema.ts';
import { type FitPair, fitText } from '../../src/report/fit-text.ts';

const options = { width: 120, colour: false, verbose: false };
const passes: FitVerdict = { kind: 'passes' };
const at = '2026-11-25T02:00:00.000Z';

function way(large: FitVerdict, small: FitVerdict = passes): FitWay {
  const proven = large.kind === 'passes' ? 9000 : small.kind === 'passes' ? 1500 : undefined;
  const fit = {
    toAddress: '198.18.20.7',
    own: {},
    sizes: [
      { sizeBytes: 1500, verdict: small, tries: 1 },
      { sizeBytes: 9000, verdict: large, tries: large.kind === 'silent' ? 3 : 1 },
    ],
    ...(proven === undefined ? {} : { provenBytes: proven }),
  };
  const ends = { from: 'plot-1', to: 'vault', toAddress: '198.18.20.7', at };
  return { ...ends, outcome: { ok: true, fit } };
}

const untried: FitWay = {
  ...{ from: 'vault', to: 'plot-1', at },
  outcome: {
    ok: false,
    trouble: { kind: 'fault', seen: 'nothing can be run on vault', remedy: 'try the other end' },
  },
};

function pair(there: FitWay, back: FitWay = untried): FitPair {
  const directions = settleFits([there, back], 9000);
  return { from: 'plot-1', to: 'vault', wantedBytes: 9000, directions, reasons: [] };
}

const firstWords = (one: FitPair) => fitText([one], options).split('  vault to plot-1')[0];

describe('a fit in words', () => {
  const rows: readonly (readonly [FitVerdict, string, string])[] = [
    [passes, '9000 bytes pass', 'passes and comes back'],
    [
      { kind: 'silent' },
      '1500 bytes pass, 9000 are lost, on this way or on the way back',
      'vanishes: no answer and no error, 3 times',
    ],
    [
      { kind: 'own-interface-small', device: 'en7', mtuBytes: 1500, words: 'x' },
      '1500 bytes pass, 9000 do not',
      "does not leave: the sender's own interface en7 is smaller (1500 bytes)",
    ],
    [
      { kind: 'route-small', mtuBytes: 1500, words: 'x' },
      '1500 bytes pass, 9000 do not',
      'does not leave: a route of the sender is smaller (1500 bytes)',
    ],
    [
      { kind: 'router-said', address: '198.18.20.1', mtuBytes: 1500, words: 'x' },
      '1500 bytes pass, 9000 do not',
      'too big on the way, says 198.18.20.1, which passes 1500 bytes',
    ],
    [
      { kind: 'router-said', words: 'x' },
      '1500 bytes pass, 9000 do not',
      'does not leave: a router told the sender earlier that it is too big',
    ],
  ];
  it.each(rows)('%j', (verdict, head, words) => {
    expect(firstWords(pair(way(verdict)))).toBe(
      `plot-1 and vault, 9000 bytes are to pass; no path is declared between them\n  plot-1 to vault (198.18.20.7): ${head}\n    1500 bytes: passes and comes back\n    9000 bytes: ${words}\n`,
    );
  });

  const denied: FitVerdict = { kind: 'cannot-tell', words: 'ping: permission denied' };
  it.each([
    [
      passes,
      '1500 bytes pass; of more it cannot be told',
      'run it from an end that can: Linux with the usual ping, FreeBSD or Windows',
    ],
    [
      denied,
      'cannot be told',
      'see whether vault is on and has this address; then let echo requests through at vault and on the way while the fit runs (ICMP type 8, ICMPv6 type 128), or run it between two other hosts',
    ],
  ])('says what would let it be told after %j', (small, head, remedy) => {
    const words = fitText([pair(way(denied, small))], { ...options, width: 200 });
    expect(words).toContain(`(198.18.20.7): ${head}\n`);
    expect(words.replaceAll(/\s+/g, ' ')).toContain(`then ${remedy}`);
  });

  it('says why a direction was not tried, and what would let it be', () => {
    expect(fitText([pair(way(passes))], options)).toContain(
      '  vault to plot-1: not tried: nothing can be run on vault\n    then  try the other end\n',
    );
  });

  it('keeps pairs apart, and puts reasons below them', () => {
    const reason: FitReason = {
      kind: 'explains',
      at: ['quay-sw:xg3'],
      says: 'quay-sw:xg3 passes 1500 bytes',
      remedy: 'raise quay-sw:xg3',
    };
    const first = { ...pair(way({ kind: 'silent' })), path: 'plotting', reasons: [reason] };
    const text = fitText([first, pair(way(passes))], options);
    expect(text).toContain('plotting: plot-1 and vault, 9000 bytes are to pass\n');
    expect(text).toContain(
      '  why   quay-sw:xg3 passes 1500 bytes\n  then  raise quay-sw:xg3\n\nplot-1 and vault',
    );
  });
});

describe('a fit as JSON', () => {
  it('keeps to its schema, and is the same again', () => {
    const verdicts: readonly FitVerdict[] = [
      passes,
      { kind: 'silent' },
      { kind: 'own-interface-small', device: 'en7', mtuBytes: 1500, words: 'x' },
      { kind: 'route-small', mtuBytes: 1500, words: 'x' },
      { kind: 'router-said', address: '198.18.20.1', mtuBytes: 1500, words: 'x' },
      { kind: 'cannot-tell', words: 'x' },
    ];
    const pairs = verdicts.map((verdict) => pair(way(verdict)));
    const proofs = pairs.flatMap(({ directions }) =>
      directions.flatMap((one) => fitProof(one) ?? []),
    );
    const text = fitJson(pairs, proofs, { interrupted: true });
    const told = fitSchema.parse(parseJson(text));
    expect(told.pairs).toHaveLength(6);
    expect(told.proofs).toHaveLength(6);
    expect(told.pairs[1]?.directions[1]?.trouble?.seen).toBe('nothing can be run on vault');
    expect(told.proofs[0]).toEqual({
      ...{ from: 'plot-1', to: 'vault', toAddress: '198.18.20.7', at, provenMtuBytes: 9000 },
    });
    expect(told.interrupted).toBe(true);
    expect(fitJson(pairs, proofs, { interrupted: true })).toBe(text);
  });

  it('refuses what the schema does not know', () => {
    expect(fitSchema.safeParse({ fit: 2, interrupted: false, pairs: [], proofs: [] }).success).toBe(
      false,
    );
  });
});
