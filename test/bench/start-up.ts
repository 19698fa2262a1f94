import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const main = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
const rounds = 25;
const goal = 1.5;
const surveyRounds = 5;
const surveyGoalMs = 2000;

export interface StartUpBench {
  readonly name: string;
  /** Median of `hopgauge --version`, in milliseconds. */
  readonly oursMs: number;
  /** Median of `node -e 0`, in milliseconds. */
  readonly referenceMs: number;
  readonly ratio: number;
  readonly goal: number;
}

/** Start-up of the built `hopgauge --version` beside that of an empty program, taken in turns. */
export function benchStartUp(): StartUpBench {
  if (!existsSync(main)) throw new Error('not built: run npm run build first');
  const ours: number[] = [];
  const reference: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    ours.push(timed([main, '--version']));
    reference.push(timed(['-e', '0']));
  }
  const [oursMs, referenceMs] = [median(ours), median(reference)];
  const ratio = Math.round((oursMs / referenceMs) * 100) / 100;
  return { name: 'start-up of --version', oursMs, referenceMs, ratio, goal };
}

export interface OwnSurveyBench {
  readonly name: string;
  /** Median, in milliseconds. */
  readonly oursMs: number;
  readonly ratio: number;
  readonly goalMs: number;
}

/** The survey of this very machine, which is where people begin, beside an empty program. */
export function benchOwnSurvey(): OwnSurveyBench {
  const rounds = Array.from({ length: surveyRounds }, () => ({
    ours: timed([main, 'survey']),
    reference: timed(['-e', '0']),
  }));
  const oursMs = median(rounds.map(({ ours }) => ours));
  const ratio = Math.round((oursMs / median(rounds.map(({ reference }) => reference))) * 10) / 10;
  return { name: 'survey of this machine', oursMs, ratio, goalMs: surveyGoalMs };
}

function timed(args: readonly string[]): number {
  const startedMs = performance.now();
  execFileSync(process.execPath, args, { stdio: 'ignore' });
  return Math.round((performance.now() - startedMs) * 10) / 10;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}
