import { describe, expect, it } from 'vitest';
import { framed } from '../../../mocks/unix-output/framed.ts';
import { framesOf } from '../../../src/collect/unix/frames.ts';
import { parseLinuxRoute } from '../../../src/collect/unix/route-linux.ts';
import { linuxRouteTable } from '../../../src/collect/unix/route-table-linux.ts';

/** Printed by iproute2 6.1 and 4.9 and BusyBox 1.35; addresses altered. */
describe('parseLinuxRoute', () => {
  it.each([
    [
      'JSON, next door',
      '[{"dst":"198.18.0.9","dev":"eno1","prefsrc":"198.18.0.2","flags":[],"uid":0,"cache":[]}]',
      { device: 'eno1', from: '198.18.0.2' },
    ],
    [
      'JSON, routed, learnt MTU',
      '[{"dst":"198.18.1.1","gateway":"198.18.0.254","dev":"ar","prefsrc":"198.18.0.1","flags":[],"uid":0,"cache":[],"expires":597,"metrics":[{"mtu":1500}]}]',
      { device: 'ar', gateway: '198.18.0.254', from: '198.18.0.1', mtuBytes: 1500 },
    ],
    [
      'JSON, own address',
      '[{"type":"local","dst":"198.18.0.1","dev":"lo","prefsrc":"198.18.0.1","flags":[],"cache":["local"]}]',
      { device: 'lo', from: '198.18.0.1' },
    ],
    [
      'text, routed, MTU of the route',
      '192.0.2.1 via 198.18.0.2 dev v0 src 198.18.0.1 uid 0 \n    cache mtu 1400 ',
      { device: 'v0', gateway: '198.18.0.2', from: '198.18.0.1', mtuBytes: 1400 },
    ],
    [
      'text, learnt MTU',
      '198.18.1.1 via 198.18.0.254 dev ar src 198.18.0.1 uid 0 \n    cache expires 597sec mtu 1500 ',
      { device: 'ar', gateway: '198.18.0.254', from: '198.18.0.1', mtuBytes: 1500 },
    ],
    ['BusyBox', '192.0.2.1 dev eth0  src 192.0.2.2 ', { device: 'eth0', from: '192.0.2.2' }],
    [
      'JSON with a port number for an MTU',
      '[{"dst":"198.18.0.9","dev":"eno1","metrics":[{"mtu":"1500"}]}]',
      { device: 'eno1' },
    ],
  ])('%s', (_, output, route) => {
    const section = { name: 'route', about: '198.18.0.9', output, words: '', status: 0 };
    expect(parseLinuxRoute(section)).toEqual({ to: '198.18.0.9', ...route });
  });

  it.each([
    ['', 'RTNETLINK answers: Network is unreachable', 'RTNETLINK answers: Network is unreachable'],
    ['', '', 'no route was printed'],
    ['[]', '', '[]'],
  ])('keeps the words where there is none: %j %j', (output, words, kept) => {
    const section = { name: 'route', about: '198.18.0.9', output, words, status: 2 };
    expect(parseLinuxRoute(section)).toEqual({ to: '198.18.0.9', words: kept });
  });
});

describe('linuxRouteTable', () => {
  const rules =
    '0:\tfrom all lookup local\n32766:\tfrom all lookup main\n32767:\tfrom all lookup default';
  const usual = { rules, 'rules-6': rules, 'route-table': '[]', 'route-table-6': '[]' };

  function table(parts: Readonly<Record<string, string>>, status = 0) {
    const sections = Object.entries({ ...usual, ...parts }).map(([section, output]) => ({
      section,
      output,
      status,
    }));
    return linuxRouteTable(framesOf(new TextEncoder().encode(framed('m', sections)), 'm'));
  }

  it('reads rows of both families', () => {
    const v4 = [
      { dst: 'default', gateway: '198.18.0.2', dev: 'v0', metric: 5, metrics: [{ mtu: 1400 }] },
      { dst: '198.18.0.0/24', dev: 'v0', protocol: 'kernel', flags: ['linkdown'] },
      { dst: '198.18.5.5', dev: 'v1', flags: [] },
      { dst: '198.18.6.0/24', dev: 'v1', flags: ['dead', 'linkdown'] },
      { dst: '198.18.7.0/24', nexthops: [{ gateway: '198.18.0.3', dev: 'v0' }] },
    ];
    const v6 = [
      { dst: 'fe80::/64', dev: 'v0', metric: 256 },
      { dst: 'default', dev: 'lo', type: 'unreachable', metric: 4_294_967_295 },
    ];
    const parts = { 'route-table': JSON.stringify(v4), 'route-table-6': JSON.stringify(v6) };
    expect(table(parts)).toEqual([
      {
        prefix: '0.0.0.0/0',
        device: 'v0',
        gateway: '198.18.0.2',
        mtuBytes: 1400,
        metric: 5,
      },
      { prefix: '198.18.0.0/24', device: 'v0' },
      { prefix: '198.18.5.5/32', device: 'v1' },
      { prefix: '198.18.7.0/24', device: 'v0' },
      { prefix: 'fe80::/64', device: 'v0', metric: 256 },
    ]);
  });

  it.each([
    ['a rule of its own', { rules: `${rules}\n100:\tfrom 198.18.0.0/24 lookup 7` }],
    ['a rule for IPv6', { 'rules-6': '1:\tfrom all fwmark 0x1 lookup main' }],
    [
      'two ways at once',
      { 'route-table': '[{"dst":"default","nexthops":[{"dev":"a"},{"dev":"b"}]}]' },
    ],
    ['a way to nowhere', { 'route-table': '[{"type":"blackhole","dst":"198.18.9.0/24"}]' }],
    ['two ways at once in text', { 'route-table': 'default\n\tnexthop via 198.18.0.2 dev v0' }],
    ['a way to nowhere in text', { 'route-table': 'blackhole 198.18.9.0/24' }],
    ['something else', { 'route-table': 'Usage: ip route' }],
    ['half a list', { 'route-table': '[{"dst":"default","dev":"v0"},' }],
    ['no prefix', { 'route-table': '[{"dst":"x/24","dev":"v0"}]' }],
  ])('is absent with %s', (_, parts) => {
    expect(table(parts)).toBeUndefined();
  });

  it('is absent when a command failed', () => {
    expect(table({}, 1)).toBeUndefined();
    expect(table({})).toEqual([]);
  });
});
