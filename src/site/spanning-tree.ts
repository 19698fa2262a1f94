import { aggregateOf } from './aggregates.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import type { LinkRef, PortRef } from './site-index.ts';

/** Whether the spanning tree lets frames through a port; undefined: it does not say, or not yet. */
export function forwardsBySpanningTree(ref: PortRef): boolean | undefined {
  const facts = ref.survey?.facts;
  if (facts === undefined || facts.operUp === false) return undefined;
  // The state is that of the aggregate where the port is a member of one.
  const state = aggregateOf(ref.node, ref.name)?.facts.spanningTree ?? facts.spanningTree;
  if (state === 'forwarding') return true;
  return state === 'blocking' || state === 'broken' ? false : undefined;
}

/** A link is blocked where either end is. */
export function isBlocked({ ends }: LinkRef): boolean {
  return ends.some((end) => forwardsBySpanningTree(end) === false);
}

/** Enters whether the spanning tree lets frames through. */
export function putSpanningTree(draft: Draft, ref: PortRef): void {
  const forwards = forwardsBySpanningTree(ref);
  const state = ref.survey?.facts.spanningTree;
  const moving = state === 'listening' || state === 'learning';
  const gap = moving ? gapOf('doubtful', `the spanning tree is still ${state}`) : undefined;
  put(draft, 'spanningTreeForwards', forwards, gap);
}
