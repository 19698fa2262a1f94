import { parseJson } from '../../facts/json.ts';
import { type JsonObject, objectOf, objectsOf, textOf } from './json-values.ts';

/** One thing of a report of macOS: texts by key, less `-` and `_`, in lower case. Untrusted. */
export type ProfileItem = ReadonlyMap<string, string>;

const itemsMax = 1000;
const depthMax = 8;
const keysMax = 100;

/**
 * The items of `system_profiler -json TYPE`, those inside others too; undefined where it printed
 * no such report. The keys mix `-` and `_` by release, so both are left out.
 */
export function parseSystemProfile(
  output: string,
  type: string,
): readonly ProfileItem[] | undefined {
  let report: unknown;
  try {
    report = parseJson(output);
  } catch {
    return undefined;
  }
  const list = objectOf(report)?.[type];
  if (!Array.isArray(list)) return undefined;
  const items: ProfileItem[] = [];
  collect(objectsOf(list), items, depthMax);
  return items;
}

function collect(objects: readonly JsonObject[], items: ProfileItem[], depthLeft: number): void {
  for (const object of objects) {
    if (items.length >= itemsMax) return;
    items.push(itemOf(object));
    if (depthLeft === 0) continue;
    collect(objectsOf(object['_items']), items, depthLeft - 1);
    // Receptacles are objects inside their bus, each under a name of its own.
    collect(objectsOf(Object.values(object)), items, depthLeft - 1);
  }
}

function itemOf(object: JsonObject): ProfileItem {
  const texts = Object.entries(object).slice(0, keysMax);
  return new Map(
    texts.flatMap(([key, value]) => {
      const text = textOf(value);
      return text === undefined ? [] : [[key.replace(/[-_]/g, '').toLowerCase(), text] as const];
    }),
  );
}
