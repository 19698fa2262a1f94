import { execFileSync } from 'node:child_process';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseJson, stableJson } from '../../src/facts/json.ts';
import type { HistoryBench } from './history.ts';
import { benchKeys } from './keys.ts';
import { benchLogins } from './logins.ts';
import type { ManySwitchesBench } from './many-switches.ts';
import type { OrderingBench, OrderTime } from './ordering.ts';
import type { PageBench } from './page.ts';
import type { PagesBench } from './pages.ts';
import { type ReportBench, writtenForms } from './reports.ts';
import { benchSnmp, benchSwitches } from './snmp.ts';
import { benchOwnSurvey, benchStartUp } from './start-up.ts';
import type { VerdictBench } from './verdicts.ts';

// Every line is a ratio against a reference taken in the same run. `--json` prints the figures.

interface Line {
  readonly name: string;
  readonly measured: string;
  readonly goal: string;
  readonly met: boolean | 'skipped';
}

/** In a process of its own, so that its peak of memory is its own. */
function apart(file: string, ...args: readonly string[]): unknown {
  const script = fileURLToPath(new URL(file, import.meta.url));
  const text = execFileSync(process.execPath, ['--import', 'tsx', script, ...args], {
    encoding: 'utf8',
    maxBuffer: 1024 * 1024,
  });
  return parseJson(text);
}

