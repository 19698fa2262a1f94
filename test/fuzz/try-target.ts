import { unsafeCharacters } from '../../src/facts/clean-text.ts';
import { type Chance, chanceFrom } from './mutate.ts';

/** Something that reads what others wrote. */
export interface FuzzTarget {
  readonly name: string;
  /** An input of chance, and what is made of it. Throws where the reader does, or where it lies. */
  readonly tryOne: (chance: Chance) => Tried | Promise<Tried>;
}

/** What a reader made of one input. */
export interface Tried {
  /** For a message. */
  readonly input: string;
  /** All that it gives onwards; no text in it may hold what a terminal obeys. */
  readonly gave: unknown;
}

/** One input that a reader did not stand. */
export interface Failure {
  readonly target: string;
  /** Gives this very input again. */
  readonly seed: number;
  readonly why: string;
  readonly input: string;
}

/** Longest that one input may keep the processor, in milliseconds: the machine may have other work. */
const inputMsMax = 3000;
/** Octets that may be given onwards for an input, beside those of the input eight times over. */
const outputBytesMax = 1024 * 1024;

/** Tries `count` inputs, each of a seed of its own; gives the first that fails. */
export async function tryTarget(
  target: FuzzTarget,
  { seed, count }: { readonly seed: number; readonly count: number },
): Promise<Failure | undefined> {
  const properties = Object.getOwnPropertyNames(Object.prototype).length;
  for (let nth = 0; nth < count; nth += 1) {
    const own = (seed + nth) >>> 0;
    const failure = await tryInput(target, own);
    if (failure !== undefined) return failure;
    if (Object.getOwnPropertyNames(Object.prototype).length !== properties) {
      return { target: target.name, seed: own, why: 'it changed the prototype of all', input: '' };
    }
  }
  return undefined;
}

async function tryInput(target: FuzzTarget, seed: number): Promise<Failure | undefined> {
  const before = process.cpuUsage();
  const failed = (why: string, input = '') => ({ target: target.name, seed, why, input });
  let tried: Tried;
  try {
    tried = await target.tryOne(chanceFrom(seed));
  } catch (error) {
    return failed(error instanceof Error ? (error.stack ?? error.message) : String(error));
  }
  const { user, system } = process.cpuUsage(before);
  const tookMs = (user + system) / 1000;
  if (tookMs > inputMsMax) return failed(`it took ${Math.round(tookMs)} ms`, tried.input);
  const unsafe = unsafeText(tried.gave);
  if (unsafe !== undefined) return failed(`it gave ${JSON.stringify(unsafe)}`, tried.input);
  const bytes = JSON.stringify(tried.gave, bigAsText)?.length ?? 0;
  if (bytes > outputBytesMax + 8 * tried.input.length) {
    return failed(`it gave ${bytes} bytes`, tried.input);
  }
  return undefined;
}

/** JSON has no form for counters of 64 bits. */
function bigAsText(_: string, value: unknown): unknown {
  return typeof value === 'bigint' ? String(value) : value;
}

/** Most texts, and quicker to tell. */
const plainAscii = /^[ -~]*$/;

/** A text somewhere in a value that a terminal would obey; undefined: none. */
export function unsafeText(value: unknown): string | undefined {
  if (typeof value === 'string')
    return plainAscii.test(value) || value.search(unsafeCharacters) < 0 ? undefined : value;
  if (typeof value !== 'object' || value === null) return undefined;
  const parts: Iterable<unknown> =
    value instanceof Map ? [...value].flat() : value instanceof Set ? value : Object.values(value);
  for (const part of [...Object.keys(value), ...parts]) {
    const found = unsafeText(part);
    if (found !== undefined) return found;
  }
  return undefined;
}
