import { randomBytes } from 'node:crypto';
import { cleanText } from '../../facts/clean-text.ts';
import type { Trouble, TroubleKind } from '../../facts/trouble.ts';
import type { ReadLimits } from '../types.ts';
import { type DoorFailure, type DoorStep, doorSteps, type HostKeyOffer } from './door-steps.ts';
import { execScript, type ScriptEnd } from './exec-script.ts';
import { openSession } from './open-session.ts';
import { startClock } from './run-clock.ts';
import { type ScriptContext, scriptOutcome, shellRemedies } from './script-outcome.ts';
import type { SshDeps } from './ssh-deps.ts';
import { sshRunner } from './ssh-runner.ts';
import type { SshTarget } from './ssh-target.ts';
import { systemSshFault } from './system-ssh.ts';
import { quoted, troubleOf } from './trouble.ts';

/** How one step of getting in went. */
export type DoorStepReport =
  | { readonly step: DoorStep; readonly state: 'ok' | 'not tried' }
  | { readonly step: DoorStep; readonly state: 'failed'; readonly trouble: Trouble };

/** What became of one attempt to get into a host. */
export interface DoorReport {
  /** All steps, in their order. */
  readonly steps: readonly DoorStepReport[];
  /** Fingerprint of the host key, once it was verified. */
  readonly hostKey?: string;
  /** Present when the host's key is known to nobody: what to record after a yes. */
  readonly offer?: HostKeyOffer;
}

/** What to run on the host, and how to tell from its output that it ran. */
export interface DoorTrial {
  readonly script: string;
  readonly ran: (output: Uint8Array) => boolean;
}

/** Limits of a trial, and the script that it runs. */
export interface DoorOptions {
  readonly limits: ReadLimits;
  readonly signal: AbortSignal;
  /**
   * Absent: a script that prints one mark. The script of the reader itself also passes where a
   * forced command runs that one and no other.
   */
  readonly trial?: DoorTrial;
}

/**
 * Tries the door of one host: name, reach, host key, login and shell, each once and in one
 * connection, so that a server that counts failed connections has little to count. An unknown
 * host key comes back as an offer from this same connection; see appendKnownHost.
 */
export async function tryDoor(
  target: SshTarget,
  deps: SshDeps,
  { limits, signal, trial = markTrial() }: DoorOptions,
): Promise<DoorReport> {
  if (target.access.through === 'system') {
    return systemDoor(target, deps, { limits, signal, trial });
  }
  const clock = startClock(limits, signal);
  try {
    const opened = await openSession({ target, deps, clock, waiting: [] });
    if (!opened.ok) return failedAt(opened);
    const { session } = opened;
    const end = await execScript({ session, script: trial.script, limits, clock });
    session.destroy();
    const { hostKey, shell } = session;
    const trouble = shellFault(end, trial, { where: target.at, hostKey, shell, limits });
    if (trouble !== undefined) return failedAt({ ok: false, step: 'shell', trouble, hostKey });
    return { steps: doorSteps.map((step) => ({ step, state: 'ok' })), hostKey };
  } finally {
    clock.stop();
  }
}

/** The steps as far as what the system's ssh says tells them apart. */
async function systemDoor(
  target: SshTarget,
  deps: SshDeps,
  { limits, signal, trial }: Required<DoorOptions>,
): Promise<DoorReport> {
  const outcome = await sshRunner(target, deps)(trial.script, limits, signal);
  if (!outcome.ok) {
    const { trouble } = outcome;
    const report = failedAt({ ok: false, step: stepOfTrouble(trouble.kind), trouble });
    const began = systemSshFault(target) === undefined && !notBegun.has(trouble.kind);
    return began ? report : { ...report, steps: report.steps.map(untried) };
  }
  const end = { is: 'ended', output: outcome.output, complaint: '', exitCode: 0 } as const;
  const shell = outcome.shell ?? 'sh';
  const trouble = shellFault(end, trial, { where: target.at, hostKey: undefined, shell, limits });
  if (trouble !== undefined) return failedAt({ ok: false, step: 'shell', trouble });
  return { steps: doorSteps.map((step) => ({ step, state: 'ok' })) };
}

/** Before `ssh` is started at all: nothing was looked up, reached or verified then. */
const notBegun: ReadonlySet<TroubleKind> = new Set(['credential-spent', 'key-unusable']);

function untried(step: DoorStepReport): DoorStepReport {
  return step.state === 'ok' ? { step: step.step, state: 'not tried' } : step;
}

const stepsOfTroubles: Readonly<Partial<Record<TroubleKind, DoorStep>>> = {
  'name-unknown': 'name',
  'no-route': 'reach',
  refused: 'reach',
  'no-answer': 'reach',
  'host-key-unknown': 'host key',
  'host-key-changed': 'host key',
  'host-key-revoked': 'host key',
  'no-common-method': 'host key',
  'login-refused': 'login',
  'credential-spent': 'login',
  'key-unusable': 'login',
};

function stepOfTrouble(kind: TroubleKind): DoorStep {
  return stepsOfTroubles[kind] ?? 'shell';
}

function failedAt({ step, trouble, offer, hostKey }: DoorFailure): DoorReport {
  const at = doorSteps.indexOf(step);
  return {
    steps: doorSteps.map((each, index) => {
      if (index === at) return { step: each, state: 'failed', trouble };
      return { step: each, state: index < at ? 'ok' : 'not tried' };
    }),
    ...(offer === undefined ? {} : { offer }),
    ...(hostKey === undefined ? {} : { hostKey }),
  };
}

function markTrial(): DoorTrial {
  const mark = `door-${randomBytes(8).toString('hex')}`;
  return { script: `echo ${mark}\n`, ran: (output) => Buffer.from(output).includes(mark) };
}

function shellFault(end: ScriptEnd, trial: DoorTrial, context: ScriptContext): Trouble | undefined {
  const outcome = scriptOutcome(end, context);
  if (!outcome.ok) return outcome.trouble;
  if (trial.ran(outcome.output)) return undefined;
  const text = Buffer.from(outcome.output).toString('utf8');
  const said = cleanText(text) === '' ? 'printed nothing' : `printed ${quoted(text)}`;
  return troubleOf(
    'shell-refused',
    `${context.where} let the user in, but its shell does not run what it is sent: it ${said}`,
    shellRemedies[context.shell],
  );
}