function historyLines(bench: HistoryBench): Line[] {
  const mb = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`;
  const packed = bench.naivePackedBytes / bench.storeBytes;
  const plain = bench.naivePlainBytes / bench.storeBytes;
  const of = `${bench.name}, ${bench.ports} ports`;
  return [
    {
      name: `${of}: the store`,
      measured: `${mb(bench.storeBytes)}; every survey whole ${mb(bench.naivePackedBytes)} packed alike: ${packed.toFixed(0)} times smaller (${plain.toFixed(0)} times than as saved)`,
      goal: 'at most 60 MB and 50 times smaller',
      met: bench.storeBytes <= 60e6 && packed >= 50,
    },
    {
      name: `${of}: one night written`,
      measured: `${bench.writeMsMedian} ms, the slowest ${bench.writeMsMax}; reading what is known ${bench.readPastMsMedian}, comparing ${bench.compareMsMedian}`,
      goal: 'at most 2000 ms',
      met: bench.writeMsMax <= 2000,
    },
    {
      name: `${of}: history of one port`,
      measured: `${bench.portMsMax} ms, the slowest of ${bench.portsAsked}, from opening the store to the text`,
      goal: 'at most 100 ms',
      met: bench.portMsMax <= 100,
    },
  ];
}

function pageLines(bench: PageBench): Line[] {
  const of = `${bench.name}, ${bench.ports} ports, ${bench.links} links, ${bench.findings} findings`;
  const { seconds, referenceSeconds, ratio, pageBytes, firstPaintMs } = bench;
  return [
    {
      name: `${of}: made`,
      measured: `${seconds.toFixed(2)} s; the survey as JSON ${referenceSeconds.toFixed(2)} s: ${ratio.toFixed(1)} times as long`,
      goal: 'at most 3 s',
      met: seconds <= 3,
    },
    {
      name: `${of}: its size`,
      measured: `${(pageBytes / 1e6).toFixed(2)} MB`,
      goal: 'under 3 MB',
      met: pageBytes < 3e6,
    },
    {
      name: `${of}: first paint in headless Chromium`,
      measured: firstPaintMs === undefined ? 'no Chromium here' : `${firstPaintMs} ms, the slowest`,
      goal: 'under 1000 ms',
      met: firstPaintMs === undefined ? 'skipped' : firstPaintMs < 1000,
    },
  ];
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

function reportLine(bench: ReportBench): Line {
  const { form, ports, findings, seconds, referenceSeconds, ratio, bytes, peakBytes } = bench;
  return {
    name: `report as ${form}, ${ports} ports, ${findings} findings`,
    measured: `${seconds.toFixed(1)} s; the survey by JSON.stringify ${referenceSeconds.toFixed(1)} s: ${ratio.toFixed(1)} times; ${(bytes / 1e6).toFixed(0)} MB, ${(peakBytes / 1024 ** 3).toFixed(2)} GiB`,
    goal: 'at most 10 times, under 1.5 GiB',
    met: ratio <= 10 && peakBytes < 1.5 * 1024 ** 3,
  };
}

function orderingLines(bench: OrderingBench): Line[] {
  const { goalSeconds, goalRatio } = bench;
  const times = (time: OrderTime) =>
    `${time.seconds.toFixed(2)} s; joining the site anew for each of ${time.states} states ${time.joinedSeconds.toFixed(0)} s: ${time.ratio.toFixed(0)} times faster`;
  const isMet = (time: OrderTime) => time.seconds <= goalSeconds && time.ratio >= goalRatio;
  const goal = `at most ${goalSeconds} s and ${goalRatio} times faster`;
  const of = `${bench.nodes} nodes, ${bench.pairs} pairs of ends`;
  return [
    {
      name: `${bench.name}, ${of}, ${bench.steps} steps`,
      measured: `${times(bench.order)}; ${bench.atBound ? 'no order is better in its worst state' : 'above its bound'}`,
      goal,
      met: isMet(bench.order),
    },
    {
      name: `${bench.name}, ${of}, every order of ${bench.exactSteps} steps, ${bench.exactShapes} unlike pairs`,
      measured: times(bench.exact),
      goal,
      met: isMet(bench.exact),
    },
    {
      name: `planning and rehearsing those ${bench.steps} steps`,
      measured: `${bench.wholeSeconds.toFixed(2)} s; as long as joining the site ${bench.wholeJoins.toFixed(1)} times`,
      goal: `at most ${goalSeconds} s`,
      met: bench.wholeSeconds <= goalSeconds,
    },
    {
      name: `rehearsing ${bench.foretoldSteps} steps there, each state foretold`,
      measured: `${bench.foretoldSeconds.toFixed(2)} s; as long as joining the site ${bench.foretoldJoins.toFixed(1)} times`,
      goal: `at most ${goalSeconds} s`,
      met: bench.foretoldSeconds <= goalSeconds,
    },
  ];
}

function pagesLines(bench: PagesBench): Line[] {
  const gib = (bytes: number) => `${(bytes / 1024 ** 3).toFixed(2)} GiB`;
  return [
    {
      name: `${bench.name}, ${bench.nodes} nodes, ${bench.files} files`,
      measured: `${bench.seconds.toFixed(0)} s; again with nothing changed ${bench.againSeconds.toFixed(0)} s`,
      goal: `at most ${bench.goalSeconds} s`,
      met: bench.seconds <= bench.goalSeconds,
    },
    {
      name: `${bench.name}, peak memory`,
      measured: gib(bench.peakBytes),
      goal: `under ${gib(bench.goalBytes)}`,
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

function manySwitchesLines(bench: ManySwitchesBench): Line[] {
  const { name, requests, tookMs, boundMs, ratio, goal, timesReference } = bench;
  const seconds = (ms: number) => `${(ms / 1000).toFixed(1)} s`;
  const lines: Line[] = [
    {
      name,
      measured: `${requests} requests in ${seconds(tookMs)}; their delay alone ${seconds(boundMs)}: ${ratio.toFixed(2)} times, ${Math.round(bench.peakBytes / 2 ** 20)} MiB`,
      goal: `at most ${goal} times`,
      met: ratio <= goal,
    },
  ];
  if (timesReference === undefined) return lines;
  const { perSecond, referencePerSecond = 0 } = bench;
  const measured = `${perSecond.toFixed(0)} switches a second; snmpbulkwalk by xargs -P ${referencePerSecond.toFixed(1)}: ${timesReference.toFixed(1)} times as many`;
  return [...lines, { name, measured, goal: 'more', met: timesReference > 1 }];
}

async function keysLine(): Promise<Line> {
  const bench = await benchKeys();
  const ms = (value: number) => `${value.toFixed(0)} ms`;
  return {
    name: `keys of SNMPv3 for ${bench.engines} engines`,
    measured: `${ms(bench.ms)}, the loop blocked for ${ms(bench.longestMs)} at the most; as the library does it ${ms(bench.referenceMs)} and ${ms(bench.referenceLongestMs)}: ${bench.timesFaster.toFixed(0)} times faster`,
    goal: 'at least 20 times faster',
    met: bench.timesFaster >= 20,
  };
}

async function loginsLine(): Promise<Line> {
  const bench = await benchLogins();
  const { name } = bench;
  if ('skipped' in bench) return { name, measured: bench.skipped, goal: '', met: 'skipped' };
  const { timeRatio, cpuRatio, goal } = bench;
  return {
    name,
    measured: `${bench.seconds.toFixed(1)} s and ${bench.cpuSeconds.toFixed(1)} s of CPU; ssh by xargs -P ${bench.referenceSeconds.toFixed(1)} s and ${bench.referenceCpuSeconds.toFixed(1)} s: ${timeRatio.toFixed(2)} and ${cpuRatio.toFixed(2)} times`,
    goal: `at most ${goal} times each`,
    met: timeRatio <= goal && cpuRatio <= goal,
  };
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

function ownSurveyLine(): Line {
  const { name, oursMs, ratio, goalMs } = benchOwnSurvey();
  const measured = `${oursMs} ms; ${ratio} times node -e 0`;
  return { name, measured, goal: `at most ${goalMs} ms`, met: oursMs <= goalMs };
}

const lines: Line[] = [
  startUpLine(),
  ownSurveyLine(),
  ...(await snmpLines()),
  await switchesLine(),
  ...manySwitchesLines(apart('./many-switches.ts') as ManySwitchesBench),
  await keysLine(),
  await loginsLine(),
  ...orderingLines(apart('./ordering.ts') as OrderingBench),
  ...verdictLines(apart('./verdicts.ts') as VerdictBench),
  ...writtenForms.map((form) => reportLine(apart('./reports.ts', form) as ReportBench)),
  ...historyLines(apart('./history.ts') as HistoryBench),
  ...pageLines(apart('./page.ts') as PageBench),
  ...pagesLines(apart('./pages.ts') as PagesBench),
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
