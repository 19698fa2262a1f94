import { standardPacketBytes, wireBytes } from '../ethernet/frame-size.ts';
import { goodputMbps, type HeaderStack, segmentBytes } from '../ethernet/goodput.ts';
import { ethernetSpeedsMbps } from '../intent/speed.ts';
import type { FigureGiven, LinkExplanation, LinkRole } from './explanation.ts';
import { ceilingsOf, fitsCeiling } from './figure-fit.ts';
import type { MeasuredFigure } from './measured-figure.ts';

/** Packets that networks are set to (common practice). */
export const usualPacketsBytes: readonly number[] = [standardPacketBytes, 9000];

/** Most members of an aggregate that a given rate is taken for. */
const membersMax = 8;

const stacks: readonly HeaderStack[] = [true, false].flatMap((timestamps) =>
  ([4, 6] as const).flatMap((ipVersion) =>
    [0, 1, 2].map((tags) => ({ ipVersion, timestamps, tags })),
  ),
);

/** Every rate and packet whose ceiling a figure fits, in no order. */
export function linkExplanations(figure: MeasuredFigure, given: FigureGiven): LinkExplanation[] {
  return pairsOf(given).flatMap(({ rateMbps, packetBytes }) => {
    const ceiling = (stack: HeaderStack) => goodputMbps(rateMbps, packetBytes, stack);
    const fitting = stacks.filter(
      (stack) => packetBytes > 60 && fitsCeiling(figure, ceiling(stack)),
    );
    const isGiven = (stack: HeaderStack) => sameStack(stack, given.stack);
    const stack = fitting.find(isGiven) ?? nearestStack(figure, fitting, ceiling);
    if (stack === undefined) return [];
    const expectedMbps = ceiling(stack);
    return [
      {
        kind: 'link' as const,
        role: roleOf({ rateMbps, packetBytes }, given),
        rateMbps,
        packetBytes,
        stack,
        alsoStacks: fitting.filter((each) => !sameStack(each, stack)),
        expectedMbps,
        offShare: figure.mbps / expectedMbps - 1,
        ...packetsThatFit(figure, rateMbps, stack),
      },
    ];
  });
}

interface Pair {
  readonly rateMbps: number;
  readonly packetBytes: number;
}

/** All rates and packets that are worth a try. */
export function pairsOf(given: FigureGiven): readonly Pair[] {
  const rates = new Set([
    ...(given.rateMbps === undefined ? [] : [given.rateMbps]),
    ...ethernetSpeedsMbps,
  ]);
  const packets = new Set([
    ...(given.packetBytes === undefined ? [] : [given.packetBytes]),
    ...usualPacketsBytes,
  ]);
  return [...rates].flatMap((rateMbps) =>
    [...packets].map((packetBytes) => ({ rateMbps, packetBytes })),
  );
}

function roleOf({ rateMbps, packetBytes }: Pair, given: FigureGiven): LinkRole {
  if (given.rateMbps === undefined) return 'some-link';
  if (rateMbps < given.rateMbps)
    return isMember(rateMbps, given.rateMbps) ? 'one-member' : 'lower-rate';
  if (rateMbps > given.rateMbps) return 'higher-rate';
  const packet = given.packetBytes ?? packetBytes;
  if (packetBytes === packet) return 'as-given';
  return packetBytes < packet ? 'smaller-packet' : 'larger-packet';
}

/** 20 Gb/s is no Ethernet, but two times 10: an aggregate, of which one flow uses one member. */
function isMember(rateMbps: number, givenMbps: number): boolean {
  const members = givenMbps / rateMbps;
  return (
    !ethernetSpeedsMbps.includes(givenMbps) &&
    ethernetSpeedsMbps.includes(rateMbps) &&
    Number.isInteger(members) &&
    members <= membersMax
  );
}

function nearestStack(
  { mbps }: MeasuredFigure,
  fitting: readonly HeaderStack[],
  ceiling: (stack: HeaderStack) => number,
): HeaderStack | undefined {
  const off = (stack: HeaderStack) => Math.abs(ceiling(stack) - mbps);
  return fitting.toSorted((a, b) => off(a) - off(b))[0];
}

function sameStack(a: HeaderStack, b: HeaderStack): boolean {
  return a.ipVersion === b.ipVersion && a.timestamps === b.timestamps && a.tags === b.tags;
}

/** What binary fractions leave of a whole number of bytes. */
const binaryRest = 1e-6;

/** The packets m of which (m - headers) / (m + slot) lies in the range that the figure fits. */
function packetsThatFit(figure: MeasuredFigure, rateMbps: number, stack: HeaderStack) {
  // Any packet beyond the shortest frame tells the sums: there is no padding.
  const probe = standardPacketBytes;
  const headers = probe - segmentBytes(probe, stack);
  const slot = wireBytes(probe, stack.tags) - probe;
  const packetAt = (share: number) => (headers + share * slot) / (1 - share);
  const { leastMbps, mostMbps } = ceilingsOf(figure);
  const most = mostMbps / rateMbps;
  return {
    packetBytesLeast: Math.ceil(packetAt(leastMbps / rateMbps) - binaryRest),
    ...(most < 1 ? { packetBytesMost: Math.floor(packetAt(most) + binaryRest) } : {}),
  };
}
