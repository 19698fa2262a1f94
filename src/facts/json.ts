import { unsafeCharacters } from './clean-text.ts';

/** The only door for JSON: what comes out is not trusted until a schema or a check has seen it. */
export function parseJson(text: string): unknown {
  return JSON.parse(text);
}

/** Deepest place of a list that is made item by item, counted from the value itself. */
const largeDepthMax = 4;
/** From so many items on a list is made item by item. */
const largeItemsMin = 100;

/**
 * JSON with the keys of every object sorted, two spaces of indent and a final newline: equal
 * values give equal bytes. What could move a cursor or hide on a terminal is escaped (RFC 8259
 * section 7), also where the standard does not ask for it; the values stay what they are.
 */
export function stableJson(value: unknown): string {
  return `${indented(value, '')}\n`;
}

/**
 * The text of `stableJson` in pieces, for what one text of the engine may not hold: of a long list
 * one item a piece. A list may also be an iterable that makes its items as they are asked for.
 */
export function* stableJsonPieces(value: unknown): Iterable<string> {
  yield* jsonPieces(value, '', largeDepthMax);
  yield '\n';
}

function* jsonPieces(value: unknown, indent: string, depth: number): Iterable<string> {
  const inner = `${indent}  `;
  if (!isLarge(value, depth)) yield indented(value, indent);
  else if (isIterable(value)) {
    // Items of a long list are a piece each; a short one may hold a long one.
    const within = isLong(value) ? 0 : depth - 1;
    let before = '[';
    for (const item of value) {
      yield `${before}\n${inner}`;
      yield* jsonPieces(item ?? null, inner, within);
      before = ',';
    }
    yield before === '[' ? '[]' : `\n${indent}]`;
  } else {
    let before = '{';
    for (const [key, item] of Object.entries(keyed(value))) {
      yield `${before}\n${inner}${indented(key, inner)}: `;
      yield* jsonPieces(item, inner, depth - 1);
      before = ',';
    }
    yield `\n${indent}}`;
  }
}

/** Has a long list somewhere, and is a list or a map itself. */
function isLarge(value: unknown, depth: number): value is object {
  if (typeof value !== 'object' || value === null || depth === 0) return false;
  return isLong(value) || Object.values(value).some((item) => isLarge(item, depth - 1));
}

function isLong(value: object): boolean {
  return Array.isArray(value) ? value.length >= largeItemsMin : isIterable(value);
}

function isIterable(value: object): value is Iterable<unknown> {
  return Symbol.iterator in value;
}

/** A value as JSON whose lines begin at `indent`, but for the first. */
function indented(value: unknown, indent: string): string {
  const text = JSON.stringify(sorted(value), null, 2);
  return text.replace(unsafeCharacters, (found) =>
    found === '\n' ? `\n${indent}` : escaped(found),
  );
}

/** A value as one line of JSON Lines, as stable and as safe as `stableJson`. */
export function stableJsonLine(value: unknown): string {
  return `${JSON.stringify(sorted(value)).replace(unsafeCharacters, escaped)}\n`;
}

function escaped(character: string): string {
  const units = Array.from({ length: character.length }, (_, at) => character.charCodeAt(at));
  return units.map((unit) => `\\u${unit.toString(16).padStart(4, '0')}`).join('');
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(keyed(value)).map(([key, item]) => [key, sorted(item)]));
}

/** The same without what is undefined, its keys in order. */
function keyed(value: object): Readonly<Record<string, unknown>> {
  const entries = Object.entries(value).filter(([, item]) => item !== undefined);
  return Object.fromEntries(entries.sort(([a], [b]) => (a < b ? -1 : 1)));
}
