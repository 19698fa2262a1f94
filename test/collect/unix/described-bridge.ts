import type { DescribedHost } from '../../../mocks/unix-output/described-host.ts';

const counted = {
  carrierChanges: 3,
  ...{ rxOctets: 812_000_000, txOctets: 601_000_000, rxFrames: 90_210, txFrames: 70_110 },
  ...{ rxErrors: 3, txErrors: 1, rxDropped: 7, txDropped: 2 },
  ...{ rxCrcErrors: 5, rxAlignmentErrors: 4, rxTooLong: 6 },
};
const port = { adminUp: true, operUp: true, mtuBytes: 9000, addresses: [], ...counted };

/** A host of guests whose bridge tells VLANs apart, and a tunnel. */
export const yard: DescribedHost = {
  facts: {
    systemKind: 'linux',
    systemName: 'yard',
    systemText: 'Linux 6.1.0-28-amd64 x86_64',
    osVersion: '12',
    uptimeSeconds: 4000,
  },
  ports: [
    {
      ...port,
      name: 'br0',
      kind: 'bridge',
      ifIndex: 1,
      macAddress: '02:00:5e:00:00:61',
      lowerPorts: ['tap1', 'tap2'],
      addresses: ['198.18.1.60/24'],
    },
    {
      ...port,
      name: 'tap1',
      kind: 'virtual',
      ifIndex: 2,
      macAddress: '02:00:5e:00:00:62',
      spanningTree: 'forwarding',
      untaggedVlan: 1,
      untaggedVlans: [1],
      taggedVlans: [20, 30],
    },
    {
      ...port,
      name: 'tap2',
      kind: 'virtual',
      ifIndex: 3,
      macAddress: '02:00:5e:00:00:63',
      spanningTree: 'blocking',
      untaggedVlans: [],
      taggedVlans: [20],
    },
    { ...port, name: 'wg0', kind: 'tunnel', ifIndex: 4, mtuBytes: 1420 },
  ],
  routes: [],
  mounts: [],
  forwarding: [
    { port: 'tap1', vlan: 1, macs: ['02:00:5e:00:00:31'] },
    { port: 'tap1', vlan: 20, macs: ['02:00:5e:00:00:32', '02:00:5e:00:00:33'] },
  ],
};
