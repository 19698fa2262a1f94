import { type Passes, passes } from './carries.ts';
import type { ClearanceOf } from './clearance.ts';
import type { PortRef } from './site-index.ts';

/** Whether everything passes that is wanted through a port, each with its own tags. */
export function carriesAll(ref: PortRef, clearanceOf: ClearanceOf): Passes {
  const outcomes = ref.demands.map((demand) => passes(ref, clearanceOf(ref, demand), demand.bytes));
  if (outcomes.includes(false)) return false;
  return outcomes.find((outcome) => outcome !== true) ?? true;
}
