import { addressesMax } from './ip-text.ts';
import { type JsonObject, jsonObjects, numberOf, objectsOf, textOf } from './json-values.ts';
import { isLiteralAddress } from './literal.ts';

/**
 * Reads `ip -j addr`: addresses with prefix length by interface name, link-local left out;
 * undefined for an interface of which one cannot be read. Undefined where it is no JSON list.
 */
export function parseIpAddrJson(
  output: string,
): ReadonlyMap<string, readonly string[] | undefined> | undefined {
  const items = jsonObjects(output);
  if (items === undefined) return undefined;
  const byName = new Map<string, readonly string[] | undefined>();
  for (const item of items) {
    const name = textOf(item['ifname']);
    if (name === undefined) continue;
    const entries = objectsOf(item['addr_info']).filter(({ scope }) => scope !== 'link');
    const addresses = entries.slice(0, addressesMax).map(addressOf);
    const known = addresses.filter((address) => address !== undefined);
    byName.set(name, known.length < addresses.length ? undefined : known);
  }
  return byName;
}

function addressOf(entry: JsonObject): string | undefined {
  const local = textOf(entry['local']);
  const length = numberOf(entry['prefixlen']);
  if (local === undefined || length === undefined || length > 128) return undefined;
  return isLiteralAddress(local) ? `${local}/${length}` : undefined;
}
