import { describe, expect, it } from 'vitest';
import { framed, type Printed } from '../../../mocks/unix-output/framed.ts';
import { parseUnixOutput } from '../../../src/collect/unix/parse-unix-output.ts';
import { recorded } from './recorded/recorded.ts';

const marker = 'mark-7';
const pauseHead = 'Pause parameters for eth4:\n';
const refused = { words: 'netlink error: Operation not supported', status: 1 };

/** The facts and gaps of one port, by what `ethtool` says of it. */
function read(lines: readonly string[], rest: readonly Printed[] = [], driver = 'copper10g') {
  const link = [{ ifindex: 2, ifname: 'eth4', flags: ['UP', 'LOWER_UP'], link_type: 'ether' }];
  const output = ['Settings for eth4:', ...lines.map((line) => `\t${line}`)].join('\n');
  const sections = [
    { section: 'system', output: 'Linux' },
    { section: 'ip-link', output: JSON.stringify(link) },
    { section: 'sysfs eth4', output: `@device\n@driver ${driver}\ntype:1\nifindex:2` },
    { section: 'ethtool eth4', output },
  ];
  const answer = new TextEncoder().encode(framed(marker, sections, rest));
  const outcome = parseUnixOutput(answer, marker);
  if (!outcome.ok) throw new Error(outcome.trouble.seen);
  const { ports, portGaps } = outcome.reading;
  const [port] = ports;
  return { facts: port?.facts ?? {}, gaps: { ...portGaps, ...port?.gaps } };
}

const at = (speed: number, port: string) => [
  `Speed: ${speed}Mb/s`,
  'Duplex: Full',
  `Port: ${port}`,
];
const module = (output: string) => [{ section: 'ethtool-module eth4', output }];
const ofType = (type: string) => module(`\t${'Transceiver type'.padEnd(41)} : ${type}`);

describe('phyText', () => {
  it.each<[string, ReturnType<typeof read>, string | undefined, string | undefined]>([
    ['copper at 100', read(at(100, 'Twisted Pair')), '100BASE-TX', undefined],
    ['copper at 2500', read(at(2500, 'Twisted Pair')), '2.5GBASE-T', undefined],
    ['copper at 10000', read(at(10_000, 'Twisted Pair')), '10GBASE-T', undefined],
    ['direct attach', read(at(25_000, 'Direct Attach Copper')), '25GBASE-CR', undefined],
    [
      'fibre by its module',
      read(at(10_000, 'FIBRE'), module(recorded('ethtool-module-sfp.txt'))),
      '10GBASE-SR',
      undefined,
    ],
    [
      'the same module at its lower rate',
      read(at(1000, 'FIBRE'), module(recorded('ethtool-module-sfp.txt'))),
      '1000BASE-SX',
      undefined,
    ],
    [
      'a module of another rate than the port',
      read(at(1000, 'FIBRE'), ofType('10G Ethernet: 10G Base-SR')),
      undefined,
      'a module of 10GBASE-SR in a port at 1000 Mb/s',
    ],
    [
      'fibre by the only mode of that speed',
      read(
        [...at(10_000, 'FIBRE'), 'Supported link modes:   10000baseLR/Full'],
        [{ section: 'ethtool-module eth4', ...refused }],
      ),
      '10GBASE-LR',
      undefined,
    ],
    [
      'fibre by a driver that calls every mode copper',
      read(
        [...at(10_000, 'FIBRE'), 'Supported link modes:   10000baseT/Full'],
        [{ section: 'ethtool-module eth4', ...refused }],
      ),
      undefined,
      'netlink error: Operation not supported',
    ],
    ['another port', read(at(1000, 'MII')), undefined, 'port MII names no medium'],
    ['no speed', read(['Port: Twisted Pair']), undefined, 'ethtool prints no speed'],
  ])('%s', (_, { facts, gaps }, phyText, words) => {
    expect(facts.phyText).toBe(phyText);
    expect(facts.phyText === undefined ? gaps['phyText']?.words : undefined).toBe(words);
  });

  it('is not believed of a port that has no hardware', () => {
    const { facts, gaps } = read(at(10_000, 'Twisted Pair'), [], 'virtio_net');
    expect(facts.phyText).toBeUndefined();
    expect(gaps['phyText']?.reason).toBe('doubtful');
  });
});

describe('partnerAutoNegotiation', () => {
  const partner = (mark: string, ...modes: readonly string[]) => [
    'Auto-negotiation: on',
    ...(modes.length === 0 ? [] : [`Link partner advertised link modes:  ${modes.join(' ')}`]),
    `Link partner advertised auto-negotiation: ${mark}`,
  ];
  it.each<[string, readonly string[], boolean | undefined, string | undefined]>([
    ['a partner that negotiates', partner('Yes', '1000baseT/Full'), true, undefined],
    ['a partner that was only detected', partner('No', '100baseT/Half'), false, undefined],
    ['a partner of which nothing is heard', partner('No'), false, undefined],
    [
      'a driver that never sets the mark',
      partner('No', '100baseT/Full', '1000baseT/Full'),
      undefined,
      'No, yet 2 modes of the partner are listed',
    ],
    [
      'no negotiation here',
      ['Auto-negotiation: off', 'Link partner advertised auto-negotiation: No'],
      undefined,
      'without negotiation here nothing is heard of the partner',
    ],
    ['no such line', ['Auto-negotiation: on'], undefined, 'ethtool prints nothing of the partner'],
  ])('%s', (_, lines, flag, words) => {
    const { facts, gaps } = read(lines);
    expect(facts.partnerAutoNegotiation).toBe(flag);
    expect(flag === undefined ? gaps['partnerAutoNegotiation']?.words : undefined).toBe(words);
  });
});

