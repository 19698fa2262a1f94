import type { Gap } from '../facts/gap.ts';
import { eventsOf, linkChanges, otherChanges } from './live-differences.ts';
import { type Erring, type ErrorRates, errorChanges, ratesOf } from './live-errors.ts';
import { type Folding, foldLinkEvents, noFolding } from './live-fold.ts';
import { isMissing, type LiveLook, type LiveLooks, type PortChange } from './live-types.ts';

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
  readonly erring?: Erring | undefined;
  readonly folding: Folding;
}

/** A port of which nothing is known. */
export const freshPort: PortState = { linkChanges: 0, errors: 0, folding: noFolding };

/** The state after one more look, and what there is to tell. */
export interface Step {
  readonly state: PortState;
  readonly changes: readonly PortChange[];
}

/** Takes one look of one port. Pure: the time is that of the looks. */
export function nextLook(state: PortState, looks: LiveLooks, look: LiveLook | Gap): Step {
  const atMs = looks.atMs;
  if (isMissing(look)) return missingStep(state, looks, look);
  const before = state.known;
  const rates = before === undefined ? undefined : ratesOf(state, looks, look);
  const links = before === undefined ? [] : linkChanges(before, look, { atMs, last: state.look });
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
