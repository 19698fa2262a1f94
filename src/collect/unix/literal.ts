import { isIP } from 'node:net';

const marker = /^[A-Za-z0-9_.:-]{1,64}$/;
const address = /^[0-9A-Fa-f.:]{2,45}$/;

/** The marker, if it may stand in a script; throws otherwise, which is a bug of the caller. */
export function checkedMarker(text: string): string {
  if (!marker.test(text)) throw new Error('a marker holds something else than letters and digits');
  return text;
}

/** True for a literal IPv4 or IPv6 address without zone: the only addresses put into a script. */
export function isLiteralAddress(text: string): boolean {
  return address.test(text) && isIP(text) !== 0;
}

/** The address, if it may stand in a script; throws otherwise, which is a bug of the caller. */
export function checkedAddress(text: string): string {
  if (!isLiteralAddress(text)) throw new Error('an address to ask for is no literal IP address');
  return text;
}
