import type { SshAccess } from '../intent/types.ts';
import type { PlannedNode } from './plan.ts';
import type { SshTarget } from './ssh/ssh-target.ts';

/** The host that a planned node is, by one of its accesses. */
export function sshTarget(node: PlannedNode, access: SshAccess): SshTarget {
  return {
    at: node.at ?? '',
    ...(node.atPort === undefined ? {} : { atPort: node.atPort }),
    access,
    ...(node.hostKey === undefined ? {} : { hostKey: node.hostKey }),
  };
}
