import type { Gap } from '../facts/gap.ts';
import { type Folding, foldLinkEvents, noFolding } from './live-fold.ts';
import { betweenLooks, type Moved, movedBy } from './live-rate.ts';
import {
  isMissing,
  type Known,
  type LiveCounter,
  type LiveLook,
  type LiveLooks,
  liveCounters,
} from './live-types.ts';

/** What happened at a port. */
export type ChangeKind =
  | 'first'
  | 'up'
  | 'down'
  /** The link went and came back, or came and went, between two looks. */
  | 'blink'
  /** Speed, duplex or negotiation, of a link that stayed. */
  | 'line'
  | 'partner'
  | 'mtu'
  | 'admin'
  | 'errors'
  | 'errors-over'
  /** It is not told any more whether there is a link. */
  | 'unknown'
  /** The port is not there, or tells nothing. */
  | 'gone'
  | 'there'
  | 'flapping'
  | 'settled';

/** One change of one port. */
export interface PortChange {
  readonly kind: ChangeKind;
  readonly atMs: number;
  /** What the port is now. */
  readonly look: LiveLook | Gap;
  /** What it was; absent where nothing was known. */
  readonly was?: LiveLook;
  /** `blink`: how often, at least once. `flapping`, `settled`: changes of the link. */
  readonly times?: number;
  /** `blink`: the node counts only the last one. */
  readonly atLeast?: true;
  /** `flapping`, `settled`: how long, in seconds. */
  readonly seconds?: number;
  /** `errors`: frames with errors in a second. */
  readonly perSecond?: number;
}

/** Frames with errors since the look before, or why that is not known. */
export type ErrorRates = Readonly<Record<LiveCounter, Known<Moved>>>;

/** All that is remembered of one port from look to look. */
export interface PortState {
  /** What it told last; absent: nothing yet. */
  readonly looks?: LiveLooks;
  readonly look?: LiveLook | Gap;
  /** What it told last while it was there. */
  readonly known?: LiveLook;
  readonly rates?: ErrorRates;
  /** When something changed last; absent: nothing did. */
  readonly changedAtMs?: number;
  /** Changes of the link so far, those between two looks too. */
  readonly linkChanges: number;
  /** Frames with errors so far, as far as that is known. */
  readonly errors: number;
  readonly erring?: { readonly toldPerSecond: number; readonly lastAtMs: number } | undefined;
  readonly folding: Folding;
}

/** A port of which nothing is known. */
export const freshPort: PortState = { linkChanges: 0, errors: 0, folding: noFolding };

/** The state after one more look, and what there is to tell. */
export interface Step {
  readonly state: PortState;
  readonly changes: readonly PortChange[];
}

/** Seconds without errors after which they are over. */
const quietSeconds = 3;
/** Errors are told again once there are this many times more of them. */
const worseTimes = 10;

/** Takes one look of one port. Pure: the time is that of the looks. */
export function nextLook(state: PortState, looks: LiveLooks, look: LiveLook | Gap): Step {
  const atMs = looks.atMs;
  if (isMissing(look)) return missingStep(state, looks, look);
  const before = state.known;
  const rates = before === undefined ? undefined : ratesOf(state, looks, look);
  const links = before === undefined ? [] : linkChanges(before, look, { looks, state });
  const others = before === undefined ? [] : otherChanges(before, look, atMs);
  const back = state.look !== undefined && isMissing(state.look);
  const first: readonly PortChange[] =
    state.look === undefined
      ? [{ kind: 'first', atMs, look }]
      : back
        ? [{ kind: 'there', atMs, look, ...was(before) }]
        : [];
  const folded = foldLinkEvents(state.folding, back ? [] : links, { atMs, look });
  const errors = errorChanges(state, rates, { atMs, look });
  const changes = [...first, ...folded.changes, ...(back ? [] : others), ...errors.changes];
  const moved = changes.length > 0 || links.length > 0;
  return {
    changes,
    state: {
      ...state,
      looks,
      look,
      known: remember(before, look),
      ...(rates === undefined ? {} : { rates }),
      ...(moved && state.look !== undefined ? { changedAtMs: atMs } : {}),
      linkChanges: state.linkChanges + eventsOf(links),
      errors: state.errors + errors.more,
      folding: folded.folding,
      ...errors.erring,
    },
  };
}

