/** How sure a cause is: it is so, it is likely, or it is worth a look. */
export const certainties = ['is', 'likely', 'check'] as const;
/** How sure a cause is. */
export type Certainty = (typeof certainties)[number];

/** What can be behind a link or a path that is not what it should be, in the order of telling. */
export const causeKinds = [
  'virtual-port',
  'asleep',
  'switched-off',
  'moved',
  'no-common-subnet',
  'blocked-way',
  'vlan',
  'wrong-route',
  'device-maximum',
  'wireless',
  'bridge-member',
  'tunnel-room',
  'route-mtu',
  'small-packet',
  'slow-port',
  'tag-room',
  'router-shrinks',
  'lag-member',
  'lag-mixed',
  'forced-apart',
  'module',
  'forced-against-auto',
  'half-duplex',
  'rate-adapting-module',
  'hidden-device',
  'configuration',
  'capability',
  'offer',
  'optics',
  'cable',
  'bus',
  'errors',
  'pause',
  'eee',
  'flaps',
  'down',
  'both-forced',
  'run',
  'lag-one-flow',
] as const;
/** A kind of cause. */
export type CauseKind = (typeof causeKinds)[number];

/** One thing that was seen, in words. */
export interface SeenFact {
  readonly says: string;
  /** Command, MIB object or standard behind it; absent: it follows from the intent or from others. */
  readonly source?: string;
}

/** One explanation with what speaks for and against it. Words may hold text of devices: clean. */
export interface Cause {
  readonly kind: CauseKind;
  readonly certainty: Certainty;
  /** False: it explains what looks like a fault and is none. */
  readonly fault: boolean;
  /** What it is, to be read after the certainty: `the cable or a connector between a and b`. */
  readonly what: string;
  /** Identifier of the element that it points at; absent: none of the table. */
  readonly element?: string;
  readonly for: readonly SeenFact[];
  readonly against: readonly SeenFact[];
  readonly remedy: string;
  /** The measurement that would confirm or refute it. */
  readonly settledBy: string;
}

/** A cause as its rule makes it: `proof` is how sure the facts for it would make it alone. */
export interface CauseDraft extends Omit<Cause, 'certainty' | 'fault' | 'against'> {
  readonly proof: Certainty;
  /** Absent: true. */
  readonly fault?: boolean;
  readonly against?: readonly SeenFact[];
}

/**
 * Causes in order of strength. Each fact against one takes a step from its certainty, for a
 * contradiction is never certain. Equally sure ones stand by the facts for them less those
 * against; then in the order of `causeKinds`, which tells first what makes others meaningless.
 */
export function rankCauses(drafts: readonly CauseDraft[]): readonly Cause[] {
  return drafts
    .map(weigh)
    .toSorted(
      (a, b) =>
        certainties.indexOf(a.certainty) - certainties.indexOf(b.certainty) ||
        Number(b.fault) - Number(a.fault) ||
        balance(b) - balance(a) ||
        causeKinds.indexOf(a.kind) - causeKinds.indexOf(b.kind),
    );
}

function weigh({ proof, fault = true, against = [], ...rest }: CauseDraft): Cause {
  const at = Math.min(certainties.indexOf(proof) + against.length, certainties.length - 1);
  return { ...rest, certainty: certainties[at] ?? 'check', fault, against };
}

function balance(cause: Cause): number {
  return cause.for.length - cause.against.length;
}
