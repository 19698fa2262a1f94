import { randomBytes } from 'node:crypto';
import { cleanText } from '../../facts/clean-text.ts';
import type { Trouble } from '../../facts/trouble.ts';
import type { ReadLimits } from '../types.ts';
import { type DoorFailure, type DoorStep, doorSteps, type HostKeyOffer } from './door-steps.ts';
import { execScript, type ScriptEnd } from './exec-script.ts';
import { openSession } from './open-session.ts';
import { startClock } from './run-clock.ts';
import type { SshDeps } from './ssh-deps.ts';
import { scriptOutcome } from './ssh-runner.ts';
import type { SshTarget } from './ssh-target.ts';
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

/** What the trial runs on the host: prints one mark, and nothing more. */
const trialScript = (mark: string) => `echo ${mark}\n`;

/**
 * Tries the door of one host: name, reach, host key, login and shell, each once and in one
 * connection, so that a server that counts failed connections has little to count. An unknown
 * host key comes back as an offer from this same connection; see appendKnownHost.
 */
export async function tryDoor(
  target: SshTarget,
  deps: SshDeps,
  { limits, signal }: { readonly limits: ReadLimits; readonly signal: AbortSignal },
): Promise<DoorReport> {
  const clock = startClock(limits, signal);
  try {
    const opened = await openSession({ target, deps, clock, depth: 0 });
    if (!opened.ok) return failedAt(opened);
    const { session } = opened;
    const mark = `door-${randomBytes(8).toString('hex')}`;
    const end = await execScript({ session, script: trialScript(mark), limits, clock });
    session.destroy();
    const { hostKey } = session;
    const trouble = shellFault(end, mark, { where: target.at, hostKey, limits });
    if (trouble !== undefined) return failedAt({ ok: false, step: 'shell', trouble, hostKey });
    return { steps: doorSteps.map((step) => ({ step, state: 'ok' })), hostKey };
  } finally {
    clock.stop();
  }
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

/** A shell that is right prints the mark, whatever noise comes with it; a forced command need not. */
function shellFault(
  end: ScriptEnd,
  mark: string,
  context: { readonly where: string; readonly hostKey: string; readonly limits: ReadLimits },
): Trouble | undefined {
  const outcome = scriptOutcome(end, context);
  if (!outcome.ok) return outcome.trouble;
  const text = Buffer.from(outcome.output).toString('utf8');
  if (text.includes(mark)) return undefined;
  const said = cleanText(text) === '' ? 'printed nothing' : `printed ${quoted(text)}`;
  return troubleOf(
    'shell-refused',
    `${context.where} let the user in, but its shell does not run what it is sent: it ${said}`,
    'give the account a shell that runs `sh -s`; with a forced command this is as it should be',
  );
}
