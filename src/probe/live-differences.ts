import type { Gap } from '../facts/gap.ts';
import {
  type ChangeKind,
  isMissing,
  type Known,
  type LiveLook,
  type PortChange,
} from './live-types.ts';

/**
 * What became of the link from one look to the next.
 *
 * @param last - the look before; `before` is what it told last of the link
 */
export function linkChanges(
  before: LiveLook,
  now: LiveLook,
  { atMs, last }: { readonly atMs: number; readonly last: LiveLook | Gap | undefined },
): readonly PortChange[] {
  const change = { atMs, look: now, was: before };
  if (now.up.value === undefined) {
    const told = last !== undefined && !isMissing(last) && last.up.gap;
    return before.up.value === undefined || told ? [] : [{ kind: 'unknown', ...change }];
  }
  const changed = before.up.value !== undefined && before.up.value !== now.up.value;
  const blinks = blinksBetween(before, now, changed);
  const found: PortChange[] = blinks === undefined ? [] : [{ kind: 'blink', ...change, ...blinks }];
  if (changed) found.push({ kind: now.up.value ? 'up' : 'down', ...change });
  else if (now.up.value && lineOf(before) !== lineOf(now)) found.push({ kind: 'line', ...change });
  return found;
}

/** What nobody saw: the node counts changes of the link, or says when the last one was. */
function blinksBetween(
  before: LiveLook,
  now: LiveLook,
  changed: boolean,
): Pick<PortChange, 'times' | 'atLeast'> | undefined {
  const [then, since] = [before.carrierChanges.value, now.carrierChanges.value];
  if (then !== undefined && since !== undefined) {
    const unseen = since - then - (changed ? 1 : 0);
    return unseen < 1 ? undefined : { times: Math.ceil(unseen / 2) };
  }
  if (changed || before.up.value === undefined) return undefined;
  const [last, latest] = [before.changedAtSeconds.value, now.changedAtSeconds.value];
  // One that went back is of a node that started anew.
  if (last === undefined || latest === undefined || latest <= last) return undefined;
  return { times: 1, atLeast: true };
}

function lineOf({ speedMbps, duplex, autoNegotiation }: LiveLook): string {
  return [speedMbps.value, duplex.value, autoNegotiation.value].join(' ');
}

/** What else changed from one look to the next, as far as both tell it. */
export function otherChanges(before: LiveLook, now: LiveLook, atMs: number): readonly PortChange[] {
  const change = { atMs, look: now, was: before };
  const differ = <T>(of: (look: LiveLook) => Known<T>): boolean => {
    const [then, since] = [of(before).value, of(now).value];
    return then !== undefined && since !== undefined && String(then) !== String(since);
  };
  const found: PortChange[] = [];
  const stayed = before.up.value === now.up.value;
  if (stayed && differ((look) => look.adminUp)) found.push({ kind: 'admin', ...change });
  if (stayed && differ((look) => look.partnerModes)) found.push({ kind: 'partner', ...change });
  if (differ((look) => look.mtuBytes)) found.push({ kind: 'mtu', ...change });
  return found;
}

/** Changes of the link that these stand for: a blink is two. */
export function eventsOf(changes: readonly PortChange[]): number {
  const weights: Partial<Record<ChangeKind, number>> = { up: 1, down: 1, blink: 2 };
  return changes.reduce((sum, { kind, times = 1 }) => sum + (weights[kind] ?? 0) * times, 0);
}
