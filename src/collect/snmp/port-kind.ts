// Numbers of IANAifType-MIB. All Ethernet is 6 whatever its speed; the others are its old names.
const ethernetTypes: readonly number[] = [6, 7, 11, 62, 69, 117];
const kindsByType = new Map<number, string>([
  [24, 'loopback'],
  [53, 'virtual'],
  [71, 'wireless'],
  [131, 'tunnel'],
  [135, 'vlan'],
  [136, 'vlan'],
  [161, 'bond'],
  [209, 'bridge'],
]);
/** Kinds whose ports are built on others. */
export const layeredKinds: readonly (string | undefined)[] = ['vlan', 'bond', 'bridge'];

/**
 * Kind of a port by ifType and ifConnectorPresent (RFC 2863). Many agents do not report the
 * connector: an Ethernet port then counts as physical, since a port left out is never judged.
 */
export function portKind(ifType: number, connectorPresent: boolean | undefined): string {
  const known = kindsByType.get(ifType);
  if (known !== undefined) return known;
  if (ethernetTypes.includes(ifType)) return connectorPresent === false ? 'virtual' : 'physical';
  return connectorPresent === true ? 'physical' : 'virtual';
}
