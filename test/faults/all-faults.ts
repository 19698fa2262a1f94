import { agentRows } from './agent-rows.ts';
import type { Fault } from './fault.ts';
import { hostRows } from './host-rows.ts';
import { linkRows } from './link-rows.ts';
import { neighbourRows } from './neighbour-rows.ts';
import { segmentRows } from './segment-rows.ts';
import { switchRows } from './switch-rows.ts';

/** Every fault that facts of one night can show. */
export const allFaults: readonly Fault[] = [
  ...switchRows,
  ...hostRows,
  ...segmentRows,
  ...linkRows,
  ...neighbourRows,
  ...agentRows,
];
