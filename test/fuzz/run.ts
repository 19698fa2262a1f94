import { appendFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { fuzzTargets } from './targets.ts';
import { tryTarget } from './try-target.ts';

const names = fuzzTargets.map(({ name }) => name).join(', ');
const help = `npm run fuzz -- [--count N] [--target NAME] [--seed S] [--keep FILE]

  --count N      inputs for each target, a million by default
  --target NAME  one of them: ${names}
  --seed S       the same inputs again; a failure names the seed of its own input
  --keep FILE    adds each failing input to a file of JSON lines
`;

const values = asked();
if (values.help === true) {
  process.stdout.write(help);
  process.exit(0);
}

const count = whole('--count', values.count, [1, 10_000_000]);
const seed =
  values.seed === undefined
    ? Math.floor(Math.random() * 2 ** 32)
    : whole('--seed', values.seed, [0, 2 ** 32 - 1]);
const chosen = fuzzTargets.filter(
  ({ name }) => values.target === undefined || name === values.target,
);
if (chosen.length === 0) {
  refuse(`--target ${values.target}: is none of the targets`);
}

/** Inputs between two lines of progress. */
const batch = 50_000;

console.log(`seed ${seed}, ${count} inputs for each of ${chosen.length} targets`);
let failures = 0;
let total = 0;
for (const target of chosen) {
  const started = performance.now();
  let done = 0;
  for (; done < count; done += batch) {
    const some = Math.min(batch, count - done);
    const failure = await tryTarget(target, { seed: (seed + done) >>> 0, count: some });
    if (failure !== undefined) {
      failures += 1;
      console.log(`FAILED ${target.name}, seed ${failure.seed}: ${failure.why}`);
      if (values.keep !== undefined) await appendFile(values.keep, `${JSON.stringify(failure)}\n`);
      break;
    }
    total += some;
  }
  const seconds = Math.round((performance.now() - started) / 1000);
  console.log(`${target.name}: ${Math.min(done, count)} inputs in ${seconds} s`);
}
console.log(`${total} inputs, ${failures} failures`);
process.exitCode = failures === 0 ? 0 : 1;

function asked() {
  try {
    return parseArgs({
      options: {
        count: { type: 'string', default: '1000000' },
        target: { type: 'string' },
        seed: { type: 'string' },
        keep: { type: 'string' },
        help: { type: 'boolean', short: 'h' },
      },
    }).values;
  } catch (error) {
    return refuse(error instanceof Error ? error.message : String(error));
  }
}

function refuse(why: string): never {
  process.stderr.write(`${why}\n\n${help}`);
  process.exit(64);
}

function whole(option: string, text: string, [min, max]: readonly [number, number]): number {
  const value = /^\d{1,10}$/.test(text) ? Number(text) : Number.NaN;
  if (!(value >= min && value <= max))
    refuse(`${option} ${text}: is no whole number from ${min} to ${max}`);
  return value;
}
