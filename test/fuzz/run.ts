import { appendFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { fuzzTargets } from './targets.ts';
import { tryTarget } from './try-target.ts';

// `npm run fuzz`: a million inputs for each target, or `-- --count N`, `--target NAME`, `--seed S`. The
// seed is printed; with the same seed the same inputs come again, and a failure names the seed of its
// own input. `--keep FILE` adds each failing input to a file of JSON lines.

const { values } = parseArgs({
  options: {
    count: { type: 'string', default: '1000000' },
    target: { type: 'string' },
    seed: { type: 'string' },
    keep: { type: 'string' },
  },
});

const count = whole(values.count, 10_000_000);
const seed =
  values.seed === undefined ? Math.floor(Math.random() * 2 ** 32) : whole(values.seed, 2 ** 32 - 1);
const chosen = fuzzTargets.filter(
  ({ name }) => values.target === undefined || name === values.target,
);
if (chosen.length === 0) {
  throw new Error(`--target: one of ${fuzzTargets.map(({ name }) => name).join(', ')}`);
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

function whole(text: string, max: number): number {
  const value = /^\d{1,10}$/.test(text) ? Number(text) : Number.NaN;
  if (!(value >= 0 && value <= max)) throw new Error(`'${text}' is no whole number up to ${max}`);
  return value;
}
