import { unsafeCharacters } from './clean-text.ts';

/** The only door for JSON: what comes out is not trusted until a schema or a check has seen it. */
export function parseJson(text: string): unknown {
  return JSON.parse(text);
}

/**
 * JSON with the keys of every object sorted, two spaces of indent and a final newline: equal
 * values give equal bytes. What could move a cursor or hide on a terminal is escaped (RFC 8259
 * section 7), also where the standard does not ask for it; the values stay what they are.
 */
export function stableJson(value: unknown): string {
  const text = JSON.stringify(sorted(value), null, 2);
  return `${text.replace(unsafeCharacters, (found) => (found === '\n' ? found : escaped(found)))}\n`;
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
  const entries = Object.entries(value).filter(([, item]) => item !== undefined);
  entries.sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, item]) => [key, sorted(item)]));
}