function missingStep(state: PortState, looks: LiveLooks, look: Gap): Step {
  const { atMs } = looks;
  const told = state.look !== undefined && isMissing(state.look);
  const { rates: _, ...rest } = state;
  const kind = state.look === undefined ? 'first' : 'gone';
  return {
    changes: told ? [] : [{ kind, atMs, look, ...was(state.known) }],
    state: { ...rest, looks, look, ...(kind === 'gone' && !told ? { changedAtMs: atMs } : {}) },
  };
}

function was(known: LiveLook | undefined): Pick<PortChange, 'was'> {
  return known === undefined ? {} : { was: known };
}

/**
 * What is to be compared with next time. A link that is not told for a moment is compared with what
 * it was before; what means nothing while it is down is forgotten with it.
 */
function remember(before: LiveLook | undefined, now: LiveLook): LiveLook {
  if (before === undefined || now.up.gap === undefined) return now;
  return { ...now, up: before.up };
}

function ratesOf(state: PortState, looks: LiveLooks, look: LiveLook): ErrorRates | undefined {
  const { looks: then, look: last } = state;
  if (then === undefined || last === undefined || isMissing(last)) return undefined;
  const between = betweenLooks({ looks: then, look: last }, { looks, look });
  if (between === undefined) return undefined;
  const of = (name: LiveCounter) => movedBy(last.counters[name], look.counters[name], between);
  const [rx, tx, crc] = liveCounters;
  return { [rx]: of(rx), [tx]: of(tx), [crc]: of(crc) } as ErrorRates;
}

/** Frames with errors in a second, both ways; undefined where neither way is known. */
export function errorsPerSecond(rates: ErrorRates | undefined): number | undefined {
  const known = [rates?.rxErrors.value, rates?.txErrors.value].filter((each) => each !== undefined);
  if (known.length === 0) return undefined;
  return known.reduce((sum, { by, seconds }) => sum + by / seconds, 0);
}

function linkChanges(
  before: LiveLook,
  now: LiveLook,
  { looks, state }: { readonly looks: LiveLooks; readonly state: PortState },
): readonly PortChange[] {
  const change = { atMs: looks.atMs, look: now, was: before };
  if (now.up.value === undefined) {
    const told = state.look !== undefined && !isMissing(state.look) && state.look.up.gap;
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

function otherChanges(before: LiveLook, now: LiveLook, atMs: number): readonly PortChange[] {
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
function eventsOf(changes: readonly PortChange[]): number {
  const weights: Partial<Record<ChangeKind, number>> = { up: 1, down: 1, blink: 2 };
  return changes.reduce((sum, { kind, times = 1 }) => sum + (weights[kind] ?? 0) * times, 0);
}

function errorChanges(
  { erring }: PortState,
  rates: ErrorRates | undefined,
  { atMs, look }: { readonly atMs: number; readonly look: LiveLook },
) {
  const perSecond = errorsPerSecond(rates);
  const kept = erring === undefined ? {} : { erring };
  const known = [rates?.rxErrors.value, rates?.txErrors.value];
  const more = known.reduce((sum, moved) => sum + (moved?.by ?? 0), 0);
  if (perSecond === undefined) return { changes: [], erring: kept, more };
  if (perSecond > 0) {
    const told = erring?.toldPerSecond ?? 0;
    const worse = told === 0 || perSecond >= told * worseTimes;
    return {
      changes: worse ? [{ kind: 'errors' as const, atMs, look, perSecond }] : [],
      erring: { erring: { toldPerSecond: worse ? perSecond : told, lastAtMs: atMs } },
      more,
    };
  }
  if (erring === undefined || atMs - erring.lastAtMs < quietSeconds * 1000) {
    return { changes: [], erring: kept, more };
  }
  return {
    changes: [{ kind: 'errors-over' as const, atMs, look }],
    erring: { erring: undefined },
    more,
  };
}
