import { readFile } from 'node:fs/promises';
import { pathToFileURL } from 'node:url';
import type { FactValue } from '../../src/facts/entry.ts';
import type { Gaps } from '../../src/facts/gap.ts';
import type { Provenance, Subject } from '../../src/facts/subject.ts';
import { judge } from '../../src/judge/judge.ts';
import { loadPolicies } from '../../src/judge/load-policies.ts';
import type { Policy } from '../../src/judge/policy.ts';

/** Ports judged in the bench. */
const portCount = 500_000;
/** One fact in so many is absent. */
const absentEvery = 20;

export interface VerdictBench {
  readonly name: string;
  /** Pairs of rule and port to which the rule applied. */
  readonly verdicts: number;
  readonly seconds: number;
  readonly perSecond: number;
  readonly goalPerSecond: number;
  /** Most memory that the process ever held, ports and findings included. */
  readonly peakBytes: number;
  readonly goalBytes: number;
  readonly findings: number;
  /** The same rules written by hand, verdicts only: no evidence, no words, no findings. */
  readonly reference: {
    readonly name: string;
    readonly seconds: number;
    readonly perSecond: number;
  };
  /** Seconds over those of the reference. */
  readonly ratio: number;
}

/**
 * Judges half a million ports by the shipped rules, a twentieth of the facts absent, every
 * finding explained and kept.
 *
 * @throws Error when the hand-written rules count other verdicts than the judge does
 */
export async function benchVerdicts(): Promise<VerdictBench> {
  const policies = await shippedPolicies();
  const subjects = makePorts();
  // Once on a few, so that both are measured compiled.
  judge(subjects.slice(0, 20_000), policies, { waivers: [], now: '2027-01-01' });
  countByHand(subjects.slice(0, 20_000));

  const before = process.hrtime.bigint();
  const judgement = judge(subjects, policies, { waivers: [], now: '2027-01-01' });
  const seconds = secondsSince(before);
  const beforeHand = process.hrtime.bigint();
  const byHand = countByHand(subjects);
  const handSeconds = secondsSince(beforeHand);

  const { met, broken, undetermined } = judgement.tally;
  const counted = `${met} ${broken} ${undetermined}`;
  const expected = `${byHand.met} ${byHand.broken} ${byHand.undetermined}`;
  if (counted !== expected) throw new Error(`judge counts ${counted}, by hand ${expected}`);
  const verdicts = met + broken + undetermined;
  return {
    name: 'rule verdicts',
    verdicts,
    seconds,
    perSecond: verdicts / seconds,
    goalPerSecond: 1_000_000,
    peakBytes: process.resourceUsage().maxRSS * 1024,
    goalBytes: 1024 ** 3,
    findings: judgement.findings.length,
    reference: {
      name: 'the same rules written by hand, verdicts only',
      seconds: handSeconds,
      perSecond: verdicts / handSeconds,
    },
    ratio: seconds / handSeconds,
  };
}

function secondsSince(before: bigint): number {
  return Number(process.hrtime.bigint() - before) / 1e9;
}

/** The rules that are in force by default, and those of large packets. */
export async function shippedPolicies(): Promise<readonly Policy[]> {
  const refs = [{ name: 'essential' }, { name: 'jumbo' }];
  const loaded = await loadPolicies(refs, async ({ name }) => {
    const url = new URL(`../../policies/${name}.yaml`, import.meta.url);
    return { ok: true, file: `policies/${name}.yaml`, text: await readFile(url, 'utf8') };
  });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
  return loaded.value;
}

const gaps: Gaps = Object.fromEntries(
  ['adminUp', 'operUp', 'virtual', 'speedMbps', 'duplex', 'carriesDeclaredMtu'].map((name) => [
    name,
    { reason: 'denied', words: 'not in the view of this user' },
  ]),
);
const shared: Provenance = { sources: { speedMbps: 'IF-MIB ifHighSpeed' }, gaps };

/** Numbers below 1 that look random and are the same in every run (a linear congruence). */
function makeRandom(): () => number {
  let state = 12_345;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Half a million ports, a twentieth of their facts absent, one in a hundred slow, down or too small. */
export function makePorts(): readonly Subject[] {
  const random = makeRandom();
  return Array.from({ length: portCount }, (_, index) => makePort(index, random));
}

function makePort(index: number, random: () => number): Subject {
  const read = <T extends FactValue>(value: T) => (random() < 1 / absentEvery ? undefined : value);
  const id = `sw-${Math.floor(index / 52)}:g${index % 52}`;
  return {
    kind: 'port',
    id,
    shared,
    facts: {
      id,
      node: `sw-${Math.floor(index / 52)}`,
      linked: true,
      unread: false,
      mayBeDown: false,
      onSwitch: true,
      found: true,
      linkId: `${id} - host-${index}:eth0`,
      farPort: `host-${index}:eth0`,
      declaredSpeedMbps: 10_000,
      declaredDuplex: 'full',
      declaredMtuBytes: 9000,
      adminUp: read(true),
      operUp: read(random() > 0.01),
      virtual: read(false),
      wireless: false,
      speedMbps: read(random() < 0.01 ? 1000 : 10_000),
      duplex: read('full'),
      passesAtMostBytes: 9198,
      carriesDeclaredMtu: read(random() > 0.01),
    },
  };
}

interface Counts {
  met: number;
  broken: number;
  undetermined: number;
}

type Verdict = boolean | undefined;

// What a person would write for exactly these rules and these facts: the floor.
function countByHand(subjects: readonly Subject[]): Counts {
  const counts: Counts = { met: 0, broken: 0, undetermined: 0 };
  for (const { facts } of subjects) {
    const { adminUp, operUp, virtual, speedMbps, duplex } = facts;
    count(counts, true, facts['found'] === true);
    count(counts, true, adminUp as Verdict);
    count(counts, adminUp as Verdict, operUp as Verdict);
    const up = and(operUp as Verdict, virtual === undefined ? undefined : !virtual);
    const fast =
      speedMbps === undefined ? undefined : speedMbps >= (facts['declaredSpeedMbps'] ?? 0);
    count(counts, up, fast);
    const full = duplex === undefined ? undefined : duplex === facts['declaredDuplex'];
    const above = speedMbps === undefined ? undefined : (speedMbps as number) > 1000;
    count(counts, up, or(full, above));
    count(counts, Number(facts['declaredMtuBytes']) > 2304, facts['wireless'] === false);
    count(counts, true, facts['carriesDeclaredMtu'] as Verdict);
    count(counts, true, facts['carriesDeclaredMtu'] as Verdict);
  }
  return counts;
}

function and(a: Verdict, b: Verdict): Verdict {
  if (a === false || b === false) return false;
  return a === undefined ? undefined : b;
}

function or(a: Verdict, b: Verdict): Verdict {
  if (a === true || b === true) return true;
  return a === undefined ? undefined : b;
}

function count(counts: Counts, applies: Verdict, holds: Verdict): void {
  if (applies === false) return;
  if (applies === undefined || holds === undefined) counts.undetermined += 1;
  else if (holds) counts.met += 1;
  else counts.broken += 1;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.stdout.write(`${JSON.stringify(await benchVerdicts(), null, 2)}\n`);
}
