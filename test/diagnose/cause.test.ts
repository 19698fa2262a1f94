import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type CauseDraft,
  type CauseKind,
  causeKinds,
  certainties,
  rankCauses,
} from '../../src/diagnose/cause.ts';

function draft(kind: CauseKind, proof: CauseDraft['proof'], pro = 1, contra = 0): CauseDraft {
  const facts = (count: number) => Array.from({ length: count }, (_, at) => ({ says: `${at}` }));
  return {
    kind,
    proof,
    what: kind,
    for: facts(pro),
    against: facts(contra),
    remedy: 'do',
    settledBy: 'measure',
  };
}

const order = (...drafts: readonly CauseDraft[]) =>
  rankCauses(drafts).map(({ kind, certainty }) => `${certainty} ${kind}`);

describe('causes in order of strength', () => {
  it('stand by how sure they are', () => {
    expect(order(draft('eee', 'check'), draft('cable', 'is'), draft('flaps', 'likely'))).toEqual([
      'is cable',
      'likely flaps',
      'check eee',
    ]);
  });

  it('lose a step with each fact against them, and never more than all', () => {
    expect(order(draft('cable', 'is', 3, 1))).toEqual(['likely cable']);
    expect(order(draft('cable', 'is', 3, 2))).toEqual(['check cable']);
    expect(order(draft('cable', 'is', 3, 5))).toEqual(['check cable']);
  });

  it('stand by their facts where they are equally sure, then by kind', () => {
    expect(order(draft('bus', 'is', 1), draft('errors', 'is', 2))).toEqual(['is errors', 'is bus']);
    expect(order(draft('bus', 'is'), draft('cable', 'is'))).toEqual(['is cable', 'is bus']);
  });

  it('tell faults before what is none', () => {
    const none = { ...draft('virtual-port', 'is', 5), fault: false };
    expect(order(none, draft('bus', 'is', 1))).toEqual(['is bus', 'is virtual-port']);
  });

  it('are the same whatever the order of the rules', () => {
    const drafts = causeKinds.map((kind, at) =>
      draft(kind, certainties[at % 3] ?? 'is', at % 4, at % 2),
    );
    fc.assert(
      fc.property(fc.shuffledSubarray(drafts, { minLength: drafts.length }), (shuffled) => {
        expect(order(...shuffled)).toEqual(order(...drafts));
      }),
    );
  });
});
