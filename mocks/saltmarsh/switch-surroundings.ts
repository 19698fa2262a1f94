import type {
  DescribedNeighbour,
  DescribedStation,
  DescribedSwitch,
  DescribedVlan,
} from '../snmp-agent/described-switch.ts';

// What the two switches hear around them, as the intent of the office has it. Invented data. The
// drawing tables and the printer do not speak LLDP; the switch in the shed speaks nothing at all.

const storage = 20;
const office = 1;
/** Bits of LldpSystemCapabilitiesMap (IEEE 802.1AB-2016 8.5.8). */
const [bridge, router, telephone, station] = [2, 4, 5, 7];

const mac = (hex: string) => Buffer.from(hex.replaceAll(':', ''), 'hex');

/** Subtypes of IEEE 802.1AB-2016: MAC address, and name of an interface. */
function neighbour(
  ifIndex: number,
  [chassis, port]: readonly [string, string],
  more: Partial<DescribedNeighbour>,
): DescribedNeighbour {
  return { ifIndex, chassis: [4, mac(chassis)], port: [5, port], portText: port, ...more };
}

/** The file server says what it takes by the 802.3 extension; it does not negotiate. */
const vault: Partial<DescribedNeighbour> = {
  systemName: 'vault',
  systemText: 'Linux 6.1.159 x86_64',
  capabilities: [station],
  addresses: ['198.18.20.2'],
  mau: 33,
  negotiates: false,
  frameMaxBytes: 9018,
};

const fibre = { mau: 36, negotiates: false } as const;

/** Aggregates are ports of the bridge, their members (3 and 4) are not. */
export const quayVlans: readonly DescribedVlan[] = [
  { vlan: office, tagged: [7, 8], untagged: [1, 5, 6, 17, 18, 23] },
  { vlan: storage, tagged: [7, 8], untagged: [2, 1000] },
];

export const loftVlans: readonly DescribedVlan[] = [
  { vlan: office, tagged: [1], untagged: [2, 3, 4, 6] },
  { vlan: storage, tagged: [1], untagged: [5] },
];

type Hears = Required<Pick<DescribedSwitch, 'lldp' | 'stations'>>;

export const quayHears: Hears = {
  lldp: {
    version: 1,
    neighbours: [
      neighbour(3, ['02:00:5e:00:00:31', 'eth4'], vault),
      neighbour(4, ['02:00:5e:00:00:31', 'eth5'], vault),
      neighbour(7, ['02:00:5e:00:00:41', 'em0'], {
        ...fibre,
        systemName: 'gate',
        systemText: 'Linux 6.6.110 x86_64',
        capabilities: [router],
        addresses: ['198.18.20.1'],
        frameMaxBytes: 9022,
      }),
      neighbour(8, ['02:00:5e:00:02:00', 'xg1'], {
        ...fibre,
        systemName: 'loft-sw',
        systemText: 'Simulated switch, 6 x 10 Gb/s',
        capabilities: [bridge],
        frameMaxBytes: 1518,
      }),
      neighbour(17, ['02:00:5e:00:00:61', 'lan'], {
        systemName: 'telephone-12',
        capabilities: [bridge, telephone],
      }),
    ],
  },
  stations: [
    ...heardAt(2, storage, '02:00:5e:00:00:05'),
    ...heardAt(1000, storage, '02:00:5e:00:00:31'),
    ...heardAt(7, storage, '02:00:5e:00:00:41'),
    ...heardAt(7, office, '02:00:5e:00:00:41'),
    ...heardAt(8, storage, '02:00:5e:00:00:21'),
    ...heardAt(17, office, '02:00:5e:00:00:61'),
    ...heardAt(23, office, '02:00:5e:00:00:51'),
  ],
};

export const loftHears: Hears = {
  lldp: {
    version: 1,
    neighbours: [
      neighbour(1, ['02:00:5e:00:01:00', 'xg8'], {
        ...fibre,
        systemName: 'quay-sw',
        systemText: 'Simulated switch, 8 x 10 Gb/s and 8 x 1 Gb/s',
        capabilities: [bridge],
        frameMaxBytes: 9216,
      }),
    ],
  },
  stations: [
    ...heardAt(5, storage, '02:00:5e:00:00:21'),
    ...heardAt(1, storage, '02:00:5e:00:00:05', '02:00:5e:00:00:31', '02:00:5e:00:00:41'),
    ...heardAt(1, office, '02:00:5e:00:00:41', '02:00:5e:00:00:51', '02:00:5e:00:00:61'),
  ],
};

function heardAt(ifIndex: number, vlan: number, ...macs: readonly string[]): DescribedStation[] {
  return macs.map((one) => ({ mac: one, ifIndex, vlan }));
}
