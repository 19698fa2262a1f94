import { isIP } from 'node:net';
import { standardPacketBytes } from '../ethernet/frame-size.ts';
import { mtuExtras } from '../ethernet/mtu-extras.ts';
import { type FitPlan, fitSizesMax, pingHeaderBytesV4, pingHeaderBytesV6 } from './fit-types.ts';

/** A size a little above the standard one: it tells jumbo from none with a packet that is no strain. */
const littleAboveBytes = 2000;
/** Every host takes a packet of this size (RFC 791, section 3.1: 576; RFC 8200, section 5: 1280). */
const floorBytes = { v4: 576, v6: 1280 } as const;
/** RFC 791: every link passes 68 bytes; the length field of IPv4 ends at 65535. */
const smallestBytes = 68;
const largestBytes = 65_535;

/**
 * The sizes for a declared packet: 1500, 2000 and the packet itself, and where that is lost the
 * sizes that would pass if something on the way counted more than the packet. Nothing larger than
 * the declared packet is sent.
 */
export function planFor(declaredBytes: number, toAddress: string): FitPlan {
  const small = [standardPacketBytes, littleAboveBytes].filter((size) => size < declaredBytes);
  const floor = floorFor(toAddress, Math.min(declaredBytes, ...small));
  const above = small.at(-1) ?? floor;
  const near = mtuExtras
    .map(({ bytes }) => declaredBytes - bytes)
    .filter((size) => size > above)
    .sort((a, b) => a - b);
  return { risingBytes: [...small, declaredBytes], nearBytes: near, floorBytes: floor };
}

/** The sizes that the operator gave, and no others but the floor. */
export function planOf(sizesBytes: readonly number[], toAddress: string): FitPlan {
  const rising = [...new Set(sizesBytes)].sort((a, b) => a - b);
  const floor = floorFor(toAddress, rising[0] ?? largestBytes);
  return { risingBytes: rising, nearBytes: [], floorBytes: floor };
}

function floorFor(toAddress: string, smallest: number): number {
  const floor = isIP(toAddress) === 6 ? floorBytes.v6 : floorBytes.v4;
  return Math.min(floor, smallest);
}

/** The largest size of a plan: the packet that is to pass. */
export function wantedBytes({ risingBytes }: FitPlan): number {
  return Math.max(...risingBytes);
}

/** What a ping's packet holds beside its payload, in bytes. */
export function pingHeaderBytes(address: string): number {
  return isIP(address) === 6 ? pingHeaderBytesV6 : pingHeaderBytesV4;
}

/** The plan as payloads of a ping; throws on what can be no packet size: a bug of the caller. */
export function payloadsOf(plan: FitPlan, toAddress: string): FitPlan {
  const { risingBytes, nearBytes, floorBytes: floor } = plan;
  if (risingBytes.length === 0 || risingBytes.length > fitSizesMax) {
    throw new Error(`a fit tries 1 to ${fitSizesMax} sizes`);
  }
  for (const size of [...risingBytes, ...nearBytes, floor]) {
    if (!Number.isInteger(size) || size < smallestBytes || size > largestBytes) {
      throw new Error('a packet size is no whole number from 68 to 65535');
    }
  }
  for (const sizes of [risingBytes, nearBytes]) {
    if (sizes.some((size, at) => size <= (sizes[at - 1] ?? 0))) {
      throw new Error('the sizes of a fit do not rise');
    }
  }
  const less = (size: number) => size - pingHeaderBytes(toAddress);
  return {
    risingBytes: risingBytes.map(less),
    nearBytes: nearBytes.map(less),
    floorBytes: less(floor),
  };
}
