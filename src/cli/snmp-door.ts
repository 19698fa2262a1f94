import type { PlannedNode } from '../collect/plan.ts';
import { Asker } from '../collect/snmp/asker.ts';
import type { Failure } from '../collect/snmp/failure.ts';
import { askScalars } from '../collect/snmp/system-reading.ts';
import type { SnmpTarget } from '../collect/snmp/target.ts';
import { troubleOf } from '../collect/snmp/trouble-of.ts';
import { inUserTurn } from '../collect/snmp/user-turn.ts';
import type { CredentialLedger } from '../collect/ssh/credential-ledger.ts';
import { defaultReadLimits } from '../collect/types.ts';
import { withinTime } from '../collect/within-time.ts';
import type { Trouble } from '../facts/trouble.ts';
import type { SnmpAccess } from '../intent/types.ts';
import type { AccessStep } from '../report/access-text.ts';
import type { Io } from './io.ts';
import { agentPlace } from './node-reader.ts';
import { snmpTarget } from './snmp-target.ts';

/** Steps of asking an agent as a user, in their order (RFC 3414). */
const userSteps = ['name', 'secret', 'reach', 'user', 'auth', 'privacy'] as const;
const communitySteps = ['name', 'secret', 'reach'] as const;
type Step = (typeof userSteps)[number];

/** Requests of one trial: the system group, in parts where the agent cannot give it whole. */
const requestsMax = 16;

/** Tries the door of one agent with one reading of its system group. */
export async function trySnmpDoor(
  node: PlannedNode,
  access: SnmpAccess,
  { io, ledger }: { readonly io: Io; readonly ledger: CredentialLedger },
): Promise<readonly AccessStep[]> {
  const steps = stepsOf(access);
  const place = await agentPlace(node, access, io);
  if ('kind' in place) return failedAt(steps, 'name', place);
  const made = await snmpTarget(access, place, io.findSecret);
  if (!made.ok) return failedAt(steps, 'secret', made.trouble);
  const { target } = made;
  const tried = await inUserTurn(ledger, {
    access,
    signal: io.signal,
    ask: () => tryTarget(target, io),
    troubleOf: (outcome) => outcome?.trouble,
  });
  if (tried === undefined) return steps.map((step) => ({ step, state: 'ok' }));
  if (!('trouble' in tried)) return failedAt(steps, 'reach', tried);
  return failedAt(steps, failedStep(tried.failure, tried.trouble), tried.trouble);
}

interface FailedTrial {
  readonly failure: Failure;
  readonly trouble: Trouble;
}

/** Asks for the system group once; undefined where it is given. */
async function tryTarget(target: SnmpTarget, io: Io): Promise<FailedTrial | undefined> {
  const time = withinTime(defaultReadLimits.connectMs, io.signal);
  const bytesMax = defaultReadLimits.outputBytesMax;
  const asker = new Asker(target, { stop: time.signal, bytesMax, requestsMax });
  try {
    const answer = await askScalars(asker);
    if (!('kind' in answer)) return undefined;
    return { failure: answer, trouble: troubleOf(answer, target, asker) };
  } finally {
    time.clear();
    asker.close();
  }
}

function stepsOf(access: SnmpAccess): readonly Step[] {
  if (access.version === '2c') return communitySteps;
  return userSteps.filter(
    (step) =>
      (step !== 'auth' || access.auth !== undefined) &&
      (step !== 'privacy' || access.privacy !== undefined),
  );
}

/** The step that a failure belongs to; an agent checks user, auth and privacy in this order. */
export function failedStep(failure: Failure, trouble: Trouble): Step {
  if (failure.kind === 'privacy-wrong' || trouble.kind === 'privacy-silent') return 'privacy';
  if (failure.kind === 'user-unknown') return 'user';
  if (failure.kind === 'auth-wrong' || failure.kind === 'clock') return 'auth';
  if (failure.kind === 'level-too-low') return 'auth';
  return 'reach';
}

/** Steps before the one that failed went well; those after it were not tried. */
export function failedAt(
  steps: readonly string[],
  step: string,
  trouble: Trouble,
): readonly AccessStep[] {
  // An access without auth has no such step; its last one then carries the failure.
  const at = steps.includes(step) ? steps.indexOf(step) : steps.length - 1;
  return steps.map((each, index) => {
    if (index === at) return { step: each, state: 'failed', trouble };
    return { step: each, state: index < at ? 'ok' : 'not tried' };
  });
}
