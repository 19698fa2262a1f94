import type { Change } from '../drift/known-node.ts';
import type { OpenFinding } from '../drift/settle-findings.ts';
import { toldMoves } from './told-moves.ts';
import type { AuditResult } from './types.ts';

/** A change, and whether the operator is told of it or it is only kept. */
export type SaidChange = Change & { readonly told: boolean };

/** All changes, each with whether `audit --changes` tells it. */
export function saidChanges({ moved, site }: AuditResult): readonly SaidChange[] {
  const changes = moved?.changes ?? [];
  const told = new Set(toldMoves(changes, site));
  return changes.map((change) => ({ ...change, told: told.has(change) }));
}

/** A finding that is gone, without what only the history needs. */
export function clearedView(finding: OpenFinding): Omit<OpenFinding, 'told'> {
  const { told: _, ...view } = finding;
  return view;
}
