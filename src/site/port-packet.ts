import { standardPacketBytes, vlanTagBytes } from '../ethernet/frame-size.ts';
import { tunnelOverhead } from '../ethernet/tunnel-overhead.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import { unreadGap } from './clearance.ts';
import { isLayer } from './layers.ts';
import { portToRaise } from './port-to-raise.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import { type PortRef, portId } from './site-index.ts';

/** Enters what keeps a port that was read from the packet `bytes`; undefined: none is declared. */
export function putPacket(draft: Draft, ref: PortRef, bytes: number | undefined): void {
  const facts = ref.survey?.facts;
  if (facts === undefined) return;
  const wireless = facts.kind === undefined ? undefined : facts.kind === 'wireless';
  put(draft, 'wireless', wireless, unreadGap(ref, 'kind'));
  if (facts.mtuConfiguredBytes !== undefined && facts.mtuBytes !== undefined)
    put(draft, 'mtuAsConfigured', facts.mtuBytes === facts.mtuConfiguredBytes);
  if (ref.node.forwards) putSwitch(draft, ref, { facts, bytes });
  else putHost(draft, ref, { facts, bytes });
}

interface Wanted {
  readonly facts: PortReadFacts;
  readonly bytes: number | undefined;
}

function putSwitch(draft: Draft, ref: PortRef, { facts, bytes }: Wanted): void {
  putAggregate(draft, ref, facts);
  if (bytes === undefined) return;
  put(draft, 'portToRaise', ref.id);
  const { speedMbps, operUp } = facts;
  if (ref.ends.length === 0 || bytes <= standardPacketBytes) return;
  if (speedMbps !== undefined && operUp === true) put(draft, 'speedTakesLarge', speedMbps > 100);
}

/** What an aggregate of a switch says goes before what its members say, or the reverse. */
function putAggregate(draft: Draft, { node, name }: PortRef, { mtuBytes }: PortReadFacts): void {
  const above = (node.uppers.get(name) ?? []).map((upper) => node.ports.get(upper)?.facts);
  const size = above.find((each) => each?.kind === 'bond')?.mtuBytes;
  if (size === undefined) return;
  put(draft, 'mtuOfAggregateBytes', size);
  if (mtuBytes !== undefined) put(draft, 'mtuAsAggregate', mtuBytes === size);
}

function putHost(draft: Draft, ref: PortRef, wanted: Wanted): void {
  const { facts, bytes } = wanted;
  putParent(draft, ref, wanted);
  if (bytes === undefined) return;
  put(draft, 'portToRaise', portId(ref.node, portToRaise(ref.node, ref.name, bytes)));
  const { mtuMaxBytes, driverMtuBytes } = facts;
  if (mtuMaxBytes !== undefined) put(draft, 'canDeclaredMtu', mtuMaxBytes >= bytes);
  if (driverMtuBytes !== undefined) put(draft, 'driverAllowsMtu', driverMtuBytes >= bytes);
  if (facts.kind === 'bridge') putMembers(draft, ref, { facts, bytes });
}

function putMembers(draft: Draft, { node }: PortRef, { facts, bytes = 0 }: Wanted): void {
  const members = (facts.lowerPorts ?? []).filter((name) => !isLayer(node, name));
  if (members.length === 0) return;
  const size = (name: string) => node.ports.get(name)?.facts.mtuBytes;
  const small = members.filter((name) => (size(name) ?? bytes) < bytes);
  const unknown = members.find((name) => size(name) === undefined);
  // One that is known to be small is told, whatever the others are.
  const known = small.length > 0 || unknown === undefined;
  const words = `the MTU of ${portId(node, unknown ?? '')} is not known`;
  const ids = small.map((name) => portId(node, name));
  put(draft, 'smallMembers', known ? ids : undefined, gapOf('unreadable', words));
}

function putParent(draft: Draft, ref: PortRef, { facts, bytes }: Wanted): void {
  const [parent] = facts.lowerPorts ?? [];
  const below = parent === undefined ? undefined : ref.node.ports.get(parent)?.facts;
  if (facts.kind !== 'vlan' && facts.kind !== 'tunnel') return;
  if (parent !== undefined && below !== undefined)
    put(draft, 'parentPort', portId(ref.node, parent));
  if (facts.kind === 'vlan') putTagRoom(draft, facts, below ?? {});
  else putTunnel(draft, { facts, bytes }, below ?? {});
}

function putTagRoom(draft: Draft, { mtuBytes }: PortReadFacts, below: PortReadFacts): void {
  // Every Ethernet station carries 1500 bytes with a tag (IEEE 802.3-2022 3.2.7).
  if (mtuBytes === undefined || mtuBytes <= standardPacketBytes) return;
  const needed = mtuBytes + vlanTagBytes;
  const most = Math.max(below.mtuBytes ?? 0, below.mtuMaxBytes ?? 0);
  if (most >= needed) put(draft, 'tagHasRoom', true);
  else if (below.mtuMaxBytes !== undefined) put(draft, 'tagHasRoom', false);
}

function putTunnel(draft: Draft, { facts, bytes }: Wanted, below: PortReadFacts): void {
  const overhead = tunnelOverhead(facts.driver);
  if (overhead === undefined) return;
  put(draft, 'tunnelOverheadBytes', overhead);
  if (bytes === undefined) return;
  put(draft, 'tunnelNeedsBytes', bytes + overhead);
  const words = 'the MTU of the port that it stands on is not known';
  put(draft, 'underlayMtuBytes', below.mtuBytes, gapOf('unreadable', words));
}
