import {
  ethernetHeaderBytes,
  fcsBytes,
  packetBytesMin,
  standardPacketBytes,
  vlanTagBytes,
} from '../ethernet/frame-size.ts';
import { type MtuCounting, packetRange } from '../ethernet/mtu-clearance.ts';
import type { Gap } from '../facts/gap.ts';
import { doubtfulMtu } from './doubtful-mtu.ts';
import { missingPort } from './missing-port.ts';
import type { NodeView } from './node-view.ts';
import { accountingKind } from './port-kind.ts';
import { gapOf } from './provenance.ts';
import type { PortRef } from './site-index.ts';
import type { HopClearance } from './types.ts';
import type { UnreadEvidence } from './unread-evidence.ts';

/** What is wanted through a port, where it decides what a reading is worth. */
export interface Wanted {
  /** IP packet; undefined: nothing in particular. */
  readonly bytes: number | undefined;
  readonly tags: number | undefined;
}

/** Works out clearances; what all ports of a node share is worked out once. */
export type ClearanceOf = (ref: PortRef, wanted: Wanted) => HopClearance;

/** Reckons what each port passes, each once. */
export function clearances(evidenceOf: (ref: PortRef) => UnreadEvidence): ClearanceOf {
  const doubts = new Map<NodeView, Gap | undefined>();
  return (ref, wanted) => {
    if (ref.node.onWord) return contradicted(evidenceOf(ref), wanted) ?? onWord(ref, wanted);
    const number = mtuNumber(ref);
    if (typeof number !== 'number') return { gap: number, onWord: false };
    if ((wanted.bytes ?? 0) > standardPacketBytes) {
      if (!doubts.has(ref.node)) doubts.set(ref.node, doubtfulMtu(ref.node));
      const doubt = doubts.get(ref.node);
      if (doubt !== undefined) return { gap: doubt, onWord: false };
    }
    return { ...packetRange(number, counting(ref), wanted.tags ?? 0), onWord: false };
  };
}

/** What the MTU of a port counts: declared, else the packet on hosts and not known on switches. */
export function counting(ref: PortRef): MtuCounting {
  const declared = ref.node.declared.mtuCounts[accountingKind(ref.survey?.facts ?? {})];
  return declared ?? (ref.node.forwards ? 'unknown' : 'payload');
}

function mtuNumber(ref: PortRef): number | Gap {
  if (ref.node.gap !== undefined) return ref.node.gap;
  if (ref.survey === undefined) return missingPort(ref);
  const { mtuBytes } = ref.survey.facts;
  if (mtuBytes === undefined) return unreadGap(ref, 'mtuBytes');
  if (mtuBytes >= packetBytesMin) return mtuBytes;
  return gapOf('unreadable', `it says ${mtuBytes}, less than any IP link may pass (RFC 791)`);
}

/** Why a fact of a port that was read is absent. */
export function unreadGap(ref: PortRef, fact: string): Gap {
  const { portProvenance } = ref.node;
  const known = ref.survey?.gaps?.[fact] ?? portProvenance.gaps[fact];
  return known ?? gapOf('unasked', `${fact} was not read`);
}

/** Every station takes this frame, with a tag; many announce it whatever they take. */
const standardFrameBytes = standardPacketBytes + ethernetHeaderBytes + fcsBytes + vlanTagBytes;

/** What others tell of an unread node goes before the owner's word only where it is less. */
function contradicted(
  { frameBytes = 0, mtuAtMostBytes = Infinity, source }: UnreadEvidence,
  { bytes, tags }: Wanted,
): HopClearance | undefined {
  const told = frameBytes > standardFrameBytes;
  const frame = told ? packetRange(frameBytes, 'unknown', tags ?? 0).atMostBytes : Infinity;
  const atMostBytes = Math.min(frame, mtuAtMostBytes);
  if (bytes === undefined || source === undefined || atMostBytes >= bytes) return undefined;
  const atLeastBytes = Math.min(atMostBytes, standardPacketBytes);
  return { atLeastBytes, atMostBytes, onWord: false, source };
}

/** An unread node passes what the owner says: its frame, else what is declared to go through. */
function onWord({ node }: PortRef, { bytes, tags }: Wanted): HopClearance {
  const frame = node.declared.frameBytes;
  const framing = ethernetHeaderBytes + fcsBytes + vlanTagBytes * (tags ?? 0);
  const passes = frame === undefined ? bytes : Math.max(0, frame - framing);
  if (passes !== undefined) return { atLeastBytes: passes, atMostBytes: passes, onWord: true };
  return { gap: gapOf('unasked', 'nobody reads it, and no frame is declared'), onWord: true };
}
