import { readFileSync } from 'node:fs';
import { parseJson } from '../../src/facts/json.ts';

/** What became of checks. */
export interface Counts {
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
}

export function sumOf(counts: readonly Counts[]): Counts {
  const sum = (key: keyof Counts) => counts.reduce((total, each) => total + each[key], 0);
  return { passed: sum('passed'), failed: sum('failed'), skipped: sum('skipped') };
}

interface Reported {
  readonly testResults?: readonly {
    readonly assertionResults?: readonly { readonly status: string; readonly fullName: string }[];
  }[];
}

/** The tests that were left out: a machine that lacks a program says which comparisons it misses. */
export function skippedNames(reportFile: string): readonly string[] {
  try {
    const { testResults = [] } = parseJson(readFileSync(reportFile, 'utf8')) as Reported;
    return testResults
      .flatMap(({ assertionResults = [] }) => assertionResults)
      .filter(({ status }) => !['passed', 'failed'].includes(status))
      .map(({ fullName }) => fullName);
  } catch {
    // A report that cannot be read is a failure, and counted as one.
    return [];
  }
}

/** What a report of vitest counts; one that cannot be read, or that counts nothing, is a failure. */
export function readCounts(reportFile: string): Counts {
  try {
    const result = parseJson(readFileSync(reportFile, 'utf8')) as Readonly<Record<string, unknown>>;
    const count = (key: string) => (typeof result[key] === 'number' ? result[key] : 0);
    const failed = count('numFailedTests');
    const passed = count('numPassedTests');
    const hollow = passed + failed === 0;
    return {
      passed,
      failed: failed > 0 ? failed : Math.max(count('numFailedTestSuites'), Number(hollow)),
      skipped: count('numPendingTests') + count('numTodoTests'),
    };
  } catch {
    return { passed: 0, failed: 1, skipped: 0 };
  }
}
