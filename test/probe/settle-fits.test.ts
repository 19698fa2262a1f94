import { describe, expect, it } from 'vitest';
import { fitProof } from '../../src/probe/fit-proof.ts';
import type { FitVerdict, OwnWay } from '../../src/probe/fit-types.ts';
import { leavesWholeBytes } from '../../src/probe/own-way.ts';
import {
  type FitDirection,
  type FitWay,
  settleFits,
  standTogether,
} from '../../src/probe/settle-fits.ts';

const at = '2026-11-25T02:00:00.000Z';
const passes: FitVerdict = { kind: 'passes' };
const silent: FitVerdict = { kind: 'silent' };
const cannot: FitVerdict = { kind: 'cannot-tell', words: 'cannot tell from this end' };
const small: FitVerdict = {
  kind: 'own-interface-small',
  mtuBytes: 1500,
  device: 'eth0',
  words: 'x',
};

function way(verdict: FitVerdict, own: OwnWay = {}, first = passes): FitWay {
  const sizes = [
    { sizeBytes: 1500, verdict: first, tries: 1 },
    { sizeBytes: 9000, verdict, tries: 3 },
  ];
  const proven = sizes.findLast(({ verdict: { kind } }) => kind === 'passes')?.sizeBytes;
  const fit = {
    toAddress: '198.18.20.2',
    own,
    sizes,
    ...(proven === undefined ? {} : { provenBytes: proven }),
  };
  return { from: 'a', to: 'b', toAddress: '198.18.20.2', at, outcome: { ok: true, fit } };
}

const untried: FitWay = {
  ...{ from: 'b', to: 'a', at },
  outcome: { ok: false, trouble: { kind: 'fault', seen: 'nothing can be run on b', remedy: 'x' } },
};
const large: OwnWay = { device: 'eth0', interfaceMtuBytes: 9000, onLink: true };

/** What is settled of the first direction, given both fits. */
const rows: readonly (readonly [string, FitWay, FitWay, Partial<FitDirection>])[] = [
  ['its packet came back', way(passes), untried, { stands: 'met', provenBytes: 9000 }],
  [
    'silence from both ends: one of both ways, and nobody knows which',
    way(silent),
    way(silent),
    { stands: 'broken', provenBytes: 1500, loss: { bytes: 9000, by: 'silence', eitherWay: true } },
  ],
  [
    'silence, while a packet of the other end came through: lost on the way there',
    way(silent),
    way(passes),
    { stands: 'broken', loss: { bytes: 9000, by: 'silence', eitherWay: false } },
  ],
  [
    'its own interface',
    way(small),
    way(silent),
    {
      stands: 'broken',
      loss: { bytes: 9000, by: 'interface', mtuBytes: 1500, device: 'eth0', eitherWay: false },
    },
  ],
  [
    'a route of its own',
    way({ kind: 'route-small', mtuBytes: 1500, words: 'x' }),
    untried,
    { stands: 'broken', loss: { bytes: 9000, by: 'route', mtuBytes: 1500, eitherWay: false } },
  ],
  [
    'a router',
    way({ kind: 'router-said', address: '198.18.20.254', mtuBytes: 1500, words: 'x' }),
    untried,
    {
      stands: 'broken',
      loss: {
        ...{ bytes: 9000, by: 'router', mtuBytes: 1500 },
        ...{ router: '198.18.20.254', eitherWay: false },
      },
    },
  ],
  [
    'what a router said before',
    way({ kind: 'router-said', mtuBytes: 1500, words: 'x' }),
    untried,
    { stands: 'broken', loss: { bytes: 9000, by: 'learnt', mtuBytes: 1500, eitherWay: false } },
  ],
  [
    'it cannot tell, and has answered the other end whole',
    way(cannot, large, cannot),
    way(passes),
    { stands: 'met', provenBytes: 9000, provenByReply: true },
  ],
  [
    'it cannot tell, and its answer may have been cut by itself: its own MTU is less',
    way(cannot, { ...large, interfaceMtuBytes: 1500 }, cannot),
    way(passes),
    { stands: 'undetermined', provenBytes: 1500, provenByReply: true },
  ],
  [
    'it cannot tell, and a router may have cut its answer',
    way(cannot, { ...large, onLink: false }, cannot),
    way(passes),
    { stands: 'undetermined', provenByReply: false },
  ],
  [
    'it cannot tell, and its own MTU is not known',
    way(cannot, { onLink: true }, cannot),
    way(passes),
    { stands: 'undetermined', provenByReply: false },
  ],
  [
    'silence that an answer of its own refutes is none of size',
    way(silent, large),
    way(passes),
    { stands: 'met', provenBytes: 9000, provenByReply: true },
  ],
  ['nothing was tried', untried, way(passes), { stands: 'undetermined' }],
];

describe('both fits together', () => {
  it.each(rows)('%s', (_, there, back, expected) => {
    const [first] = settleFits([there, back], 9000);
    expect(first).toMatchObject(expected);
    if (!('loss' in expected)) expect(first.loss).toBeUndefined();
    if (expected.stands === 'undetermined' && expected.provenByReply !== true) {
      expect(first.provenBytes).toBeUndefined();
    }
  });

  it.each([
    [['met', 'met'], 'met'],
    [['met', 'broken'], 'broken'],
    [['undetermined', 'broken'], 'broken'],
    [['met', 'undetermined'], 'undetermined'],
    [[], 'undetermined'],
  ] as const)('%j stand together as %s', (stands, together) => {
    expect(standTogether(stands.map((one) => ({ stands: one })))).toBe(together);
  });
});

describe('what leaves a host whole', () => {
  it.each([
    [{}, undefined],
    [{ interfaceMtuBytes: 9000 }, 9000],
    [{ interfaceMtuBytes: 9000, routeMtuBytes: 1500 }, 1500],
    [{ interfaceMtuBytes: 9000, learntMtuBytes: 1400, routeMtuBytes: 1500 }, 1400],
    [{ routeMtuBytes: 9000 }, 9000],
    [{ learntMtuBytes: 1400 }, undefined],
  ])('%j: %j', (own, bytes) => expect(leavesWholeBytes(own)).toBe(bytes));
});

describe('what is kept of a direction', () => {
  const kept = (there: FitWay, back: FitWay) => fitProof(settleFits([there, back], 9000)[0]);
  const ends = { from: 'a', to: 'b', toAddress: '198.18.20.2', at };
  const unknown = 'lost there or on the way back: a ping does not tell which';
  it.each([
    ['all of it', way(passes), untried, { ...ends, provenMtuBytes: 9000 }],
    [
      'a loss that either way may have',
      way(silent),
      way(silent),
      { ...ends, provenMtuBytes: 1500, lostBytes: 9000, words: unknown },
    ],
    ['one of its own', way(small), untried, { ...ends, provenMtuBytes: 1500, lostBytes: 9000 }],
    ['why nothing is known', way(cannot, {}, cannot), untried, { ...ends, words: cannot.words }],
    ['nothing', untried, way(passes), undefined],
  ])('%s', (_, there, back, proof) => expect(kept(there, back)).toEqual(proof));
});
