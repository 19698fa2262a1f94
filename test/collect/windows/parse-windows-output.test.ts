import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answerPowershell } from '../../../mocks/windows-output/answer-powershell.ts';
import type { DescribedWindows } from '../../../mocks/windows-output/described-windows.ts';
import { type PrintedRows, windowsFramed } from '../../../mocks/windows-output/windows-framed.ts';
import type { NodeReading } from '../../../src/collect/types.ts';
import { parseWindowsOutput } from '../../../src/collect/windows/parse-windows-output.ts';
import { windowsScript } from '../../../src/collect/windows/windows-script.ts';
import { plot3 } from './described.ts';

const marker = 'mark-7';
const bytes = (text: string) => new TextEncoder().encode(text);
const plain = { ...plot3, plainAccount: true };

function answer(host: DescribedWindows): string {
  const peers = (host.routes ?? []).map(({ to }) => to);
  return answerPowershell(host, windowsScript({ marker, peers })) ?? '';
}

function read(text: string | Uint8Array): NodeReading {
  const outcome = parseWindowsOutput(typeof text === 'string' ? bytes(text) : text, marker);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.trouble));
  return outcome.reading;
}

function printed(sections: readonly PrintedRows[], rest: readonly PrintedRows[] = []): NodeReading {
  return read(windowsFramed(marker, sections, rest));
}

function portsOf(reading: NodeReading) {
  return Object.fromEntries(reading.ports.map(({ name, facts }) => [name, facts]));
}

function gapOf(reading: NodeReading, port: string, fact: string) {
  const found = reading.ports.find(({ name }) => name === port);
  return found?.gaps?.[fact] ?? reading.portGaps[fact];
}

/** Every fact of `part` is one of `whole`; lists hold only what the whole list holds. */
function strangers(part: NodeReading, whole: NodeReading): readonly string[] {
  const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);
  const known: Record<string, Record<string, unknown>> = portsOf(whole);
  const wrong = Object.entries(portsOf(part)).flatMap(([name, facts]) =>
    Object.entries(facts).flatMap(([fact, value]) =>
      same(value, known[name]?.[fact]) ? [] : [`${name} ${fact} ${value}`],
    ),
  );
  for (const [fact, value] of Object.entries(part.facts)) {
    if (!same(value, { ...whole.facts }[fact])) wrong.push(`${fact} ${value}`);
  }
  for (const list of ['routes', 'mounts'] as const) {
    for (const item of part[list]) {
      if (!whole[list].some((other) => same(item, other))) wrong.push(JSON.stringify(item));
    }
  }
  return wrong;
}

describe('a Windows host, printed as described', () => {
  const whole = answer(plot3);
  const reading = read(whole);

  it('gives the described facts and no others', () => {
    expect(reading.facts).toEqual(plot3.facts);
    expect(portsOf(reading)).toEqual(
      Object.fromEntries(plot3.ports.map(({ name, ...facts }) => [name, facts])),
    );
    expect(reading.routes).toEqual(plot3.routes);
    expect(reading.routeTable).toEqual(plot3.routeTable);
    expect(reading.mounts).toEqual(plot3.mounts);
    expect(reading.sessions).toEqual([]);
  });

  it('names a source for every fact', () => {
    for (const { facts, sources } of reading.ports) {
      for (const fact of Object.keys(facts)) {
        expect(sources?.[fact] ?? reading.portSources[fact], fact).toMatch(/\w/);
      }
    }
    expect(Object.keys(reading.sources).sort()).toEqual(Object.keys(reading.facts).sort());
  });

  it.each([
    ['an administrator', plot3],
    ['a plain account', plain],
  ])(
    'gives no other fact wherever the answer to %s is cut',
    (_, host) => {
      const text = answer(host);
      const full = read(text);
      const all = bytes(text);
      const core = text.indexOf(`${marker} rest\r\n`) + marker.length + 7;
      let count = 0;
      for (let length = 0; length < all.length; length += 1) {
        const outcome = parseWindowsOutput(all.subarray(0, length), marker);
        if (!outcome.ok) {
          expect(['no-marks', 'truncated']).toContain(outcome.trouble.kind);
          continue;
        }
        count += 1;
        const wrong = strangers(outcome.reading, full);
        if (wrong.length > 0) expect(wrong).toEqual([]);
        const wanted = length < core ? 'truncated' : undefined;
        if (outcome.reading.gaps['routes']?.reason !== wanted) expect(length).toBe(wanted);
        expect([undefined, full.routeTable]).toContainEqual(outcome.reading.routeTable);
      }
      expect(count).toBeGreaterThan(1000);
    },
    120_000,
  );

  it.each([
    ['lines ended by LF', bytes(whole.replaceAll('\r\n', '\n'))],
    ['noise before and after', bytes(`Welcome!\r\n${whole}bye\r\n`)],
    ['a byte order mark', bytes(`\ufeff${whole}`)],
    ['UTF-16 with its mark', new Uint8Array(Buffer.from(`\ufeff${whole}`, 'utf16le'))],
    ['UTF-16 without a mark', new Uint8Array(Buffer.from(whole, 'utf16le'))],
  ])('is read alike with %s', (_, output) => {
    expect(read(output)).toEqual(reading);
  });

  it.each([
    ['Ethernet 2', 'speedMbps', 'down', 'no link'],
    ['Ethernet 2', 'duplex', 'down', 'no link'],
    ['WLAN', 'duplex', 'unsupported', 'Windows does not say'],
    ['WLAN', 'autoNegotiation', 'unsupported', 'the driver has no such setting'],
    ['WLAN', 'driverMtuBytes', undefined, undefined],
    ['Ethernet 2', 'mtuMaxBytes', 'unsupported', 'the driver does not say'],
    ['Ethernet 2', 'busText', 'unsupported', 'no PCI Express device'],
    ['Loopback Pseudo-Interface 1', 'mtuBytes', 'unsupported', 'the system sets it no limit'],
    ['Ethernet', 'partnerModes', 'unsupported', 'Windows does not say'],
    ['Ethernet', 'rxCrcErrors', 'unsupported', 'Windows does not count it'],
  ])('%s has no %s, and says why', (port, fact, reason, words) => {
    expect({ ...portsOf(reading)[port] }[fact as 'speedMbps']).toBeUndefined();
    expect(gapOf(reading, port, fact)).toEqual(reason && { reason, words });
  });
});

