import { z } from 'zod';
import { cleanText } from '../facts/clean-text.ts';
import { listItemsMax } from './limits.ts';

/**
 * Message of a check in a schema: `must be ...; write ...`. The key at fault is put before it and
 * the text seen between its halves. It never quotes what the operator wrote.
 */
export type CheckMessage = `${string}; ${string}`;

/** Text of one line without control or invisible characters, 1..`lengthMax` UTF-16 units. */
export function plainText(about: string, lengthMax = 128) {
  return z.string().min(1).max(lengthMax).check(isPlain).describe(about);
}

function isPlain({ value, issues }: z.core.ParsePayload<string>): void {
  if (cleanText(value, value.length) === value) return;
  const message: CheckMessage =
    'has control or invisible characters, or blanks at an end or in a row; write one line of plain text';
  issues.push({ code: 'custom', input: value, message });
}

/** How deep below its map a check of several keys points; tells it from a check of one value. */
export const togetherParam = 'below';

/** A fault in how several keys of one map go together, told at `path` below that map. */
export function together(
  issues: z.core.$ZodRawIssue[],
  path: PropertyKey[],
  message: CheckMessage,
): void {
  const params = { [togetherParam]: path.length };
  issues.push({ code: 'custom', path, message, params, input: undefined });
}

/** Text with a unit, such as `10G`: a bare number is told to have one. */
export function unitText(about: string, pattern: RegExp, message: CheckMessage) {
  const error = ({ input }: { readonly input?: unknown }) =>
    typeof input === 'number' ? message : undefined;
  return z.string({ error }).regex(pattern, { error: message }).describe(about);
}

/** Text that a pattern accepts. */
export function patternText(about: string, pattern: RegExp, message: CheckMessage) {
  return z.string().regex(pattern, { error: message }).describe(about);
}

/** Whole number from `min` to `max`. */
export function wholeNumber(about: string, min: number, max: number) {
  return z.int().min(min).max(max).describe(about);
}

/** Text that `accepts`, beyond what a pattern can say. */
export function checkedText(
  about: string,
  accepts: (text: string) => boolean,
  message: CheckMessage,
) {
  return z.string().refine(accepts, { error: message }).describe(about);
}

/** List of 1..`listItemsMax` values, none of them twice. */
export function uniqueList<T extends z.ZodType>(item: T, about: string) {
  return z
    .array(item)
    .min(1)
    .max(listItemsMax)
    .check(isUnique)
    .meta({ uniqueItems: true })
    .describe(about);
}

function isUnique({ value, issues }: z.core.ParsePayload<unknown[]>): void {
  const seen = new Set<unknown>();
  value.forEach((item, i) => {
    const message: CheckMessage = 'is there twice; remove one';
    if (seen.has(item)) issues.push({ code: 'custom', path: [i], message, input: item });
    seen.add(item);
  });
}

/** One value, or a list of 1..`listItemsMax` of them, none twice. */
export function oneOrMore<T extends z.ZodType>(item: T, about: string) {
  return z.union([item, uniqueList(item, about)]).describe(about);
}

/** The list that a value written by `oneOrMore` stands for. */
export function listOf<T>(value: T | readonly T[] | undefined): readonly T[] {
  if (value === undefined) return [];
  return isList(value) ? value : [value];
}

function isList<T>(value: T | readonly T[]): value is readonly T[] {
  return Array.isArray(value);
}

/** Name of a node, segment, path or access. No colon: that parts a node from its port. */
export const nameText = patternText(
  'Name: letters, digits, dot, underscore and hyphen, up to 64',
  /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/,
  'must be a name; write letters, digits, dot, underscore and hyphen, at most 64, no blank or colon',
);

/** Name of a secret, never the secret. */
export const secretName = patternText(
  'Name of the secret, never the secret itself: looked up in the environment, then in a secrets file, then asked for',
  /^[A-Z][A-Z0-9_]{0,63}$/,
  'must be the name of a secret, not the secret; write a name such as SALTMARSH_AUTH and keep the secret outside this file',
);
