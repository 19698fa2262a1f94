import { describe, expect, it } from 'vitest';
import { parseIfconfigLinux } from '../../../src/collect/unix/ifconfig-linux.ts';
import { prefixLengthOf } from '../../../src/collect/unix/netmask.ts';
import {
  parseProcRoute,
  parseProcRoute6,
  parseRouteN,
} from '../../../src/collect/unix/route-rows-proc.ts';

describe('ifconfig -a of Linux', () => {
  it('reads BusyBox, second addresses and a port without address', () => {
    // Form: BusyBox 1.35 `ifconfig -a`; addresses altered.
    const output = `eth0      Link encap:Ethernet  HWaddr 02:00:5E:00:00:01  
          inet addr:198.18.0.10  Bcast:198.18.0.255  Mask:255.255.255.0
          inet6 addr: fd00:5e::10/64 Scope:Global
          inet6 addr: fe80::1/64 Scope:Link
          UP BROADCAST RUNNING MULTICAST  MTU:9000  Metric:1
          RX packets:90210 errors:3 dropped:7 overruns:0 frame:4
          TX packets:70110 errors:1 dropped:2 overruns:0 carrier:0
          collisions:0 txqueuelen:1000 
          RX bytes:812000000 (774.3 MiB)  TX bytes:601000000 (573.1 MiB)
          Interrupt:9 Base address:0x5000 

eth0:1    Link encap:Ethernet  HWaddr 02:00:5E:00:00:01  
          inet addr:198.18.1.10  Bcast:198.18.1.255  Mask:255.255.255.0
          UP BROADCAST RUNNING MULTICAST  MTU:9000  Metric:1

eth1      Link encap:Ethernet  HWaddr 02:00:5E:00:00:02  
          BROADCAST MULTICAST  MTU:1500  Metric:1
`;
    expect(parseIfconfigLinux(output)).toEqual([
      {
        name: 'eth0',
        up: true,
        running: true,
        loopback: false,
        mtuBytes: 9000,
        macAddress: '02:00:5e:00:00:01',
        addresses: ['198.18.0.10/24', 'fd00:5e::10/64', '198.18.1.10/24'],
        rxFrames: 90_210,
        txFrames: 70_110,
        rxErrors: 3,
        txErrors: 1,
        rxDropped: 7,
        txDropped: 2,
        rxOctets: 812_000_000,
        txOctets: 601_000_000,
      },
      {
        name: 'eth1',
        up: false,
        running: false,
        loopback: false,
        mtuBytes: 1500,
        macAddress: '02:00:5e:00:00:02',
        addresses: [],
      },
    ]);
  });

  it.each([[''], ['sh: ifconfig: not found'], ['eth0'], ['x'.repeat(5000)]])(
    'reads nothing from %j',
    (output) => {
      expect(parseIfconfigLinux(output)).toEqual([]);
    },
  );
});

describe('prefixLengthOf', () => {
  it.each([
    ['255.255.255.0', 24],
    ['0.0.0.0', 0],
    ['0xfffffe00', 23],
    ['0xffffffff', 32],
    ['255.0.255.0', undefined],
    ['0xff00ff00', undefined],
    ['255.255.255', undefined],
    ['', undefined],
  ])('%s', (mask, length) => {
    expect(prefixLengthOf(mask)).toBe(length);
  });
});

const rows = [
  { prefix: '0.0.0.0/0', device: 'eth0', gateway: '192.0.2.1' },
  { prefix: '192.0.2.0/24', device: 'eth0', metric: 5 },
];

describe('route -n', () => {
  const output = `Kernel IP routing table
Destination     Gateway         Genmask         Flags Metric Ref    Use Iface
0.0.0.0         192.0.2.1       0.0.0.0         UG    0      0        0 eth0
192.0.2.0       0.0.0.0         255.255.255.0   U     5      0        0 eth0
`;

  it('is a routing table', () => {
    expect(parseRouteN(output)).toEqual(rows);
  });

  it.each([
    [
      'a refusal',
      `${output}198.18.9.0      -               255.255.255.0   !H    0      -        0 -\n`,
    ],
    ['a mask with a hole', output.replace('255.255.255.0', '255.0.255.0')],
    ['something else', 'route: not found'],
  ])('is none with %s', (_, text) => {
    expect(parseRouteN(text)).toBeUndefined();
  });
});

describe('/proc/net/route', () => {
  const titles =
    'Iface\tDestination\tGateway \tFlags\tRefCnt\tUse\tMetric\tMask\t\tMTU\tWindow\tIRTT';
  const table = (...lines: readonly string[]) => [titles, ...lines].join('\n');
  const little = [
    'eth0\t00000000\t010200C0\t0003\t0\t0\t0\t00000000\t0\t0\t0',
    'eth0\t000200C0\t00000000\t0001\t0\t0\t5\t00FFFFFF\t0\t0\t0',
  ];
  const big = [
    'eth0\t00000000\tC0000201\t0003\t0\t0\t0\t00000000\t0\t0\t0',
    'eth0\tC0000200\t00000000\t0001\t0\t0\t5\tFFFFFF00\t0\t0\t0',
  ];

  it.each([
    ['last', little],
    ['first', big],
  ])('is read where numbers have their first byte %s', (_, lines) => {
    expect(parseProcRoute(table(...lines))).toEqual(rows);
  });

  it.each([
    ['no mask tells the order', [little[0] ?? '']],
    ['masks tell different orders', [little[1] ?? '', big[1] ?? '']],
    ['a row refuses', [little[1]?.replace('\t0001\t', '\t0201\t') ?? '']],
    ['a cell is none', ['eth0\tx']],
  ])('is none where %s', (_, lines) => {
    expect(parseProcRoute(table(...lines))).toBeUndefined();
  });
});

describe('/proc/net/ipv6_route', () => {
  const zero = '0'.repeat(32);
  const line = (to: string, length: string, via: string, flags: string, device: string) =>
    `${to} ${length} ${zero} 00 ${via} 00000100 00000001 00000000 ${flags}     ${device}`;
  const net = `fd00005e${'0'.repeat(24)}`;

  it('is a routing table without what is the kernel of its own', () => {
    const output = [
      line(net, '40', zero, '00000001', 'eth0'),
      line(zero, '00', `fe80${'0'.repeat(27)}1`, '00000003', 'eth0'),
      line(`fd00005e${'0'.repeat(22)}10`, '80', zero, '80200001', 'eth0'),
      line(`ff${'0'.repeat(30)}`, '08', zero, '00000001', 'eth0'),
      line(zero, '00', zero, '00200200', 'lo'),
    ].join('\n');
    expect(parseProcRoute6(output)).toEqual([
      { prefix: 'fd00:5e::/64', device: 'eth0', metric: 256 },
      { prefix: '::/0', device: 'eth0', gateway: 'fe80::1', metric: 256 },
    ]);
  });

  it('is none where a line is something else', () => {
    expect(parseProcRoute6('nonsense')).toBeUndefined();
  });
});