describe('pause', () => {
  const pause = (text: string) => [{ section: 'ethtool-pause eth4', output: pauseHead + text }];

  it('is what was negotiated', () => {
    const text =
      'Autonegotiate:\ton\nRX:\t\ton\nTX:\t\ton\nRX negotiated: off\nTX negotiated: on\n';
    expect(read([], pause(text)).facts).toMatchObject({ pauseRx: false, pauseTx: true });
  });

  it('is what is set where nothing is negotiated', () => {
    const { facts } = read([], pause('Autonegotiate:\toff\nRX:\t\ton\nTX:\t\toff\n'));
    expect(facts).toMatchObject({ pauseRx: true, pauseTx: false });
  });

  it('is not known by a setting whose negotiation has no outcome', () => {
    const { facts, gaps } = read([], pause('Autonegotiate:\ton\nRX:\t\ton\nTX:\t\ton\n'));
    expect(facts).not.toHaveProperty('pauseRx');
    expect(gaps['pauseRx']).toEqual({
      reason: 'doubtful',
      words: 'RX on, by negotiation without an outcome',
    });
  });

  it('counts frames by ethtool -a, else by the driver', () => {
    const counters = {
      section: 'ethtool-counters eth4',
      output: '     rx_pause: 4\n     tx_pause: 5',
    };
    const counted =
      'Autonegotiate:\toff\nRX:\t\ton\nTX:\t\ton\nStatistics:\n  rx_pause_frames: 9\n';
    expect(read([], [...pause(counted), counters]).facts).toMatchObject({
      rxPauseFrames: 9,
      txPauseFrames: 5,
    });
  });
});

describe('what may not be read', () => {
  it.each([
    ['plainly', 'netlink error: Operation not permitted'],
    ['with sudo that wants a password', 'sudo: a password is required'],
    ['with sudo that does not allow it', 'Sorry, user auditor is not allowed to execute ethtool'],
    ['with sudo that wants a terminal', 'sudo: sorry, you must have a tty to run sudo'],
  ])('%s is denied', (_, words) => {
    const { facts, gaps } = read(at(10_000, 'FIBRE'), [
      { section: 'ethtool-module eth4', words, status: 1 },
    ]);
    expect(facts).not.toHaveProperty('rxPowerDbm');
    for (const fact of ['moduleText', 'rxPowerDbm', 'txPowerLowDbm', 'moduleTemperatureCelsius']) {
      expect(gaps[fact], fact).toEqual({ reason: 'denied', words });
    }
    expect(gaps['phyText']).toEqual({ reason: 'denied', words });
  });

  it('is unsupported where the driver has none', () => {
    const rest = ['pause', 'eee', 'fec', 'counters', 'module'].map((name) => ({
      section: `ethtool-${name} eth4`,
      ...refused,
    }));
    const { gaps } = read([], rest);
    const facts = [
      'pauseRx',
      'txPauseFrames',
      'eeeActive',
      'fecText',
      'rxSymbolErrors',
      'moduleText',
    ];
    for (const fact of facts) {
      expect(gaps[fact], fact).toEqual({ reason: 'unsupported', words: refused.words });
    }
  });

  it.each([
    ['eeeEnabled', 'ethtool-eee', '\tEEE status: not supported', 'EEE status: not supported'],
    ['fecText', 'ethtool-fec', 'Active FEC encoding: None', 'Active FEC encoding: None'],
    ['lateCollisions', 'ethtool-counters', '', 'the driver counts it under no known name'],
  ])('%s: none is no reading', (fact, name, output, words) => {
    const { facts, gaps } = read([], [{ section: `${name} eth4`, output }]);
    expect(facts).not.toHaveProperty(fact);
    expect(gaps[fact]).toEqual({ reason: 'unsupported', words });
  });

  it('counts no link that went down where ethtool and driver count none', () => {
    const none = [{ section: 'ethtool-counters eth4', output: '' }];
    expect(read(['Link Down Events: 3'], none).facts.linkDownEvents).toBe(3);
    expect(read([], none).gaps['linkDownEvents']?.words).toBe('ethtool prints no Link Down Events');
    const driver = [{ section: 'ethtool-counters eth4', output: '     link_down_events_phy: 4' }];
    expect(read([], driver).facts.linkDownEvents).toBe(4);
  });
});

describe('hostile words of a module', () => {
  it.each(['\u001b[31mred', '\u202egnp.exe', 'x'.repeat(3000), '<script>'])('cleans %j', (text) => {
    const { facts } = read(at(10_000, 'FIBRE'), ofType(text));
    expect(facts.moduleText).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e]/);
    expect(facts.moduleText?.length).toBeLessThanOrEqual(300);
    const fec = [{ section: 'ethtool-fec eth4', output: `Active FEC encoding: R${text}` }];
    expect(read([], fec).facts.fecText ?? '').not.toMatch(/[\u0000-\u001f\u202e]/);
  });
});
