import type { PortReadFacts } from '../facts/port-facts.ts';

// Drivers without hardware of their own, whose speed and duplex are invented (common practice).
const inventedSpeed: ReadonlySet<string> = new Set([
  'veth',
  'tun',
  'tap',
  'dummy',
  'ifb',
  'bridge',
  'macvlan',
  'virtio_net',
  'vmxnet3',
  'xen_netfront',
  'hv_netvsc',
]);

/** Whether a port has no hardware of its own; undefined when its kind was not read. */
export function isVirtual(facts: PortReadFacts): boolean | undefined {
  if (facts.driver !== undefined && inventedSpeed.has(facts.driver)) return true;
  if (facts.kind === undefined) return undefined;
  return facts.kind !== 'physical' && facts.kind !== 'wireless';
}

/** A port with a connector or antenna, for all that was read. */
export function isPhysical(facts: PortReadFacts): boolean {
  return isVirtual(facts) === false;
}

/** The kind of port by which the intent tells what an MTU counts. */
export function accountingKind(facts: PortReadFacts): string {
  if (facts.vlanId !== undefined) return 'vlan';
  const { kind } = facts;
  return kind === 'vlan' || kind === 'bridge' || kind === 'bond' ? kind : 'port';
}
