import { cleanText } from '../../facts/clean-text.ts';
import type { Gap, GapReason } from '../../facts/gap.ts';
import type { PortReadFacts } from '../../facts/port-facts.ts';

/** A value with the command or file that it came from. */
export interface Found<T> {
  readonly value: T;
  readonly source: string;
}

/** What became of one fact; undefined where it was never to be expected. */
export type Settled<T> = Found<T> | Gap | undefined;

/** What became of each fact of one port. */
export type PortDraft = {
  readonly [K in keyof PortReadFacts]-?: Settled<NonNullable<PortReadFacts[K]>>;
};

/** A value that was read, with its source. */
export function found<T>(value: T, source: string): Found<T> {
  return { value, source };
}

/** A gap with the node's own words, cleaned. */
export function gap(reason: GapReason, words: string): Gap {
  return { reason, words: cleanText(words) };
}

/** The value where there is one, else the gap. */
export function foundOr<T>(
  value: T | undefined,
  source: string,
  otherwise: Settled<T>,
): Settled<T> {
  return value === undefined ? otherwise : { value, source };
}

/** Cleaned text of a device; undefined where nothing is left of it. */
export function cleaned(text: string | undefined): string | undefined {
  const clean = text === undefined ? '' : cleanText(text);
  return clean === '' ? undefined : clean;
}
