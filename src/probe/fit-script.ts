import { isIP } from 'node:net';
import { checkedAddress, checkedMarker } from '../collect/unix/literal.ts';
import { scriptStart } from '../collect/unix/script-start.ts';
import {
  type FitRequest,
  fitSizesMax,
  packetsPerSize,
  pingHeaderBytesV4,
  pingHeaderBytesV6,
} from './fit-types.ts';

/** Every command that the fit's script can run. */
export const fitCommands = [
  { command: 'uname -s', on: 'all', reads: 'which system this is' },
  { command: 'ip route get ADDRESS', on: 'linux', reads: 'a path MTU that the host has learnt' },
  {
    command: `ping -n -M do -s BYTES -c ${packetsPerSize} -W 1 ADDRESS`,
    on: 'linux',
    reads: 'whether this size passes; sends that many packets',
  },
  {
    command: `ping -n -D -s BYTES -c ${packetsPerSize} -W 1000 ADDRESS`,
    on: 'macos',
    reads: 'whether this size passes; sends that many packets',
  },
  {
    command: `ping6 -n -D -s BYTES -c ${packetsPerSize} ADDRESS`,
    on: 'macos',
    reads: 'the same for IPv6',
  },
] as const;

// Larger sizes are not sent once one fails: some adapters have hung on a single large packet.
const body = `${scriptStart}linux() {
  run route ip route get "$A"
  for s in $S; do
    run "ping $s" ping -n -M do -s "$s" -c ${packetsPerSize} -W 1 "$A"
    [ "$r" = 0 ] || break
  done
}
macos() {
  for s in $S; do
    case $A in
      *:*) run "ping $s" ping6 -n -D -s "$s" -c ${packetsPerSize} "$A" ;;
      *) run "ping $s" ping -n -D -s "$s" -c ${packetsPerSize} -W 1000 "$A" ;;
    esac
    [ "$r" = 0 ] || break
  done
}
printf '\\n%s begin 1\\n' "$M"
run system uname -s
case $(uname -s </dev/null 2>/dev/null) in
  Linux) linux ;;
  Darwin) macos ;;
esac
printf '\\n%s end\\n' "$M"
exit 0
`;

/**
 * The script that pings with "don't fragment" set, at most `packetsPerSize` packets of each
 * size, smallest first, and stops at the first size that does not come back.
 *
 * @throws on a marker, address or size that may not stand in a script: a bug of the caller
 */
export function fitScript(parts: FitRequest & { readonly marker: string }): string {
  const marker = checkedMarker(parts.marker);
  const address = checkedAddress(parts.toAddress);
  const payloads = sortedSizes(parts.sizesBytes).map((size) => size - pingHeaderBytes(address));
  return `M='${marker}'; A='${address}'; S='${payloads.join(' ')}'\n${body}`;
}

/** What a ping's packet holds beside its payload, in bytes. */
export function pingHeaderBytes(address: string): number {
  return isIP(address) === 6 ? pingHeaderBytesV6 : pingHeaderBytesV4;
}

/** Sizes once each, ascending; throws on what can be no packet size. */
export function sortedSizes(sizesBytes: readonly number[]): readonly number[] {
  const sizes = [...new Set(sizesBytes)].sort((a, b) => a - b);
  if (sizes.length === 0 || sizes.length > fitSizesMax) {
    throw new Error(`a fit tries 1 to ${fitSizesMax} sizes`);
  }
  // RFC 791: every host takes 68 bytes; the length field of IPv4 ends at 65535.
  if (sizes.some((size) => !Number.isInteger(size) || size < 68 || size > 65_535)) {
    throw new Error('a packet size is no whole number from 68 to 65535');
  }
  return sizes;
}
