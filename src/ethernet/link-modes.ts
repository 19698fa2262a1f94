import type { LinkMode, LinkModes } from './link-mode.ts';
import { byModePriority, modeKey } from './mode-priority.ts';

/** A set of link modes: each once, highest priority first (IEEE 802.3 28B.3). */
export function linkModes(modes: Iterable<LinkMode>): LinkModes {
  const byKey = new Map<string, LinkMode>();
  for (const mode of modes) if (!byKey.has(modeKey(mode))) byKey.set(modeKey(mode), mode);
  return [...byKey.values()].sort(byModePriority);
}

/** The modes that are in both sets, as the first spells them. */
export function commonModes(first: LinkModes, second: LinkModes): LinkModes {
  const keys = new Set(second.map(modeKey));
  return first.filter((mode) => keys.has(modeKey(mode)));
}
