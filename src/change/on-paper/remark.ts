import type { ChangeRemark } from '../types.ts';

/** What cannot be as it is declared. */
export function impossible(on: string, what: string, remedy: string): ChangeRemark {
  return { kind: 'impossible', on, what, remedy };
}

/** What the intent does not tell. */
export function unknown(on: string, what: string, remedy: string): ChangeRemark {
  return { kind: 'unknown', on, what, remedy };
}

/** What may well be so and is worth knowing. */
export function caution(on: string, what: string, remedy?: string): ChangeRemark {
  return { kind: 'caution', on, what, ...(remedy === undefined ? {} : { remedy }) };
}

/** `a`, `a and b`, `a, b and c`. */
export function listWords(names: readonly string[]): string {
  const last = names.at(-1) ?? '';
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`;
}
