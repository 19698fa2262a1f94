import { entryOf } from './text.ts';

/** States of a port in the words of the fact `spanningTree` (RFC 4188 dot1dStpPortState). */
const states: Readonly<Record<string, string>> = {
  disabled: 'disabled',
  blocking: 'blocking',
  listening: 'listening',
  learning: 'learning',
  forwarding: 'forwarding',
  // Of rapid spanning tree, which BRIDGE-MIB calls blocking (RFC 4318 section 3.1).
  discarding: 'blocking',
};

/** By the number that Linux gives them, `BR_STATE_*` in `include/uapi/linux/if_bridge.h`. */
const byNumber = ['disabled', 'listening', 'learning', 'forwarding', 'blocking'];

/** A state of spanning tree, from a word or from the number of Linux; undefined for anything else. */
export function spanningTreeOf(text: string | undefined): string | undefined {
  if (text === undefined) return undefined;
  return /^\d$/.test(text) ? byNumber[Number(text)] : entryOf(states, text);
}
