import type { Trouble } from '../facts/trouble.ts';
import { isMissing, type Known, type LiveLook, type PortChange } from '../probe/live-types.ts';
import { clean } from './layout.ts';
import { changeWords, type DeclaredLine } from './live-words.ts';

/** A change of a port as one line of JSON: what, what the port is now, what is not known and why. */
export function changeJson(id: string, change: PortChange, declared: DeclaredLine): string {
  const { kind, look, atMs, times, seconds, perSecond } = change;
  return JSON.stringify({
    at: new Date(atMs).toISOString(),
    of: clean(id),
    change: kind,
    words: changeWords(change, declared),
    ...(isMissing(look) ? { absent: { port: look.reason } } : factsOf(look)),
    ...(times === undefined ? {} : { times }),
    ...(seconds === undefined ? {} : { seconds }),
    ...(perSecond === undefined ? {} : { errorsPerSecond: perSecond }),
    declared,
  });
}

/** What happened with a node as one line of JSON. */
export function nodeJson(
  node: string,
  event: {
    readonly atMs: number;
    readonly change: 'lost' | 'back' | 'restarted';
    readonly words: string;
    readonly trouble?: Trouble;
  },
): string {
  const { atMs, change, words, trouble } = event;
  return JSON.stringify({
    at: new Date(atMs).toISOString(),
    of: clean(node),
    change,
    words,
    ...(trouble === undefined ? {} : { trouble: trouble.kind }),
  });
}

function factsOf(look: LiveLook) {
  const { adminUp, up, speedMbps, duplex, autoNegotiation, partnerModes, mtuBytes } = look;
  const known: Readonly<Record<string, Known<unknown>>> = {
    adminUp,
    operUp: up,
    speedMbps,
    duplex,
    autoNegotiation,
    partnerModes,
    mtuBytes,
  };
  const entries = Object.entries(known);
  const now = entries.flatMap(([name, { value }]) => (value === undefined ? [] : [[name, value]]));
  const absent = entries.flatMap(([name, { gap }]) =>
    gap === undefined ? [] : [[name, gap.reason]],
  );
  return {
    now: Object.fromEntries(now),
    ...(absent.length === 0 ? {} : { absent: Object.fromEntries(absent) }),
    ...(look.virtual === true ? { virtual: true } : {}),
  };
}
