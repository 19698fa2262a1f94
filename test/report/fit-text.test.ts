import { describe, expect, it } from 'vitest';
import type { FitVerdict } from '../../src/probe/fit-types.ts';
import { type FitResult, fits, fitText } from '../../src/report/fit-text.ts';
import { middleSmall, samples } from './saltmarsh.ts';

const options = { width: 100, colour: false, verbose: false };
const passes: FitVerdict = { kind: 'passes' };

function result(large: FitVerdict, path?: FitResult['path']): FitResult {
  const fit = {
    toAddress: '198.18.20.7',
    sizes: [
      { sizeBytes: 1500, verdict: passes },
      { sizeBytes: 9000, verdict: large },
    ],
  };
  const direction = { from: 'plot-1', to: 'vault', toAddress: '198.18.20.7' };
  return {
    directions: [{ ...direction, outcome: { ok: true, fit } }],
    ...(path === undefined ? {} : { path }),
  };
}

describe('a fit in words', () => {
  const rows: readonly (readonly [FitVerdict, boolean | undefined, string])[] = [
    [passes, true, '9000 bytes: passes and comes back'],
    [
      { kind: 'silent' },
      false,
      '9000 bytes: vanishes: no answer and no error, while a smaller packet came back',
    ],
    [
      { kind: 'own-interface-small', mtuBytes: 1500, words: 'x' },
      false,
      "9000 bytes: does not leave: the sender's own interface or route is smaller (1500 bytes)",
    ],
    [
      { kind: 'router-said', address: '198.18.20.1', mtuBytes: 1500, words: 'x' },
      false,
      '9000 bytes: too big on the way, says 198.18.20.1, which passes 1500 bytes',
    ],
    [
      { kind: 'router-said', words: 'x' },
      false,
      '9000 bytes: too big on the way, says learnt before from a router',
    ],
    [
      { kind: 'cannot-tell', words: 'ping: permission denied' },
      undefined,
      '9000 bytes: cannot be told: ping: permission denied',
    ],
  ];
  for (const [verdict, fit, words] of rows) {
    it(`${verdict.kind}: ${String(fit)}`, () => {
      expect(fits(result(verdict))).toBe(fit);
      expect(fitText(result(verdict), options)).toBe(
        `plot-1 to vault (198.18.20.7)\n  1500 bytes: passes and comes back\n  ${words}\n`,
      );
    });
  }

  const paths = [
    [
      'names the hop that explains it',
      middleSmall.site.paths[0],
      'on the path plotting this explains it: quay-sw:xg3 (1500 bytes)',
    ],
    [
      'names those that are not known where none is known to be small',
      samples.deadSwitch.site.paths[0],
      'no hop of the path plotting is known to be too small; not known: quay-sw:xg2, quay-sw:xg3',
    ],
    [
      'doubts what was read where every hop says that it passes',
      samples.healthy.site.paths[0],
      'every hop of the path plotting says that 9000 bytes pass: one of them says what is not so, or',
    ],
  ] as const;
  for (const [name, path, words] of paths) {
    it(name, () => expect(fitText(result({ kind: 'silent' }, path), options)).toContain(words));
  }

  it('says how to find the hop where no hop was read', () => {
    const [path] = middleSmall.site.paths;
    const hops = path?.hops.map((hop) => {
      const { survey: _, ...port } = hop.port;
      return { ...hop, port, clearance: { onWord: false } };
    });
    const unread = path === undefined ? undefined : { ...path, hops: hops ?? [] };
    expect(fitText(result({ kind: 'silent' }, unread), { ...options, width: 200 })).toContain(
      'save them with hopgauge survey --out FILE, and give the fit --survey FILE',
    );
  });

  it('explains nothing where everything passes', () => {
    expect(fitText(result(passes, middleSmall.site.paths[0]), options)).not.toContain('explains');
  });

  it('is undetermined where a direction was not tried, and says what would let it be', () => {
    const trouble = { kind: 'fault', seen: 'nothing can be run on vault', remedy: 'x' } as const;
    const untried: FitResult = {
      directions: [
        ...result(passes).directions,
        { from: 'vault', to: 'plot-1', outcome: { ok: false, trouble } },
      ],
    };
    expect(fits(untried)).toBeUndefined();
    expect(fitText(untried, options)).toContain(
      'vault to plot-1\n  not tried  nothing can be run on vault\n    then     x\n',
    );
    expect(fits({ directions: [] })).toBeUndefined();
  });
});
