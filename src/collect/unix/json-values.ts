import { parseJson } from '../../facts/json.ts';

/** An object of JSON whose members are not trusted yet. */
export type JsonObject = Readonly<Record<string, unknown>>;

/** Objects that one list of a command may hold. */
const itemsMax = 20_000;

/**
 * The objects of a JSON list that a command printed; undefined where it is none. Empty objects,
 * which `ip` prints for links that it filters out, are left out.
 */
export function jsonObjects(text: string): readonly JsonObject[] | undefined {
  let value: unknown;
  try {
    value = parseJson(repaired(text));
  } catch {
    return undefined;
  }
  return Array.isArray(value) ? objectsOf(value) : undefined;
}

/**
 * `ip` prints control characters of an alias as they are, and in some releases escapes an
 * apostrophe, neither of which JSON allows.
 */
function repaired(text: string): string {
  return text
    .replace(/[\u0000-\u001f]/g, ' ')
    .replace(/\\(.)/gs, (pair, next: string) => (next === "'" ? "'" : pair));
}

/** The objects among the items of a list; none where it is no list. */
export function objectsOf(value: unknown): readonly JsonObject[] {
  if (!Array.isArray(value)) return [];
  return value.slice(0, itemsMax).filter(isObject);
}

/** The object in `value`; undefined where it is none. */
export function objectOf(value: unknown): JsonObject | undefined {
  return isObject(value) ? value : undefined;
}

function isObject(value: unknown): value is JsonObject {
  return (
    typeof value === 'object' &&
    value !== null &&
    !Array.isArray(value) &&
    Object.keys(value).length > 0
  );
}

/** The text in `value`; undefined where it is none. */
export function textOf(value: unknown): string | undefined {
  return typeof value === 'string' && value !== '' ? value : undefined;
}

/** A whole number of 0 or more. */
export function numberOf(value: unknown): number | undefined {
  return typeof value === 'number' && Number.isSafeInteger(value) && value >= 0 ? value : undefined;
}
