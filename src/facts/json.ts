/** The only door for JSON: what comes out is not trusted until a schema or a check has seen it. */
export function parseJson(text: string): unknown {
  return JSON.parse(text);
}

/**
 * JSON with the keys of every object sorted, two spaces of indent and a final newline: equal
 * values give equal bytes.
 */
export function stableJson(value: unknown): string {
  return `${JSON.stringify(sorted(value), null, 2)}\n`;
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== 'object') return value;
  const entries = Object.entries(value).filter(([, item]) => item !== undefined);
  entries.sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, item]) => [key, sorted(item)]));
}
