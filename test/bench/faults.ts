import { allFaults } from '../faults/all-faults.ts';
import { hiddenFaults } from '../faults/hidden-faults.ts';
import { type Outcome, tryFault } from '../faults/try-fault.ts';

// Every fault of the trade that facts can show, as a described site with its healthy twin.
// `--why` prints what was told of those that are not as they should be.

const outcomes: Outcome[] = [];
for (const fault of allFaults) outcomes.push(await tryFault(fault));

const yes = (value: boolean | undefined) => (value === undefined ? '-' : value ? 'yes' : 'NO');
const isGood = ({ detected, located, explained, falseAlarms }: Outcome) =>
  detected && located && explained !== false && falseAlarms.length === 0;
const width = Math.max(...outcomes.map(({ fault }) => fault.key.length));
const print = (...cells: readonly string[]) =>
  process.stdout.write(`${[cells[0]?.padEnd(width), ...cells.slice(1)].join('  ')}\n`);

print('fault', 'detected', 'located', 'explained', 'causes', 'false alarms');
for (const outcome of outcomes) {
  const { fault, detected, located, explained, causes, falseAlarms, seen } = outcome;
  print(
    fault.key,
    yes(detected).padEnd(8),
    yes(located).padEnd(7),
    yes(explained).padEnd(9),
    String(causes.length).padEnd(6),
    String(falseAlarms.length),
  );
  if (!process.argv.includes('--why') || isGood(outcome)) continue;
  for (const line of [...seen, ...falseAlarms.map((each) => `FALSE ${each}`)]) print('', line);
}

const count = (test: (outcome: Outcome) => boolean) => outcomes.filter(test).length;
const explainable = count(({ explained }) => explained !== undefined);
print(
  `\n${outcomes.length} faults: ${count((o) => o.detected)} detected, ${count((o) => o.located)} located, ${count((o) => o.explained === true)} of ${explainable} explained; ${outcomes.flatMap((o) => o.falseAlarms).length} false alarms on healthy twins`,
);
const notices = new Set(outcomes.flatMap((o) => o.notices));
print(`notices on healthy twins: ${notices.size}`);
for (const notice of notices) print(`  ${notice}`);
print('\nwhat facts of one night cannot show:');
for (const { key, why, shownBy } of hiddenFaults) print(`  ${key}: ${why}; shown by ${shownBy}`);
process.exitCode = outcomes.every(isGood) ? 0 : 1;