describe('an account that may not ask the management interface', () => {
  const reading = read(answer(plain));

  it('still reads MTU, speed, driver setting, addresses and counters', () => {
    const { Ethernet } = portsOf(reading);
    expect(Ethernet).toEqual({
      alias: '10GbE PCIe Adapter',
      kind: 'physical',
      macAddress: '02:00:5e:00:00:31',
      ifIndex: 12,
      adminUp: true,
      operUp: true,
      mtuBytes: 9000,
      driverMtuBytes: 9000,
      speedMbps: 10_000,
      autoNegotiation: true,
      eeeEnabled: false,
      driverVersion: '3.1.6.0',
      vlanId: 20,
      addresses: ['198.18.20.31/24', 'fd00:5e::31/64'],
      rxOctets: 812_000_000,
      txOctets: 601_000_000,
      rxFrames: 90_210,
      txFrames: 70_110,
      rxErrors: 3,
      txErrors: 1,
      rxDropped: 7,
      txDropped: 2,
    });
  });

  it.each([
    ['Ethernet', 'duplex'],
    ['Ethernet', 'mtuMaxBytes'],
    ['Ethernet', 'busText'],
    ['Ethernet', 'driver'],
    ['Ethernet', 'permanentMacAddress'],
    ['Ethernet 2', 'adminUp'],
  ])('says of %s %s that it is denied', (port, fact) => {
    expect(gapOf(reading, port, fact)).toEqual({
      reason: 'denied',
      words: 'Zugriff verweigert (HRESULT 0x80041003,Get-NetAdapter)',
    });
  });

  it('tells the port towards a peer by its own address, and keeps no table', () => {
    expect(reading.routes).toEqual([
      { to: '198.18.20.2', device: 'Ethernet', from: '198.18.20.31' },
      { to: '198.18.9.9', device: 'Ethernet', from: '198.18.20.31' },
      { to: 'fd00:99::1', words: 'Zugriff verweigert (HRESULT 0x80041003,Get-NetAdapter)' },
    ]);
    expect(reading.routeTable).toBeUndefined();
    expect(reading.facts.uptimeSeconds).toBeUndefined();
    expect(reading.gaps['uptimeSeconds']?.reason).toBe('denied');
  });
});

const adapter = {
  Name: 'Ethernet',
  InterfaceGuid: '{02005E}',
  InterfaceIndex: 12,
  InterfaceType: 6,
  NdisPhysicalMedium: 14,
  HardwareInterface: true,
  InterfaceOperationalStatus: 1,
  InterfaceAdminStatus: 1,
};
const fine = (section: string, rows: readonly object[] = []): PrintedRows => ({ section, rows });
const single = (over: object, more: readonly PrintedRows[] = []) =>
  printed([fine('adapters', [{ ...adapter, ...over }]), fine('interfaces'), ...more]);

