import { type JsonObject, jsonObjects, numberOf, objectsOf, textOf } from './json-values.ts';
import { textLines, wholeNumber } from './text.ts';
import { addVlans } from './vlan-ranges.ts';

/** The VLANs of one port of a bridge. */
export interface BridgeVlans {
  /** VLAN of frames that arrive without a tag; absent where they are thrown away. */
  readonly untaggedVlan?: number;
  readonly untagged: readonly number[];
  readonly tagged: readonly number[];
}

interface Open {
  untaggedVlan: number | undefined;
  readonly untagged: Set<number>;
  readonly tagged: Set<number>;
}

interface Row {
  readonly first: number | undefined;
  readonly last: number | undefined;
  readonly flags: string;
}

/**
 * Reads `bridge -j vlan show` by port; releases that do not know `-j` for it print text. Undefined
 * where no port is named, as in the JSON of releases before 4.20, which had another form.
 */
export function parseBridgeVlans(output: string): ReadonlyMap<string, BridgeVlans> | undefined {
  const ports = new Map<string, Open>();
  const items = jsonObjects(output);
  if (items === undefined) readText(output, ports);
  else for (const item of items) readItem(item, ports);
  if (ports.size === 0) return undefined;
  const inOrder = (vlans: ReadonlySet<number>) => [...vlans].sort((a, b) => a - b);
  return new Map(
    [...ports].map(([name, { untaggedVlan, untagged, tagged }]) => [
      name,
      {
        ...(untaggedVlan === undefined ? {} : { untaggedVlan }),
        untagged: inOrder(untagged),
        tagged: inOrder(tagged),
      },
    ]),
  );
}

function readItem(item: JsonObject, ports: Map<string, Open>): void {
  const name = textOf(item['ifname']);
  if (name === undefined) return;
  for (const vlan of objectsOf(item['vlans'])) {
    const first = numberOf(vlan['vlan']);
    const { flags } = vlan;
    add(ports, name, {
      first,
      last: numberOf(vlan['vlanEnd']) ?? first,
      flags: Array.isArray(flags) ? flags.join(' ') : '',
    });
  }
}

/** `eth0   1 PVID Egress Untagged`, and further VLANs of the same port on indented lines. */
function readText(output: string, ports: Map<string, Open>): void {
  let name: string | undefined;
  for (const line of textLines(output)) {
    const [, port, first, last, flags = ''] =
      /^(\S*)\s+(\d{1,4})(?:-(\d{1,4}))?((?: [A-Za-z]+)*)\s*$/.exec(line) ?? [];
    if (first === undefined) continue;
    if (port !== undefined && port !== '') name = port;
    if (name === undefined) continue;
    add(ports, name, { first: wholeNumber(first), last: wholeNumber(last ?? first), flags });
  }
}

function add(ports: Map<string, Open>, name: string, { first, last, flags }: Row): void {
  const open = ports.get(name) ?? {
    untaggedVlan: undefined,
    untagged: new Set(),
    tagged: new Set(),
  };
  ports.set(name, open);
  const untagged = /\bEgress Untagged\b/.test(flags);
  addVlans(untagged ? open.untagged : open.tagged, first, last);
  if (/\bPVID\b/.test(flags)) open.untaggedVlan = first;
}
