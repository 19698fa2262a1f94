import type { FitProof, TransferProof } from '../facts/proof.ts';
import type { Survey } from '../facts/survey.ts';
import type { NodeView } from './node-view.ts';
import type { PathPlan } from './path-plan.ts';
import { type InForce, proofInForce } from './proof-in-force.ts';

/** What active tests have shown of one direction of a path. */
export interface DirectionProofs {
  /** The intent asks for a fit every night, and the sender is one that can run it. */
  readonly fitAsked: boolean;
  readonly fit: InForce<FitProof>;
  readonly transfer: InForce<TransferProof>;
}

/** What active tests have shown of both directions of a path. */
export interface PathProofs {
  readonly there: DirectionProofs;
  readonly back: DirectionProofs;
}

/** Finds the proofs of a path in a survey. Without a survey there are none. */
export function pathProofs(plan: PathPlan, survey: Survey | undefined): PathProofs {
  const { from, to, routeThere, routeBack } = plan;
  const of = (sender: NodeView, receiver: NodeView, toAddress: string | undefined) =>
    directionProofs(plan, survey, { sender, receiver, toAddress });
  return { there: of(from, to, routeThere?.to), back: of(to, from, routeBack?.to) };
}

interface Way {
  readonly sender: NodeView;
  readonly receiver: NodeView;
  readonly toAddress: string | undefined;
}

function directionProofs(
  plan: PathPlan,
  survey: Survey | undefined,
  { sender, receiver, toAddress }: Way,
): DirectionProofs {
  const [from, to] = [sender.declared.name, receiver.declared.name];
  const canRun = sender.declared.access.some(({ via }) => via !== 'snmp');
  // What keeps an end from being read keeps it from being tried.
  const unread = [sender, receiver].find(({ gap, onWord }) => gap !== undefined && !onWord)?.gap;
  const wanted = {
    ...{ from, to, toAddress, canRun, unread },
    readAt: survey?.endedAt ?? '',
    cause: `proof of path ${plan.id}`,
  };
  return {
    fitAsked: plan.declared.fit === 'nightly' && canRun,
    fit: proofInForce(survey?.fits ?? [], { ...wanted, test: 'fit' }),
    transfer: proofInForce(survey?.transfers ?? [], { ...wanted, test: 'transfer' }),
  };
}
