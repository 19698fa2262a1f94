import { firstGroup, macText, present, textLines, wholeNumber } from './text.ts';

/** An aggregate by `/proc/net/bonding/NAME`. */
export interface ProcBond {
  /** As the fact `aggregateMode` words it. */
  readonly mode?: string;
  readonly members: readonly ProcBondMember[];
}

/** One member of an aggregate. */
export interface ProcBondMember {
  /** Untrusted. */
  readonly name: string;
  readonly permanentMacAddress?: string;
  readonly aggregatorId?: number;
  /** LACP states, one octet each; printed to administrators only. */
  readonly actorState?: number;
  readonly partnerState?: number;
  /** Printed to administrators only; all zeros where nobody answers. */
  readonly partnerSystem?: string;
}

const membersMax = 64;

/** The long words of the driver (`bond_mode_name`), by their short ones. */
const modes: readonly (readonly [RegExp, string])[] = [
  [/^IEEE 802\.3ad /, '802.3ad'],
  [/\(active-backup\)/, 'active-backup'],
  [/\(round-robin\)/, 'balance-rr'],
  [/\(xor\)/, 'balance-xor'],
  [/\(broadcast\)/, 'broadcast'],
  [/^transmit load balancing/, 'balance-tlb'],
  [/^adaptive load balancing/, 'balance-alb'],
];

/** Reads `/proc/net/bonding/NAME`; undefined where it is none. */
export function parseProcBonding(output: string): ProcBond | undefined {
  const [head = '', ...members] = textLines(output)
    .join('\n')
    .split(/^Slave Interface: /m);
  const words = firstGroup(head, /^Bonding Mode: (.+)$/m);
  if (words === undefined) return undefined;
  const mode = modes.find(([pattern]) => pattern.test(words))?.[1];
  return present<ProcBond>({ mode, members: members.slice(0, membersMax).flatMap(memberOf) });
}

function memberOf(text: string): readonly ProcBondMember[] {
  const name = firstGroup(text, /^(\S{1,64})[ \t]*$/m);
  if (name === undefined) return [];
  const [plain = '', details = ''] = text.split(/^details actor lacp pdu:$/m);
  const [actor = '', partner = ''] = details.split(/^details partner lacp pdu:$/m);
  const stateOf = (part: string) => wholeNumber(firstGroup(part, /^ *port state: (\d{1,3})$/m));
  return [
    present<ProcBondMember>({
      name,
      permanentMacAddress: macText(firstGroup(plain, /^Permanent HW addr: (\S+)$/m)),
      aggregatorId: wholeNumber(firstGroup(plain, /^Aggregator ID: (\d{1,5})$/m)),
      actorState: stateOf(actor),
      partnerState: stateOf(partner),
      partnerSystem: firstGroup(partner, /^ *system mac address: ([0-9a-f:]{17})$/im),
    }),
  ];
}