describe('single values', () => {
  const jumbo = (value: unknown) =>
    single({}, [
      fine('registry'),
      fine('properties', [
        { Name: 'Ethernet', RegistryKeyword: '*JumboPacket', RegistryValue: [value] },
      ]),
    ]);

  // 1514 is the default and the least value, "Keywords That Can Be Edited" of the Windows driver
  // documentation: the largest plain frame without its FCS.
  it.each([
    ['1514', 1500],
    ['4088', 4074],
    ['9014', 9000],
    [' 9014', 9000],
    ['9614', 9600],
  ])('*JumboPacket %j allows %i bytes', (value, bytesMax) => {
    expect(jumbo(value).ports[0]?.facts.driverMtuBytes).toBe(bytesMax);
  });

  it.each([
    ['0', 'unreadable', '*JumboPacket is 0'],
    ['1', 'unreadable', '*JumboPacket is 1'],
    ['1500', 'unreadable', '*JumboPacket is 1500'],
    ['9 KB', 'unreadable', '*JumboPacket is "9 KB"'],
    ['-1', 'unreadable', '*JumboPacket is "-1"'],
    ['99999999', 'unreadable', '*JumboPacket is 99999999'],
  ])('*JumboPacket %j is a gap', (value, reason, words) => {
    const reading = jumbo(value);
    expect(reading.ports[0]?.facts.driverMtuBytes).toBeUndefined();
    expect(gapOf(reading, 'Ethernet', 'driverMtuBytes')).toEqual({ reason, words });
  });

  it.each([
    [0, undefined],
    [10_000_000_000, 10_000],
    [2_500_000_000, 2500],
    [2 ** 64, undefined],
    [2 ** 63, undefined],
    ['10 Gbps', undefined],
    [null, undefined],
    [-1, undefined],
  ])('ReceiveLinkSpeed %j is %j Mb/s', (value, speedMbps) => {
    const reading = single({ ReceiveLinkSpeed: value });
    expect(reading.ports[0]?.facts.speedMbps).toBe(speedMbps);
  });

  it.each([
    [1, false, 'half'],
    [2, true, 'full'],
    [0, true, 'full'],
    [0, false, undefined],
    ['Full', undefined, undefined],
  ])('MediaDuplexState %j, FullDuplex %j is %j', (MediaDuplexState, FullDuplex, duplex) => {
    expect(single({ MediaDuplexState, FullDuplex }).ports[0]?.facts.duplex).toBe(duplex);
  });

  it.each([
    ['wireless by type', { InterfaceType: 71 }, 'wireless'],
    ['wireless by medium', { NdisPhysicalMedium: 9 }, 'wireless'],
    ['tunnel', { InterfaceType: 131 }, 'tunnel'],
    ['a point-to-point link', { InterfaceType: 23 }, 'tunnel'],
    ['made up by a hypervisor', { DriverName: '\\SystemRoot\\drivers\\netvsc.sys' }, 'virtual'],
    ['a virtual adapter', { HardwareInterface: false }, 'virtual'],
    ['hardware', {}, 'physical'],
  ])('%s', (_, over, kind) => {
    const reading = single(over, [fine('registry'), fine('teams')]);
    expect(reading.ports[0]?.facts.kind).toBe(kind);
  });

  it('takes IPv4 before IPv6, by number or by name', () => {
    const ip = (rows: readonly object[]) => single({}, [fine('ip', rows)]).ports[0]?.facts.mtuBytes;
    const of = (AddressFamily: unknown, NlMtu: number) => ({
      InterfaceIndex: 12,
      AddressFamily,
      NlMtu,
    });
    expect(ip([of(23, 1280), of(2, 9000)])).toBe(9000);
    expect(ip([of('IPv6', 1280), of('IPv4', 1500)])).toBe(1500);
    expect(ip([of('IPv6', 1280)])).toBe(1280);
    expect(ip([{ ...of(2, 9000), InterfaceIndex: 13 }])).toBeUndefined();
  });

  it('reads a list that PowerShell prints as an object', () => {
    const text = windowsFramed(marker, [fine('adapters'), fine('interfaces')], []);
    const one = text.replace('[]', JSON.stringify(adapter).replace(/.{60}/g, '$&\r\n'));
    expect(read(one).ports.map(({ name }) => name)).toEqual(['Ethernet']);
    const list = JSON.stringify({ value: [adapter], Count: 1 }).replace(/.{60}/g, '$&\r\n');
    expect(read(text.replace('[]', list)).ports.map(({ name }) => name)).toEqual(['Ethernet']);
  });
});

