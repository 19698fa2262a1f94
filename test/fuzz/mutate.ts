/** Numbers of chance that can be had again: 0 or more and less than 1. */
export type Chance = () => number;

/** A course of chance from a seed (a generator by Bob Jenkins's family of small ones, 32 bits). */
export function chanceFrom(seed: number): Chance {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A whole number below `bound`. */
export function below(chance: Chance, bound: number): number {
  return Math.floor(chance() * bound);
}

/** One of a list that is not empty. */
export function oneOf<T>(chance: Chance, list: readonly T[]): T {
  return list[below(chance, list.length)] as T;
}

/** Longest input that is tried, in UTF-16 units or octets. */
export const inputLengthMax = 64 * 1024;

/** Pieces that are worth a try anywhere: controls, names of the language, ends of ranges. */
const nasty: readonly string[] = [
  ...['\u0000', '\u001b[31m', '\r', '\n', '\t', '\u202e', '\u200b', '\ud800', '\u2028', '\ufeff'],
  ...['__proto__', 'constructor', 'prototype', 'toString', '{"__proto__":{"polluted":1}}'],
  ...['-1', '0', '4294967296', '9007199254740993', '1e999', 'NaN', '0x10', '99999999999999999999'],
  ...['[', ']', '{', '}', '"', "'", ':', ',', ' ', '<script>', '$(id)', '`id`', '../../etc/passwd'],
  'a'.repeat(5000),
  '('.repeat(300),
  '[1,'.repeat(200),
];

/** Changes a text at one to six places, or joins it with another; `pieces` are its own words. */
export function mutateText(chance: Chance, seeds: readonly string[], pieces: readonly string[]) {
  let text = oneOf(chance, seeds);
  for (let left = 1 + below(chance, 6); left > 0; left -= 1)
    text = step(chance, text, seeds, pieces);
  return text.slice(0, inputLengthMax);
}

function step(
  chance: Chance,
  text: string,
  seeds: readonly string[],
  pieces: readonly string[],
): string {
  const at = below(chance, text.length + 1);
  const length = below(chance, chance() < 0.8 ? 8 : text.length + 1);
  const [before, after] = [text.slice(0, at), text.slice(at)];
  switch (below(chance, 7)) {
    case 0:
      return before + after.slice(length);
    case 1:
      return before + oneOf(chance, nasty) + after.slice(length);
    case 2:
      return before + oneOf(chance, pieces) + after.slice(length);
    case 3:
      return before + after.slice(0, length) + after;
    case 4:
      return before + String.fromCharCode(below(chance, 0x300)) + after.slice(1);
    case 5: {
      const other = oneOf(chance, seeds);
      return before + other.slice(below(chance, other.length + 1));
    }
    default:
      return text.slice(0, at);
  }
}

/** Octets of chance, of a length up to `max`. */
export function someOctets(chance: Chance, max: number): Buffer {
  return Buffer.from(Array.from({ length: below(chance, max + 1) }, () => below(chance, 256)));
}
