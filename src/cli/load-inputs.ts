import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { loadSurvey } from '../facts/saved-survey.ts';
import { waiverRuleFaults } from '../intent/build-waivers.ts';
import { faultLine } from '../intent/fault.ts';
import { loadIntent } from '../intent/load-intent.ts';
import type { InputFault, Intent, PolicyRef } from '../intent/types.ts';
import { loadPolicies, type PolicySource } from '../judge/load-policies.ts';
import type { Policy } from '../judge/policy.ts';
import { exitStatuses } from '../report/exit-status.ts';
import type { Io } from './io.ts';
import { RunFault } from './run-fault.ts';

/** Read when no intent is named. */
export const defaultIntentFile = 'hopgauge.yaml';

/** Names of the policies that ship with hopgauge; each is `policies/<name>.yaml`. */
export async function shippedNames(io: Io): Promise<readonly string[]> {
  const files = await readdir(io.policiesFolder);
  return files.flatMap((file) => (file.endsWith('.yaml') ? [file.slice(0, -5)] : [])).sort();
}

/** The smallest intent: two ends and the packet that is to pass between them. */
const smallestIntent = [
  'intent: 1',
  'nodes: { plot-1: { at: plot-1.office.example }, vault: { at: vault.office.example } }',
  'segments: { storage: { mtu: 9000 } }',
  'paths: { plotting: { from: plot-1, to: vault, over: storage } }',
];

/** The intent in `file`, or in the default one; ends the run when it cannot be used. */
export async function requireIntent(file: string | undefined, io: Io): Promise<Intent> {
  const name = file ?? defaultIntentFile;
  if (file === undefined && !(await hasDefaultIntent(io))) {
    throw new RunFault(exitStatuses.input, [
      `no intent file ${defaultIntentFile} in this folder`,
      'name the intent file with --intent FILE;',
      'or save these four lines there, with two machines of yours, and run it again:',
      '',
      ...smallestIntent.map((line) => `  ${line}`),
    ]);
  }
  const loaded = await loadIntent(name, io.readTextFile, {
    shippedPolicies: await shippedNames(io),
    ...(io.workingFolder === undefined ? {} : { workingFolder: io.workingFolder }),
  });
  if (loaded.ok) return loaded.value;
  if (await isSurvey(name, io)) {
    throw new RunFault(exitStatuses.input, [
      `${name}: a saved survey, where an intent is asked for; write hopgauge audit INTENT --survey ${name}`,
    ]);
  }
  throw inputFault(loaded.faults);
}

/** The two files of an audit are easily given in each other's place. */
async function isSurvey(file: string, io: Io): Promise<boolean> {
  const read = await io.readTextFile(file);
  return read.ok && loadSurvey(read.text, file).ok;
}

/** Whether the default intent is there; what cannot be read counts, so that it is reported. */
export async function hasDefaultIntent(io: Io): Promise<boolean> {
  const read = await io.readTextFile(defaultIntentFile);
  return read.ok || read.reason !== 'no such file';
}

/**
 * The policies that an intent names; ends the run when one cannot be used, or when a waiver is of
 * a rule that none of them has: it would waive nothing, and nobody would know.
 */
export async function requirePolicies(
  { policies, waivers }: Pick<Intent, 'policies' | 'waivers'>,
  io: Io,
): Promise<readonly Policy[]> {
  const loaded = await loadPolicies(policies, (ref) => readPolicy(ref, io));
  if (!loaded.ok) throw inputFault(loaded.faults);
  const rules = loaded.value.flatMap((policy) => policy.rules.map(({ rule }) => rule));
  const stray = waiverRuleFaults(waivers, rules);
  if (stray.length > 0) throw inputFault(stray);
  return loaded.value;
}

async function readPolicy({ name, file }: PolicyRef, io: Io): Promise<PolicySource> {
  const path = file ?? join(io.policiesFolder, `${name}.yaml`);
  const read = await io.readTextFile(path);
  if (read.ok) return { ok: true, file: file ?? `policies/${name}.yaml`, text: read.text };
  return {
    ok: false,
    what: `policy ${name} cannot be read: ${read.reason}`,
    remedy: file === undefined ? 'install hopgauge again' : `put it at ${file}`,
  };
}

/** Faults of a file as the end of a run. */
export function inputFault(faults: readonly InputFault[]): RunFault {
  return new RunFault(exitStatuses.input, faults.map(faultLine));
}
