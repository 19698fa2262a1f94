import type { DescribedHost } from '../unix-output/described-host.ts';

// The hosts of the Saltmarsh survey office, as their systems describe them. Invented data.

const modes10G = ['100baseT/Full', '1000baseT/Full', '10000baseT/Full'];

/** Four lanes of the third generation, in a slot that has no more. */
const pcieX4 = { busText: 'PCIe 8.0 GT/s x4', busMbps: 31_507, busMaxMbps: 31_507 } as const;

/** Workstation on the quay floor; all is well with it. */
const plot1: DescribedHost = {
  facts: {
    systemKind: 'macos',
    systemName: 'plot-1',
    systemText: 'Darwin 24.6.0 arm64',
    osVersion: '15.7',
    uptimeSeconds: 190_000,
  },
  ports: [
    {
      name: 'en7',
      kind: 'physical',
      alias: 'Thunderbolt Ethernet Slot 1',
      macAddress: '02:00:5e:00:00:05',
      adminUp: true,
      operUp: true,
      mtuBytes: 9000,
      mtuConfiguredBytes: 9000,
      mtuMinBytes: 1280,
      mtuMaxBytes: 9000,
      speedMbps: 10_000,
      duplex: 'full',
      autoNegotiation: true,
      supportedModes: [
        '100baseTX full-duplex',
        '1000baseT full-duplex',
        '2500Base-T full-duplex',
        '5000Base-T full-duplex',
        '10Gbase-T full-duplex',
      ],
      busText: 'Thunderbolt 40 Gb/s',
      addresses: ['198.18.20.11/24'],
    },
    {
      name: 'en0',
      kind: 'physical',
      alias: 'Ethernet',
      macAddress: '02:00:5e:00:00:06',
      adminUp: true,
      operUp: false,
      mtuBytes: 1500,
      mtuConfiguredBytes: 1500,
      addresses: [],
    },
  ],
  routes: [
    { to: '198.18.20.2', device: 'en7', mtuBytes: 9000 },
    { to: '198.18.20.12', device: 'en7', mtuBytes: 9000 },
  ],
  fits: [{ to: '198.18.20.2', passesBytes: 9000, beyond: 'own-interface' }],
};

/** Workstation in the loft; a cord of its run lets it negotiate a gigabit only. */
const plot2: DescribedHost = {
  facts: {
    systemKind: 'linux',
    systemName: 'plot-2',
    systemText: 'Linux 6.12.48 x86_64',
    osVersion: '13',
    uptimeSeconds: 40_210,
  },
  ports: [
    {
      name: 'eno1',
      kind: 'physical',
      macAddress: '02:00:5e:00:00:21',
      adminUp: true,
      operUp: true,
      mtuBytes: 9000,
      mtuMinBytes: 68,
      mtuMaxBytes: 9702,
      speedMbps: 1000,
      duplex: 'full',
      autoNegotiation: true,
      supportedModes: modes10G,
      advertisedModes: modes10G,
      partnerModes: modes10G,
      partnerAutoNegotiation: true,
      mediaText: 'Twisted Pair',
      driver: 'copper10g',
      ...pcieX4,
      pauseRx: false,
      pauseTx: false,
      eeeEnabled: false,
      eeeActive: false,
      lateCollisions: 0,
      rxSymbolErrors: 0,
      carrierChanges: 14,
      addresses: ['198.18.20.12/24'],
    },
  ],
  routes: [{ to: '198.18.20.2', device: 'eno1', from: '198.18.20.12' }],
  sessions: [
    {
      local: '198.18.20.12',
      remote: '198.18.20.2',
      count: 2,
      segmentBytes: 8948,
      advertisedBytes: 8948,
      pathMtuBytes: 9000,
      timestamps: true,
    },
  ],
  mounts: [{ server: '198.18.20.2', kind: 'nfs', at: '/plots' }],
  fits: [{ to: '198.18.20.2', passesBytes: 1500, beyond: 'silence' }],
};

