import type {
  DescribedMau,
  DescribedMember,
  DescribedSwitch,
  DescribedSwitchPort,
} from '../snmp-agent/described-switch.ts';
import { loftHears, loftVlans, quayHears, quayVlans } from './switch-surroundings.ts';

// The two switches of the Saltmarsh survey office, as their agents describe them. Invented data.

interface Row {
  readonly name: string;
  readonly ifIndex: number;
  readonly mtu: number;
  /** Absent: nothing is plugged in. */
  readonly link?: readonly [speedMbps: number, duplex: 'full' | 'half'];
  readonly alias?: string;
  /** Absent: nothing is plugged in. */
  readonly mau?: DescribedMau;
  /** VLAN of its untagged frames; absent: that of the office. */
  readonly pvid?: number;
  /** A member is no port of the bridge: its aggregate is. */
  readonly member?: DescribedMember;
}

const storageVlan = 20;
const officeVlan = 1;
/** dot1dStpPortState of a port that is up, and of one that is not. */
const [forwarding, disabled] = [5, 1];

const ethernetCsmacd = 6;
const ieee8023adLag = 161;

function port(row: Row): DescribedSwitchPort {
  const { name, ifIndex, mtu, link, alias, mau, pvid = officeVlan, member } = row;
  return {
    ifIndex,
    name,
    descr: `front panel port ${name}`,
    ...(alias === undefined ? {} : { alias }),
    type: ethernetCsmacd,
    mtu,
    speedMbps: link?.[0] ?? 0,
    admin: 'up',
    oper: link === undefined ? 'down' : 'up',
    duplex: link?.[1] ?? 'unknown',
    mac: `02:00:5e:00:01:${(ifIndex % 256).toString(16).padStart(2, '0')}`,
    connector: true,
    pause: 'disabled',
    ...(mau === undefined ? {} : { mau }),
    ...(member === undefined
      ? { bridgePort: ifIndex, spanningTree: link === undefined ? disabled : forwarding, pvid }
      : { member }),
  };
}

/** Both ends collect and distribute (IEEE 802.1AX-2008 5.4.2.2), as BITS. */
const ofVault: DescribedMember = {
  aggregator: 1000,
  actor: 0xbc,
  partner: 0xbc,
  partnerSystem: '02:00:5e:00:00:31',
};

/** dot3MauType and IANAifMauAutoNegCapBits: 100BASE-TX, 1000BASE-T and 10GBASE-T in full duplex. */
const upTo10G = [5, 15, 16];
const upTo1G = [1, 2, 4, 5, 15];
const copper10G: DescribedMau = {
  type: 54,
  jack: 2,
  negotiation: { enabled: true, partner: true, can: upTo10G, offers: upTo10G, hears: upTo10G },
};
const copper1G: DescribedMau = {
  type: 30,
  jack: 2,
  negotiation: { enabled: true, partner: true, can: upTo1G, offers: upTo1G, hears: upTo1G },
};
/** The printer offers nothing but 10 Mb/s in half duplex. */
const copper10M: DescribedMau = {
  type: 10,
  jack: 2,
  negotiation: { enabled: true, partner: true, can: upTo1G, offers: upTo1G, hears: [1] },
};
/** 10GBASE-SR, and 10GBASE-R of a medium that the agent cannot tell; neither negotiates. */
const fibre10G: DescribedMau = { type: 36, jack: 14 };
const directAttach: DescribedMau = { type: 33 };

const tenGigabit = [10_000, 'full'] as const;
const gigabit = [1000, 'full'] as const;

/** Its MTU counts header and FCS: 9216 is a packet of 9198. */
const quayPorts: readonly DescribedSwitchPort[] = [
  port({ name: 'xg1', ifIndex: 1, mtu: 9216 }),
  port({
    name: 'xg2',
    ifIndex: 2,
    mtu: 9216,
    link: tenGigabit,
    alias: 'plot-1',
    mau: copper10G,
    pvid: storageVlan,
  }),
  port({
    name: 'xg3',
    ifIndex: 3,
    mtu: 9216,
    link: tenGigabit,
    alias: 'vault a',
    member: ofVault,
    mau: directAttach,
  }),
  port({
    name: 'xg4',
    ifIndex: 4,
    mtu: 9216,
    link: tenGigabit,
    alias: 'vault b',
    member: ofVault,
    mau: directAttach,
  }),
  port({ name: 'xg5', ifIndex: 5, mtu: 9216 }),
  port({ name: 'xg6', ifIndex: 6, mtu: 9216 }),
  port({ name: 'xg7', ifIndex: 7, mtu: 9216, link: tenGigabit, alias: 'gate', mau: fibre10G }),
  port({ name: 'xg8', ifIndex: 8, mtu: 9216, link: tenGigabit, alias: 'loft', mau: fibre10G }),
  port({ name: 'g1', ifIndex: 17, mtu: 9216, link: gigabit, alias: 'telephone', mau: copper1G }),
  port({ name: 'g2', ifIndex: 18, mtu: 9216 }),
  port({
    name: 'g7',
    ifIndex: 23,
    mtu: 9216,
    link: [10, 'half'],
    alias: 'label printer',
    mau: copper10M,
  }),
  {
    ifIndex: 1000,
    name: 'lag1',
    descr: 'aggregate 1',
    alias: 'vault',
    type: ieee8023adLag,
    mtu: 9216,
    speedMbps: 20_000,
    admin: 'up',
    oper: 'up',
    mac: '02:00:5e:00:01:e8',
    connector: false,
    lower: [3, 4],
    ...{ bridgePort: 25, spanningTree: forwarding, pvid: storageVlan },
  },
];

/** Its MTU is the IP packet. The port towards the quay still has the value of a new switch. */
const loftPorts: readonly DescribedSwitchPort[] = [
  port({ name: 'xg1', ifIndex: 1, mtu: 1500, link: tenGigabit, alias: 'quay', mau: fibre10G }),
  port({ name: 'xg2', ifIndex: 2, mtu: 9198 }),
  port({ name: 'xg3', ifIndex: 3, mtu: 9198 }),
  port({ name: 'xg4', ifIndex: 4, mtu: 9198 }),
  port({
    name: 'xg5',
    ifIndex: 5,
    mtu: 9198,
    link: tenGigabit,
    alias: 'shed',
    mau: copper10G,
    pvid: storageVlan,
  }),
  port({ name: 'xg6', ifIndex: 6, mtu: 9198 }),
];

export const quaySwitch: DescribedSwitch = {
  sysName: 'quay-sw',
  sysDescr: 'Simulated switch, 8 x 10 Gb/s and 8 x 1 Gb/s',
  sysObjectId: '1.3.6.1.4.1.32473.1.8',
  engineId: '80007ed904717561792d7377',
  engineBoots: 12,
  upSeconds: 3_974_400,
  ports: quayPorts,
  vlans: quayVlans,
  ...quayHears,
};

export const loftSwitch: DescribedSwitch = {
  sysName: 'loft-sw',
  sysDescr: 'Simulated switch, 6 x 10 Gb/s',
  sysObjectId: '1.3.6.1.4.1.32473.1.6',
  engineId: '80007ed9046c6f66742d7377',
  engineBoots: 2,
  upSeconds: 259_200,
  ports: loftPorts,
  vlans: loftVlans,
  ...loftHears,
};
