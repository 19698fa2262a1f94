import { ethtoolModeName } from '../../ethernet/ethtool-mode.ts';
import { parseMauCapBits } from '../../ethernet/mau-cap-bits.ts';
import { mauType } from '../../ethernet/mau-type.ts';
import type { FactValue } from '../../facts/entry.ts';
import type { Gap } from '../../facts/gap.ts';
import type { Varbind } from './agent-session.ts';
import type { Walk } from './bulk-table.ts';
import { type MauColumn, mauColumns } from './objects.ts';
import { oidIndex } from './oid.ts';
import { missing } from './port-cells.ts';
import { objectText } from './snmp-object.ts';
import { identifierOf, integerOf, octetsOf, type Read, unsupported } from './values.ts';

/** Reads one value of the medium of one port. */
export type MauCell = <T>(
  column: MauColumn,
  read: (varbind: Varbind, what: string) => Read<T>,
) => Read<T>;

/** Media of one port that are told apart; no port has more than two in practice. */
const mediaMax = 16;

const sourceColumns: readonly (readonly [fact: string, column: MauColumn])[] = [
  ['phyText', 'ifMauType'],
  ['autoNegotiation', 'ifMauAutoNegAdminStatus'],
  ['partnerAutoNegotiation', 'ifMauAutoNegRemoteSignaling'],
  ['supportedModes', 'ifMauAutoNegCapabilityBits'],
  ['advertisedModes', 'ifMauAutoNegCapAdvertisedBits'],
  ['partnerModes', 'ifMauAutoNegCapReceivedBits'],
];

/** Source of each fact that the medium of a port gives. */
export const mauFactSources: Readonly<Record<string, string>> = Object.fromEntries(
  sourceColumns.map(([fact, column]) => [fact, objectText(mauColumns[column])]),
);

/** Readers of the medium of a port by its ifIndex, out of the walked columns. */
export function mauReader(walk: Walk): (ifIndex: number) => MauCell {
  const media = mediaByPort(walk);
  return (ifIndex) => (name, read) => {
    const column = walk.columns.get(mauColumns[name].oid);
    const [index, ...others] = media.get(ifIndex) ?? [];
    if (others.length > 0) return { gap: severalMedia };
    const cell = index === undefined ? undefined : column?.cells.get(index);
    return cell === undefined ? { gap: missing(mauColumns[name], column) } : read(cell, name);
  };
}

/** A socket and a cage that share one port are two media, and only one of them is in use. */
const severalMedia: Gap = {
  reason: 'doubtful',
  words: 'the port has several media, and which of them is in use is not told',
};

function mediaByPort(walk: Walk): ReadonlyMap<number, readonly string[]> {
  const media = new Map<number, Set<string>>();
  for (const { oid } of Object.values(mauColumns)) {
    for (const index of walk.columns.get(oid)?.cells.keys() ?? []) {
      const [, ifIndex] = /^([1-9]\d{0,9})\.\d{1,10}$/.exec(index) ?? [];
      if (ifIndex === undefined) continue;
      const known = media.get(Number(ifIndex)) ?? new Set();
      if (known.size < mediaMax) media.set(Number(ifIndex), known.add(index));
    }
  }
  return new Map([...media].map(([ifIndex, indexes]) => [ifIndex, [...indexes]]));
}

/** Facts of the medium of a port, in the spelling of `ethtool` where they are modes. */
export function mauValues(
  cell: MauCell,
  operUp: Read<boolean>,
): Readonly<Record<string, Read<FactValue>>> {
  const auto = cell('ifMauAutoNegAdminStatus', truth);
  const ofLink = <T>(read: () => Read<T>): Read<T> => (operUp.value === false ? down : read());
  return {
    phyText: ofLink(() => cell('ifMauType', phyOf)),
    autoNegotiation: auto,
    partnerAutoNegotiation: ofLink(() => partnerOf(auto, cell)),
    supportedModes: cell('ifMauAutoNegCapabilityBits', modesOf),
    advertisedModes: cell('ifMauAutoNegCapAdvertisedBits', modesOf),
    partnerModes: ofLink(() => cell('ifMauAutoNegCapReceivedBits', modesOf)),
  };
}

const down = { gap: { reason: 'down', words: 'ifOperStatus is not up' } } as const;

/** enabled(1) or detected(1) against disabled(2) or notdetected(2). */
export function truth(varbind: Varbind, what: string): Read<boolean> {
  const read = integerOf(varbind, what, [1, 2]);
  return read.gap ? read : { value: read.value === 1 };
}

/** A port that does not negotiate itself may not listen either. */
function partnerOf(auto: Read<boolean>, cell: MauCell): Read<boolean> {
  const seen = cell('ifMauAutoNegRemoteSignaling', truth);
  if (seen.value !== false || auto.value === true) return seen;
  return { gap: unsupported('notdetected(2), by a port that does not negotiate itself') };
}

function phyOf(varbind: Varbind, what: string): Read<string> {
  const type = identifierOf(varbind, what);
  if (type.gap) return type;
  const phy = mauOf(type.value)?.phy;
  return phy === undefined
    ? { gap: unsupported(`${what} is ${type.value}: no known medium`) }
    : { value: phy };
}

/** Duplex of the medium in use, for agents that do not tell it elsewhere. */
export function duplexOfMau(cell: MauCell): Read<'full' | 'half'> {
  return cell('ifMauType', (varbind, what) => {
    const type = identifierOf(varbind, what);
    if (type.gap) return type;
    const duplex = mauOf(type.value)?.duplex;
    return duplex === undefined
      ? { gap: unsupported(`${what} is ${type.value}: its duplex is not known`) }
      : { value: duplex };
  });
}

function mauOf(identifier: string) {
  const number = /^(\d{1,4})$/.exec(oidIndex(mauTypes, identifier) ?? '')?.[1];
  return number === undefined ? undefined : mauType(Number(number));
}

/** dot3MauType of IANA-MAU-MIB. */
const mauTypes = '1.3.6.1.2.1.26.4';

/** Modes that bits of IANAifMauAutoNegCapBits name, as `ethtool` spells them. */
export function modesOf(varbind: Varbind, what: string): Read<readonly string[]> {
  const octets = octetsOf(varbind, what);
  if (octets.gap) return octets;
  const { modes, aside } = parseMauCapBits(octets.value);
  const names = modes.flatMap((mode) => ethtoolModeName(mode) ?? []);
  if (names.length > 0) return { value: names };
  const words = aside.length > 0 ? ` but ${aside.slice(0, 4).join(', ')}` : '';
  return { gap: unsupported(`${what} names no mode${words}`) };
}
