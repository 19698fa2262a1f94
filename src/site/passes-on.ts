import type { DeclaredNode } from '../intent/types.ts';

/** Kinds of unread node that pass frames on, whatever their declared role. */
const passingKinds: ReadonlySet<string> = new Set(['switch', 'converter', 'radio', 'dock']);

/** Whether a node passes frames on in layer 2. */
export function passesOn({ role, unread }: DeclaredNode): boolean {
  return role === 'switch' || passingKinds.has(unread ?? '');
}
