import { type CelInput, isCelError, run } from '@bufbuild/cel';
import { Environment, EvaluationError } from '@marcbachmann/cel-js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dictionary } from '../../src/facts/dictionary.ts';
import type { FactValue } from '../../src/facts/entry.ts';
import { celTypes, createCelEnvironment } from '../../src/judge/cel-environment.ts';
import { type Expression, loadCondition } from '../../src/judge/load-expression.ts';
import { linkCondition, linkFacts } from './random-expression.ts';
import { subjectOf } from './subject-of.ts';

const cel = await createCelEnvironment();
const library = libraryEnvironment();
// Shrinking a long expression takes minutes; the failing one is short enough to read.
const runs = { numRuns: 3000, endOnFailure: true };

function load(text: string): Expression {
  const loaded = loadCondition(text, 'link', cel);
  if (!loaded.ok) throw new Error(`${text}: ${JSON.stringify(loaded.faults)}`);
  return loaded.value;
}

// The library's own evaluator, with the mixed operators that it leaves to its users.
function libraryEnvironment(): Environment {
  const environment = new Environment();
  const schema = Object.fromEntries(
    Object.entries(dictionary.link).map(([name, { type }]) => [name, celTypes[type]]),
  );
  environment.registerVariable({ name: 'link', schema });
  environment.registerOperator('double == int', (a: number, b: bigint) => a === Number(b));
  environment.registerOperator('double in list<int>', (a: number, list: bigint[]) =>
    list.some((item) => Number(item) === a),
  );
  return environment;
}

interface LibraryAnswer {
  readonly value?: unknown;
  /** The absent fact that the library stumbled on. */
  readonly absent?: string;
}

function askLibrary(text: string, facts: Record<string, FactValue>): LibraryAnswer {
  try {
    return { value: library.evaluate(text, { link: facts }) };
  } catch (error) {
    if (!(error instanceof EvaluationError)) throw error;
    const absent = /^No such key: (\w+)$/.exec(error.summary)?.[1];
    return absent === undefined ? {} : { absent };
  }
}

// An independent implementation of CEL, dynamically typed.
function askSecondImplementation(text: string, facts: Record<string, FactValue>): unknown {
  const link = new Map(Object.entries(facts)) as unknown as CelInput;
  const value = run(text, { link });
  return isCelError(value) ? undefined : value;
}

describe('conditions against two implementations of CEL', () => {
  it('decides as the library and as an independent implementation do', () => {
    const seen = { true: 0, false: 0, undefined: 0 };
    fc.assert(
      fc.property(linkCondition, linkFacts, (text, facts) => {
        const own = load(text).test(subjectOf('link', facts));
        expect(own).toBe(askLibrary(text, facts).value);
        expect(own).toBe(askSecondImplementation(text, facts));
        seen[`${own as boolean | undefined}`] += 1;
      }),
      runs,
    );
    // A generator that never leaves the known, or never enters it, would prove nothing.
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(300);
  });

  it('names every absent fact that the library stumbles on', () => {
    let named = 0;
    fc.assert(
      fc.property(linkCondition, linkFacts, (text, facts) => {
        const { absent } = askLibrary(text, facts);
        if (absent === undefined) return;
        named += 1;
        expect(load(text).explain(subjectOf('link', facts)).needs).toContain(absent);
      }),
      runs,
    );
    expect(named).toBeGreaterThan(300);
  });

  it('explains what it decides, and the facts named alone decide it again', () => {
    fc.assert(
      fc.property(linkCondition, linkFacts, (text, facts) => {
        const expression = load(text);
        const trace = expression.explain(subjectOf('link', facts));
        expect(trace.value).toBe(expression.test(subjectOf('link', facts)));
        const named = Object.entries(facts).filter(([name]) => trace.facts.includes(name));
        expect(expression.test(subjectOf('link', Object.fromEntries(named)))).toBe(trace.value);
        for (const need of trace.needs) {
          expect(facts[need]).toBeUndefined();
          expect(trace.facts).toContain(need);
        }
      }),
      runs,
    );
  });
});
