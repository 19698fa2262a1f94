const ipv4 = 20;
const udp = 8;
const ethernet = 14;

/**
 * Bytes that a tunnel puts before each packet at least, over IPv4 without options, by the name of
 * its driver as `ethtool -i` prints it. An inner Ethernet header counts where the tunnel carries
 * frames.
 */
const overheadBytes: Readonly<Record<string, number>> = {
  // RFC 7348: outer IP, UDP and 8 of its own, and the inner frame.
  vxlan: ipv4 + udp + 8 + ethernet,
  // RFC 8926: as VXLAN, and more with options.
  geneve: ipv4 + udp + 8 + ethernet,
  // RFC 2784: 4 of its own, more with a key or checksum.
  gretap: ipv4 + 4 + ethernet,
  gre: ipv4 + 4,
  ip_gre: ipv4 + 4,
  // RFC 2003 and RFC 4213.
  ipip: ipv4,
  sit: ipv4,
  // 16 of header and 16 of authentication (common practice: 60 over IPv4).
  wireguard: ipv4 + udp + 32,
};

/** Bytes that a tunnel adds, at least; undefined: no tunnel of a known kind. */
export function tunnelOverhead(driver: string | undefined): number | undefined {
  return driver !== undefined && Object.hasOwn(overheadBytes, driver)
    ? overheadBytes[driver]
    : undefined;
}
