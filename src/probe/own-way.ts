import { type Framed, sectionKey } from '../collect/unix/frames.ts';
import { parseBsdRoute } from '../collect/unix/route-bsd.ts';
import { parseLinuxRoute } from '../collect/unix/route-linux.ts';
import { mtuNumber, wholeNumber } from '../collect/unix/text.ts';
import type { OwnWay } from './fit-types.ts';

/** What a host says of its own way to the address. Nothing, where it does not say. */
export function ownWayOf(framed: Framed, system: 'linux' | 'macos' | 'freebsd'): OwnWay {
  const section = framed.sections.get(sectionKey('route'));
  if (section === undefined) return {};
  const route = system === 'linux' ? parseLinuxRoute(section) : parseBsdRoute(section);
  if (route.device === undefined) return {};
  const one = section.output.replace(/\s+/g, ' ');
  // Only a path MTU that was learnt has a time at which it is forgotten.
  const learnt = mtuNumber(wholeNumber(/ expires \d+sec mtu (\d+)(?= |$)/.exec(one)?.[1]));
  const interfaceMtu = interfaceMtuOf(framed);
  return {
    device: route.device,
    onLink: route.gateway === undefined,
    ...(interfaceMtu === undefined ? {} : { interfaceMtuBytes: interfaceMtu }),
    ...(learnt === undefined ? {} : { learntMtuBytes: learnt }),
    ...(learnt !== undefined || route.mtuBytes === undefined
      ? {}
      : { routeMtuBytes: route.mtuBytes }),
  };
}

function interfaceMtuOf(framed: Framed): number | undefined {
  const section = framed.sections.get(sectionKey('own'));
  if (section?.status !== 0) return undefined;
  return mtuNumber(wholeNumber(section.output.trim()));
}

/** The largest packet that leaves the sender whole; undefined where that is not known. */
export function leavesWholeBytes({
  interfaceMtuBytes,
  routeMtuBytes,
  learntMtuBytes,
}: OwnWay): number | undefined {
  const known = [interfaceMtuBytes ?? routeMtuBytes, routeMtuBytes, learntMtuBytes];
  if (known[0] === undefined) return undefined;
  return Math.min(...known.filter((bytes) => bytes !== undefined));
}
