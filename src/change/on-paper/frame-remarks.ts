import { standardPacketBytes } from '../../ethernet/frame-size.ts';
import type { SitePath } from '../../site/types.ts';
import type { ChangeRemark } from '../types.ts';
import { caution, impossible, listWords, unknown } from './remark.ts';
import { isJumbo, isShort, type UnreadNeed } from './unread-needs.ts';

/** Whether nodes that nobody reads pass the frames of the segments that pass them. */
export function frameRemarks(
  needs: readonly UnreadNeed[],
  paths: readonly SitePath[],
): ChangeRemark[] {
  return needs.flatMap((need) => {
    if (isShort(need)) return [short(need, paths)];
    if (!isJumbo(need)) return [];
    if (need.node.unread === 'radio') return [radio(need)];
    return need.node.frameBytes === undefined ? [undeclared(need)] : [];
  });
}

function short(need: UnreadNeed, paths: readonly SitePath[]): ChangeRemark {
  const { name, frameBytes } = need.node;
  const through = pathsThrough(need, paths);
  const also = through.length === 0 ? '' : `; it is on the way of ${listWords(through)}`;
  return impossible(
    name,
    `passes frames of at most ${frameBytes} bytes as declared, and segment ${need.segment} needs ${frameWords(need)}${also}`,
    `replace ${name}, keep ${need.segment} away from it, or declare a smaller mtu of the segment`,
  );
}

/** Names of paths of the segment whose packets the node does not pass; five at most. */
function pathsThrough({ node, segment }: UnreadNeed, paths: readonly SitePath[]): string[] {
  const through = paths.filter(
    ({ declared, hops }) =>
      isOver(declared.over, segment) && hops.some(({ port }) => port.node === node.name),
  );
  const names = [...new Set(through.map(({ declared }) => declared.name))];
  return names.length <= 5
    ? names.map((name) => `path ${name}`)
    : [...names.slice(0, 5), `${names.length - 5} more paths`];
}

/** A path that names no segment may go over any. */
function isOver(over: readonly string[], segment: string): boolean {
  return over.length === 0 || over.includes(segment);
}

/** Wi-Fi carries packets of 1500 bytes (common practice; IEEE 802.11 ends at 2304 of its own). */
function radio(need: UnreadNeed): ChangeRemark {
  const { name, frameBytes } = need.node;
  const carries = `Wi-Fi carries packets of ${standardPacketBytes} bytes (common practice)`;
  const where = `is a radio in segment ${need.segment}, which is declared at ${need.mtuBytes} bytes`;
  return frameBytes === undefined
    ? impossible(
        name,
        `${where}: ${carries}`,
        `put ${name} into a segment of ${standardPacketBytes} bytes behind a router; declare its frame if it is a radio of another kind`,
      )
    : caution(
        name,
        `${where}: ${carries}, and its declared frame of ${frameBytes} bytes says more`,
        'make sure of it from its data sheet',
      );
}

function undeclared(need: UnreadNeed): ChangeRemark {
  return unknown(
    need.node.name,
    `is an unread ${need.node.unread} without a declared frame, and segment ${need.segment} needs ${frameWords(need)}`,
    'look up before buying the largest frame that it passes, and declare frame',
  );
}

/** `9022 bytes there (9000 + 18 of header and FCS + 4 of a VLAN tag, IEEE 802.3 and 802.1Q)`. */
function frameWords({ frameBytes, mtuBytes, tags }: UnreadNeed): string {
  return tags === 0
    ? `${frameBytes} bytes there (${mtuBytes} + 18 of header and FCS, IEEE 802.3)`
    : `${frameBytes} bytes there (${mtuBytes} + 18 of header and FCS + 4 of a VLAN tag, IEEE 802.3 and 802.1Q)`;
}
