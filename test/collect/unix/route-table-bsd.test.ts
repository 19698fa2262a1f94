import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseBsdRouteTable } from '../../../src/collect/unix/route-table-bsd.ts';

// Kind: `netstat -rn` of macOS 15; written from memory of its form, values invented.
const output = `Routing tables

Internet:
Destination        Gateway            Flags               Netif Expire
default            198.18.20.1        UGScg                 en7
default            198.18.30.1        UGScIg                en0
127                127.0.0.1          UCS                   lo0
169.254            link#14            UCS                   en7      !
198.18.20          link#14            UCS                   en7      !
198.18.20.2        02:00:5e:00:00:31  UHLWIir               en7   1187
198.18.32/21       198.18.20.254      UGSc                  en7
224.0.0/4          link#14            UmCS                  en7      !

Internet6:
Destination                             Gateway                                 Flags               Netif Expire
default                                 fe80::%utun0                            UGcIg               utun0
2001:db8:20::/64                        link#14                                 UC                  en7
fe80::%lo0/64                           fe80::1%lo0                             UcI                 lo0
::1                                     ::1                                     UHL                 lo0
`;
const section = (text: string, status = 0) => ({
  name: 'route-table',
  about: '',
  output: text,
  words: '',
  status,
});

describe('netstat -rn of macOS', () => {
  it('gives prefixes written out, without rows for bound sockets and zones', () => {
    expect(parseBsdRouteTable(section(output))).toEqual([
      { prefix: '0.0.0.0/0', device: 'en7', gateway: '198.18.20.1' },
      { prefix: '127.0.0.0/8', device: 'lo0', gateway: '127.0.0.1' },
      { prefix: '169.254.0.0/16', device: 'en7' },
      { prefix: '198.18.20.0/24', device: 'en7' },
      { prefix: '198.18.32.0/21', device: 'en7', gateway: '198.18.20.254' },
      { prefix: '224.0.0.0/4', device: 'en7' },
      { prefix: '2001:db8:20::/64', device: 'en7' },
      { prefix: '::1/128', device: 'lo0', gateway: '::1' },
    ]);
  });

  it.each([
    ['not asked', undefined],
    ['failed', section('', 1)],
    ['empty', section('')],
    ['something else', section('Kernel IP routing table\nDestination Gateway')],
  ])('is absent when %s', (_name, given) => {
    expect(parseBsdRouteTable(given)).toBeUndefined();
  });

  it('makes nothing but literal prefixes of any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        const rows = parseBsdRouteTable(section(`Internet:\n${text}`)) ?? [];
        for (const row of rows) expect(row.prefix).toMatch(/^[0-9a-fA-F.:]+\/\d{1,3}$/);
      }),
    );
  });
});
