import { frameBytes, standardPacketBytes } from '../../ethernet/frame-size.ts';
import type { DeclaredNode, Intent } from '../../intent/types.ts';
import { carriageByNode } from './carriage.ts';

/** What a segment asks of a node that nobody reads. */
export interface UnreadNeed {
  readonly node: DeclaredNode;
  readonly segment: string;
  /** IP packet of the segment. */
  readonly mtuBytes: number;
  /** Most VLAN tags on its frames at this node. */
  readonly tags: 0 | 1;
  /** Its largest frame there, header to FCS, with those tags (IEEE 802.3, IEEE 802.1Q). */
  readonly frameBytes: number;
}

/** Every segment with an MTU at every unread node that it passes, once. */
export function unreadNeeds(intent: Intent): readonly UnreadNeed[] {
  const carried = carriageByNode(intent);
  return intent.nodes
    .filter(({ unread }) => unread !== undefined)
    .flatMap((node) => {
      const needs = new Map<string, UnreadNeed>();
      for (const { segment, tags } of carried.get(node.name) ?? []) {
        const { name, mtuBytes } = segment;
        if (mtuBytes === undefined || (needs.get(name)?.tags ?? -1) >= tags) continue;
        const need = frameBytes(mtuBytes, tags);
        needs.set(name, { node, segment: name, mtuBytes, tags, frameBytes: need });
      }
      return [...needs.values()];
    });
}

/** The declared frame of the node is too small for it. */
export function isShort({ node, frameBytes }: UnreadNeed): boolean {
  return node.frameBytes !== undefined && node.frameBytes < frameBytes;
}

/** It asks for more than the packet that every Ethernet station carries (RFC 894). */
export function isJumbo({ mtuBytes }: UnreadNeed): boolean {
  return mtuBytes > standardPacketBytes;
}
