/** Octets of a PortList that are read: as many ports as a bridge can have, and more. */
const portListBytesMax = 8192;

/**
 * Ports of a PortList (RFC 4363): the first bit of the first octet is port 1. Undefined for one
 * that is longer than any bridge has ports.
 */
export function portsOfList(octets: Uint8Array): readonly number[] | undefined {
  if (octets.length > portListBytesMax) return undefined;
  const ports: number[] = [];
  octets.forEach((octet, i) => {
    for (let bit = 0; bit < 8; bit += 1) if (octet & (0x80 >> bit)) ports.push(i * 8 + bit + 1);
  });
  return ports;
}
