import snmp from 'net-snmp';
import type { Varbind } from '../../src/collect/snmp/agent-session.ts';
import { isWholeMessage } from '../../src/collect/snmp/is-whole-message.ts';
import { lldpNeighbours } from '../../src/collect/snmp/lldp-neighbours.ts';
import { lldpObjects, lldpV2Objects } from '../../src/collect/snmp/lldp-objects.ts';
import { oidFollows, oidIndex, oidNumbers } from '../../src/collect/snmp/oid.ts';
import { portsOfList } from '../../src/collect/snmp/port-list.ts';
import type { SnmpObject } from '../../src/collect/snmp/snmp-object.ts';
import {
  counterOf,
  hexOf,
  identifierOf,
  integerOf,
  macOf,
  octetsOf,
  textOf,
} from '../../src/collect/snmp/values.ts';
import { parseLldpCapability } from '../../src/ethernet/lldp-capability.ts';
import { below, type Chance, mutateText, oneOf, someOctets } from './mutate.ts';
import type { FuzzTarget } from './try-target.ts';

const types = Object.values(snmp.ObjectType).filter((type) => typeof type === 'number');
const numbers = [0, -1, 1, 1500, 2 ** 31, 2 ** 32, 2 ** 53, -(2 ** 31), 1.5, Number.NaN, Infinity];

/** Whatever an agent may send as one value, of whatever type it says that it is. */
function anyVarbind(chance: Chance, oid: string): Varbind {
  const value = oneOf(chance, [
    () => oneOf(chance, numbers),
    () => below(chance, 2 ** 31),
    () => someOctets(chance, 40),
    () => Buffer.from(mutateText(chance, ['vault', 'xg3', '198.18.20.2', '\u001b[2J'], ['\u0007'])),
    () => '1.3.6.1.4.1.32473.1.8',
    () => mutateText(chance, ['1.3.6.1', 'x'], ['.']),
    () => null,
    () => undefined,
    () => true,
  ])();
  return { oid, type: oneOf(chance, types), value } as unknown as Varbind;
}

/** A cell as its object should be, or anything. */
function cellOf(chance: Chance, oid: string, octets: boolean): Varbind {
  if (chance() < 0.4) return anyVarbind(chance, oid);
  const { Integer, OctetString } = snmp.ObjectType;
  const told = octets
    ? { type: OctetString, value: someOctets(chance, 300) }
    : { type: Integer, value: below(chance, 9) };
  return { oid, ...told } as unknown as Varbind;
}

const indexes = [
  '0.1.1',
  '0.2.1',
  '7.3.9',
  '1.1.1.1',
  '0.1',
  '',
  '0.4294967295.1',
  '-1.x',
  '0.1.1.1.4.198.18.20.2',
];
const indexPieces = ['.', '1', '4294967296', '-', '..'];

function columnsFor(chance: Chance, objects: typeof lldpObjects | typeof lldpV2Objects) {
  const { remote, dot3 } = objects;
  const octets: readonly SnmpObject[] = [
    ...[remote.chassis, remote.port, remote.portText, remote.systemName, remote.systemText],
    ...[remote.capabilities, dot3.offers],
  ];
  const all = [...Object.values(remote), ...Object.values(dot3), objects.address, objects.vlan];
  return all.map((object) => {
    const cells = new Map<string, Varbind>();
    for (let left = below(chance, 4); left > 0; left -= 1) {
      const index =
        chance() < 0.8 ? oneOf(chance, indexes) : mutateText(chance, indexes, indexPieces);
      cells.set(index, cellOf(chance, `${object.oid}.${index}`, octets.includes(object)));
    }
    const cut =
      chance() < 0.1 ? { cut: { kind: 'timeout' as const, words: 'did not answer' } } : {};
    return [object.oid, { cells, ...cut }] as const;
  });
}

/** What reads the answers of agents, and what their neighbours have told them. */
export const snmpTargets: readonly FuzzTarget[] = [
  {
    name: 'snmp values',
    tryOne: (chance) => {
      const varbind = anyVarbind(chance, '1.3.6.1.2.1.2.2.1.4.1');
      const read = [
        integerOf(varbind, 'ifMtu', [0, 2 ** 31 - 1]),
        counterOf(varbind, 'ifHCInOctets'),
        textOf(varbind, 'ifName'),
        hexOf(varbind, 'snmpEngineID'),
        macOf(varbind, 'ifPhysAddress'),
        identifierOf(varbind, 'sysObjectID'),
      ];
      const bad = read.filter((one) => typeof one?.value === 'number' && !(one.value >= 0));
      if (bad.length > 0) throw new Error(JSON.stringify(bad));
      return {
        input: String(varbind.value),
        gave: [...read, octetsOf(varbind, 'dot1qVlanCurrentEgressPorts').gap],
      };
    },
  },
  {
    name: 'lldp',
    tryOne: (chance) => {
      const objects = oneOf(chance, [lldpObjects, lldpV2Objects]);
      const columns = new Map(columnsFor(chance, objects));
      const ports = new Map([1, 2, 3].map((n) => [n, { ifIndex: n, name: `xg${n}` }]));
      const listed = lldpNeighbours(
        { columns, served: () => true },
        { ports, bridge: { value: new Map([[1, 1]]) } },
      );
      const capability = parseLldpCapability(someOctets(chance, 3), below(chance, 200));
      return { input: JSON.stringify([...columns.keys()]), gave: [listed, capability?.plausible] };
    },
  },
  {
    name: 'snmp frames and lists',
    tryOne: (chance) => {
      const octets = someOctets(chance, 200);
      const [a, b] = [0, 1].map(() =>
        mutateText(chance, ['1.3.6.1.2.1', '0.0', '2.999.1'], ['.', '4294967296']),
      );
      const ports = portsOfList(octets) ?? [];
      if (ports.some((port) => port < 1 || port > 1600)) throw new Error('a port beyond its list');
      const numbersOf = oidNumbers(a ?? '');
      if (numbersOf !== undefined && oidFollows(numbersOf, numbersOf)) {
        throw new Error('an object comes after itself');
      }
      return {
        input: octets.toString('hex'),
        gave: [isWholeMessage(octets), oidIndex(a ?? '', b ?? '') !== undefined],
      };
    },
  },
];
