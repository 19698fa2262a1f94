import { addressesMax } from './ip-text.ts';
import { type JsonObject, jsonObjects, numberOf, objectsOf, textOf } from './json-values.ts';
import { isLiteralAddress } from './literal.ts';

/**
 * Reads `ip -j addr`: addresses with prefix length by interface name, link-local left out.
 * Undefined where it is no JSON list.
 */
export function parseIpAddrJson(
  output: string,
): ReadonlyMap<string, readonly string[]> | undefined {
  const items = jsonObjects(output);
  if (items === undefined) return undefined;
  const byName = new Map<string, readonly string[]>();
  for (const item of items) {
    const name = textOf(item['ifname']);
    if (name !== undefined) {
      byName.set(
        name,
        objectsOf(item['addr_info'])
          .slice(0, addressesMax)
          .flatMap((entry) => addressOf(entry) ?? []),
      );
    }
  }
  return byName;
}

function addressOf(entry: JsonObject): string | undefined {
  const local = textOf(entry['local']);
  const length = numberOf(entry['prefixlen']);
  if (local === undefined || length === undefined || length > 128) return undefined;
  if (entry['scope'] === 'link' || !isLiteralAddress(local)) return undefined;
  return `${local}/${length}`;
}