describe('why nothing was read', () => {
  const empty = (id: string, category: number): readonly PrintedRows[] =>
    ['adapters', 'interfaces'].map((section) => ({
      section,
      rows: [],
      error: { category, id, message: 'no' },
    }));

  it('says that no list of adapters came, in the host’s words', () => {
    const text = windowsFramed(marker, empty('CommandNotFoundException', 13), []);
    expect(parseWindowsOutput(bytes(text), marker)).toEqual({
      ok: false,
      trouble: {
        kind: 'garbled',
        seen: 'no list of adapters: "no (CommandNotFoundException); no (CommandNotFoundException)"',
        remedy: 'let the account run Get-NetAdapter, or powershell in its full language mode',
      },
    });
  });

  it.each([
    [18, 'x', 'denied'],
    [0, 'HRESULT 0x80041003,Get-NetAdapter', 'denied'],
    [0, 'Windows System Error 5,Get-NetAdapter', 'denied'],
    [0, 'Windows System Error 50,Get-NetAdapter', 'unreadable'],
    [13, 'CommandNotFoundException', 'unsupported'],
    [0, 'HRESULT 0x80041010,Get-NetLbfoTeam', 'unsupported'],
    [8, 'HRESULT 0x800706ba,Get-NetAdapter', 'unreadable'],
  ])('category %i, identifier %s is %s', (category, id, reason) => {
    const error = { category, id, message: 'ett fel' };
    const reading = single({}, [{ section: 'ip', rows: [], error }]);
    expect(gapOf(reading, 'Ethernet', 'mtuBytes')).toEqual({ reason, words: `ett fel (${id})` });
  });
});

describe('hostile answers', () => {
  const nasty = '\u001b[2J\u202e<script>=cmd|\u0000';

  it('cleans every text', () => {
    const reading = single(
      {
        Name: `Eth${nasty}`,
        InterfaceDescription: nasty,
        DriverName: `\\x\\${nasty}.sys`,
        DriverVersionString: nasty.repeat(200),
      },
      [
        fine('mounts', [{ LocalPath: nasty, RemotePath: `\\\\${nasty}\\share` }]),
        fine('route-table', [{ DestinationPrefix: '0.0.0.0/0', InterfaceAlias: nasty }]),
      ],
    );
    const text = JSON.stringify(reading);
    expect(text).not.toMatch(/\\u001b|\\u0000/);
    expect(text).not.toContain('\u202e');
    expect(text.length).toBeLessThan(8000);
  });

  it('takes no address, MAC or prefix that is none', () => {
    const own = {
      Name: 'Ethernet',
      Id: '{02005E}',
      Mac: 'no mac',
      Addresses: ['198.18.0.1/99x', 'fe80::1%4/64', '169.254.1.1/16', 'a b/1', 7, '198.18.0.1/24'],
    };
    const reading = printed([
      fine('adapters', [adapter]),
      fine('interfaces', [own]),
      fine('route-table', [
        { DestinationPrefix: '198.18.0.0/33', InterfaceAlias: 'Ethernet' },
        { DestinationPrefix: '$(x)/1', InterfaceAlias: 'Ethernet' },
        { DestinationPrefix: '198.18.0.0/24', InterfaceAlias: 'Ethernet', NextHop: '; x' },
      ]),
    ]);
    expect(reading.ports[0]?.facts.addresses).toEqual(['198.18.0.1/24']);
    expect(reading.ports[0]?.facts.macAddress).toBeUndefined();
    expect(reading.routeTable).toEqual([{ prefix: '198.18.0.0/24', device: 'Ethernet' }]);
  });

  it('never throws, whatever the bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (noise) => {
        const head = bytes(`${marker} begin 1\n${marker} open adapters\n`);
        for (const output of [noise, new Uint8Array([...head, ...noise])]) {
          expect(parseWindowsOutput(output, marker).ok).toBe(false);
        }
      }),
    );
  });

  it('never throws, whatever the values', () => {
    const keys = Object.keys(adapter).concat('RegistryKeyword', 'RegistryValue', 'Members', 'Id');
    const row = fc.dictionary(fc.constantFrom(...keys), fc.jsonValue());
    fc.assert(
      fc.property(fc.array(row, { maxLength: 4 }), (rows) => {
        const names = ['adapters', 'interfaces', 'registry', 'ip', 'properties', 'teams', 'mounts'];
        const text = windowsFramed(
          marker,
          names.map((name) => fine(name, rows)),
          [fine('hardware', rows)],
        );
        expect(typeof parseWindowsOutput(bytes(text), marker).ok).toBe('boolean');
      }),
    );
  });
});
