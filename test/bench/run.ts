import { execFileSync } from 'node:child_process';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseJson, stableJson } from '../../src/facts/json.ts';
import { benchHistory } from './history.ts';
import { benchSnmp, benchSwitches } from './snmp.ts';
import { benchStartUp } from './start-up.ts';
import type { VerdictBench } from './verdicts.ts';

// Every line is a ratio against a reference taken in the same run. `--json` prints the figures.

interface Line {
  readonly name: string;
  readonly measured: string;
  readonly goal: string;
  readonly met: boolean | 'skipped';
}

/** In a process of its own, so that its peak of memory is its own. */
function verdictsApart(): VerdictBench {
  const script = fileURLToPath(new URL('./verdicts.ts', import.meta.url));
  const text = execFileSync(process.execPath, ['--import', 'tsx', script], {
    encoding: 'utf8',
    maxBuffer: 1024 * 1024,
  });
  return parseJson(text) as VerdictBench;
}

function verdictLines(bench: VerdictBench): Line[] {
  const millions = (count: number) => `${(count / 1e6).toFixed(2)} M/s`;
  const mib = (bytes: number) => `${Math.round(bytes / 2 ** 20)} MiB`;
  return [
    {
      name: bench.name,
      measured: `${millions(bench.perSecond)}; by hand ${millions(bench.reference.perSecond)}`,
      goal: `at least ${millions(bench.goalPerSecond)}`,
      met: bench.perSecond >= bench.goalPerSecond,
    },
    {
      name: `${bench.name}, peak memory`,
      measured: mib(bench.peakBytes),
      goal: `under ${mib(bench.goalBytes)}`,
      met: bench.peakBytes < bench.goalBytes,
    },
  ];
}

async function snmpLines(): Promise<Line[]> {
  return (await benchSnmp()).map((bench) => {
    if ('skipped' in bench)
      return { name: bench.name, measured: bench.skipped, goal: '', met: 'skipped' };
    return {
      name: bench.name,
      measured: `${bench.ours} in ${bench.oursMs} ms; snmpbulkwalk ${bench.reference} in ${bench.referenceMs} ms: ${bench.ratio.toFixed(1)} times fewer`,
      goal: `at least ${bench.goal} times fewer`,
      met: bench.ratio >= bench.goal,
    };
  });
}

/** How fast the simulated agents are: a figure for whoever tests with many, without a goal. */
async function switchesLine(): Promise<Line> {
  const { name, answers, tookMs, answersPerSecond } = await benchSwitches();
  const measured = `${answers} answers in ${tookMs} ms: ${answersPerSecond} a second`;
  return { name, measured, goal: '', met: true };
}

function startUpLine(): Line {
  const bench = benchStartUp();
  return {
    name: bench.name,
    measured: `${bench.oursMs} ms; node -e 0 ${bench.referenceMs} ms: ${bench.ratio}`,
    goal: `at most ${bench.goal}`,
    met: bench.ratio <= bench.goal,
  };
}

async function historyLines(): Promise<Line[]> {
  const bench = await benchHistory();
  const mb = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`;
  const ratio = bench.wholeBytes / bench.storeBytes;
  const year = `history of ${bench.nights} nights, 10,000 ports, 20 changes a night`;
  return [
    {
      name: year,
      measured: `${mb(bench.storeBytes)}; every survey whole ${mb(bench.wholeBytes)}: ${Math.round(ratio)} times smaller`,
      goal: 'under 60 MB, 50 times smaller',
      met: bench.storeBytes < 60e6 && ratio >= 50,
    },
    {
      name: 'a night compared and written, the slowest of the year',
      measured: `${Math.round(bench.slowestNightMs)} ms; median ${Math.round(bench.medianNightMs)} ms`,
      goal: 'under 2000 ms',
      met: bench.slowestNightMs < 2000,
    },
    {
      name: 'history of one port after a year',
      measured: `${bench.portMs.toFixed(1)} ms`,
      goal: 'under 100 ms',
      met: bench.portMs < 100,
    },
  ];
}

const lines: Line[] = [
  startUpLine(),
  ...(await snmpLines()),
  await switchesLine(),
  ...(await historyLines()),
  ...verdictLines(verdictsApart()),
];
const machine = `Node ${process.versions.node}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown'}`;
if (process.argv.includes('--json')) {
  process.stdout.write(stableJson({ machine, lines }));
} else {
  process.stdout.write(`${machine}\n`);
  for (const { name, measured, goal, met } of lines) {
    const word = met === 'skipped' ? 'skipped' : met ? 'met' : 'MISSED';
    process.stdout.write(`${word}  ${name}: ${measured}${goal === '' ? '' : ` (goal ${goal})`}\n`);
  }
}
process.exitCode = lines.some((line) => line.met === false) ? 1 : 0;
