import { firstGroup, macText, present, wholeNumber } from './text.ts';
import { vlanRangesOf } from './vlan-ranges.ts';

/** A member of an aggregate. */
export interface LagMember {
  /** Untrusted. */
  readonly name: string;
  /** LACP state of this end, one octet; absent where it is not printed. */
  readonly lacpState?: number;
  /** MAC address of the system that answers; absent where nobody does. */
  readonly partnerSystem?: string;
}

/** A member of a bridge. */
export interface BridgeMember {
  /** Untrusted. */
  readonly name: string;
  /** As printed, `forwarding`; absent where spanning tree is off. */
  readonly state?: string;
  readonly untaggedVlan?: number;
  readonly taggedVlans?: readonly number[];
}

/**
 * Members of an aggregate: `laggport:` with the lines about its partner that follow (FreeBSD), or
 * the names after `bond interfaces:` (macOS).
 */
export function lagMembersOf(lines: readonly string[]): readonly LagMember[] {
  const bond = lines.map((line) => firstGroup(line, /^bond interfaces: (.+)$/)).find(Boolean);
  if (bond !== undefined) {
    return bond === '<none>' ? [] : bond.split(/\s+/).map((name) => ({ name }));
  }
  return groupsOf(lines, /^laggport: (\S+)(?=\s|$)/).map(({ name, own }) => {
    const state = firstGroup(own[0] ?? '', / state=([0-9a-f]{1,2})(?=<|\s|$)/i);
    const partner = own.map((line) => partnerOf(line)).find((mac) => mac !== undefined);
    return present<LagMember>({
      name,
      lacpState: state === undefined ? undefined : Number.parseInt(state, 16),
      partnerSystem: macText(partner),
    });
  });
}

/** The second half of `[(8000,MAC,key,priority,port),\n (8000,MAC,key,priority,port)]`. */
function partnerOf(line: string): string | undefined {
  const mac = firstGroup(line, /^\([0-9a-f]{4},((?:[0-9a-f]{2}-){5}[0-9a-f]{2}),[0-9a-f,]+\)\]$/i);
  return mac?.replaceAll('-', ':');
}

/** Members of a bridge: `member:` with the lines about its state and VLANs that follow. */
export function bridgeMembersOf(lines: readonly string[]): readonly BridgeMember[] {
  return groupsOf(lines, /^member: (\S+)(?=\s|$)/).map(({ name, own }) => {
    const one = (pattern: RegExp) =>
      own.map((line) => firstGroup(line, pattern)).find((text) => text !== undefined);
    const tagged = one(/ tagged ([\d,-]{1,4096})(?=\s|$)/);
    return present<BridgeMember>({
      name,
      state: one(/^role \w+ state (\w+)(?=\s|$)/),
      untaggedVlan: wholeNumber(one(/ untagged (\d{1,4})(?=\s|$)/)),
      taggedVlans: tagged === undefined ? undefined : vlanRangesOf(tagged),
    });
  });
}

const continued = /^(?:ifmaxaddr |role |port |\[?\([0-9a-f]{4},)/i;

/** Each line that `head` matches, with the lines that go on about it. */
function groupsOf(
  lines: readonly string[],
  head: RegExp,
): readonly { readonly name: string; readonly own: readonly string[] }[] {
  const groups: { name: string; own: string[] }[] = [];
  let open: { name: string; own: string[] } | undefined;
  for (const line of lines) {
    const name = firstGroup(line, head);
    if (name !== undefined) {
      open = { name, own: [line] };
      groups.push(open);
    } else if (open !== undefined && continued.test(line)) open.own.push(line);
    else open = undefined;
  }
  return groups;
}
