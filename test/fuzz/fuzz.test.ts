import { describe, expect, it } from 'vitest';
import { fuzzTargets } from './targets.ts';
import { tryTarget, unsafeText } from './try-target.ts';

/** The same inputs each time, and as many that nobody has seen. */
const inputsEach = 500;
const fixedSeed = 20_261_125;
const freshSeed = Math.floor(Math.random() * 2 ** 32);

describe('whatever others write', () => {
  console.log(`fuzz: fresh seed ${freshSeed}; again with npm run fuzz -- --seed ${freshSeed}`);

  for (const target of fuzzTargets) {
    it(`${target.name}: ends, gives no control characters and changes no prototype`, {
      timeout: 120_000,
    }, async () => {
      expect(await tryTarget(target, { seed: fixedSeed, count: inputsEach })).toBeUndefined();
      expect(await tryTarget(target, { seed: freshSeed, count: inputsEach })).toBeUndefined();
    });
  }
});

describe('the trial itself', () => {
  const given = (tryOne: () => { input: string; gave: unknown }) =>
    tryTarget({ name: 'own', tryOne }, { seed: 1, count: 2 });

  it('finds what it looks for', async () => {
    expect(unsafeText({ a: [new Map([['b', 'c\u001b[2J']])] })).toBe('c\u001b[2J');
    expect(unsafeText({ 'a\u202e': 1 })).toBe('a\u202e');
    expect(await given(() => ({ input: '', gave: ['\u0007'] }))).toMatchObject({ seed: 1 });
    expect(
      (
        await given(() => {
          throw new Error('struck');
        })
      )?.why,
    ).toContain('struck');
    expect((await given(() => ({ input: '', gave: 'x'.repeat(2 ** 21) })))?.why).toContain('bytes');
    expect(await given(() => ({ input: '', gave: 'well' }))).toBeUndefined();
    const pollute = () => {
      Object.defineProperty(Object.prototype, 'tide', { value: 1, configurable: true });
      return { input: '', gave: '' };
    };
    expect((await given(pollute))?.why).toContain('prototype');
    Reflect.deleteProperty(Object.prototype, 'tide');
  });
});