const vaultMember = (name: string, mac: string) =>
  ({
    name,
    kind: 'physical',
    macAddress: '02:00:5e:00:00:31',
    permanentMacAddress: mac,
    adminUp: true,
    operUp: true,
    mtuBytes: 9000,
    mtuMinBytes: 68,
    mtuMaxBytes: 9710,
    speedMbps: 10_000,
    duplex: 'full',
    autoNegotiation: false,
    supportedModes: ['10000baseCR/Full'],
    mediaText: 'Direct Attach Copper',
    moduleText: 'Passive Cable',
    driver: 'cage10g',
    ...pcieX4,
    pauseRx: false,
    pauseTx: false,
    rxSymbolErrors: 0,
    carrierChanges: 2,
    addresses: [],
  }) as const;

/** The file server, on two ports at once. */
const vault: DescribedHost = {
  facts: {
    systemKind: 'linux',
    systemName: 'vault',
    systemText: 'Linux 6.1.159 x86_64',
    osVersion: '12',
    uptimeSeconds: 7_300_000,
  },
  ports: [
    vaultMember('eth4', '02:00:5e:00:00:31'),
    vaultMember('eth5', '02:00:5e:00:00:32'),
    {
      name: 'bond0',
      kind: 'bond',
      macAddress: '02:00:5e:00:00:31',
      adminUp: true,
      operUp: true,
      mtuBytes: 9000,
      lowerPorts: ['eth4', 'eth5'],
      addresses: ['198.18.20.2/24'],
    },
  ],
  routes: [
    { to: '198.18.20.11', device: 'bond0', from: '198.18.20.2' },
    { to: '198.18.20.12', device: 'bond0', from: '198.18.20.2' },
  ],
  fits: [
    { to: '198.18.20.11', passesBytes: 9000, beyond: 'own-interface' },
    { to: '198.18.20.12', passesBytes: 1500, beyond: 'silence' },
  ],
};

/** Router between the storage and the office segment. */
const gate: DescribedHost = {
  facts: {
    systemKind: 'linux',
    systemName: 'gate',
    systemText: 'Linux 6.6.110 x86_64',
    uptimeSeconds: 9_100_000,
  },
  ports: [
    {
      name: 'em0',
      kind: 'physical',
      macAddress: '02:00:5e:00:00:41',
      adminUp: true,
      operUp: true,
      mtuBytes: 9000,
      mtuMaxBytes: 9216,
      speedMbps: 10_000,
      duplex: 'full',
      autoNegotiation: false,
      mediaText: 'FIBRE',
      moduleText: '10G Ethernet: 10G Base-SR',
      rxPowerDbm: -3.1,
      rxPowerLowDbm: -9.9,
      rxPowerHighDbm: 0,
      txPowerDbm: -2.4,
      txPowerLowDbm: -7.3,
      txPowerHighDbm: 0,
      moduleTemperatureCelsius: 38.5,
      driver: 'cage10g',
      ...pcieX4,
      addresses: [],
    },
    {
      name: 'em0.20',
      kind: 'vlan',
      vlanId: 20,
      lowerPorts: ['em0'],
      macAddress: '02:00:5e:00:00:41',
      adminUp: true,
      operUp: true,
      mtuBytes: 9000,
      addresses: ['198.18.20.1/24'],
    },
    {
      name: 'em0.1',
      kind: 'vlan',
      vlanId: 1,
      lowerPorts: ['em0'],
      macAddress: '02:00:5e:00:00:41',
      adminUp: true,
      operUp: true,
      mtuBytes: 1500,
      addresses: ['198.18.10.1/24'],
    },
  ],
};

/** By their names in the intent. */
export const saltmarshHosts: Readonly<Record<string, DescribedHost>> = {
  'plot-1': plot1,
  'plot-2': plot2,
  vault,
  gate,
};
