import { ethernetHeaderBytes, fcsBytes, vlanTagBytes } from '../ethernet/frame-size.ts';
import type { Gap } from '../facts/gap.ts';
import { counting } from './clearance.ts';
import { gapOf } from './provenance.ts';
import type { PortRef } from './site-index.ts';
import type { HopClearance } from './types.ts';

/** Whether `bytes` pass: yes, no, or why that is not known. */
export type Passes = true | false | Gap;

/** Judges one clearance; between its bounds, what the MTU counts decides. */
export function passes(ref: PortRef, clearance: HopClearance, bytes: number): Passes {
  const { atLeastBytes, atMostBytes, gap } = clearance;
  if (atMostBytes !== undefined && atMostBytes < bytes) return false;
  if (atLeastBytes !== undefined && atLeastBytes >= bytes) return true;
  return gap ?? undecided(ref, bytes);
}

function undecided(ref: PortRef, bytes: number): Gap {
  const { name } = ref.node.declared;
  const how = counting(ref);
  const said = ref.survey?.facts.mtuBytes ?? 0;
  const why =
    how === 'unknown'
      ? `what that counts is not known (${meanings(said)}): set mtuCounts of ${name}, or run a fit`
      : `whether it counts VLAN tags as well is not known: run a fit`;
  return gapOf(
    'doubtful',
    `it says ${said}, and ${bytes} may or may not pass; ${why}`,
    `what the mtu counts on ${name}`,
  );
}

/** What passes by each way of counting. */
function meanings(said: number): string {
  const header = said - ethernetHeaderBytes;
  const frame = header - fcsBytes;
  return `${said} bytes pass where it counts the packet, ${header} where it counts the header, ${frame} where it counts header and FCS, ${frame - vlanTagBytes} with a tag`;
}
