import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';
import { fakeRun, host, twoHosts } from './fake-io.ts';

async function said(...argv: string[]) {
  const fake = fakeRun({ columns: 120, terminal: true });
  const status = await run(['ceiling', ...argv], fake.io);
  return { status, stdout: plain(fake.stdout()), stderr: fake.stderr() };
}

/** Without the tones of a terminal. */
function plain(text: string): string {
  return text.replaceAll(/\u001b\[\d+m/g, '');
}

describe('ceiling', () => {
  it('prints the arithmetic in readable lines', async () => {
    const { status, stdout } = await said(
      ...['--rate', '10G', '--mtu', '9000', '--rtt', '0.2ms', '--seconds', '20'],
    );
    expect(status).toBe(0);
    expect(stdout).toBe(`\
10 Gb/s at MTU 9000: at most 9900.4 Mb/s of TCP user data one way
  packet       9000 bytes = IPv4 20 + TCP 20 + timestamps 12 + user data 8948
  frame        9018 bytes = header 14 + packet 9000 + FCS 4
  on the wire  9038 bytes = preamble 8 + frame 9018 + gap 12
  efficiency   8948 / 9038 = 99.0042 %
  packets      10000 Mb/s / (8 x 9038) = 138304 a second (RFC 5180 A.1)
  goodput      10000 Mb/s x 8948 / 9038 = 9900.42 Mb/s = 1237.55 MB/s = 1180.22 MiB/s
  window       10000 Mb/s x 0.2 ms / 8 = 250000 bytes at least (RFC 6349 3.3.1)
  no scaling   65535 bytes x 8 / 0.2 ms = 2621.4 Mb/s; 4 such connections fill the line
  in 20 s      9900.42 Mb/s x 20 s / 8 = 24.75 GB = 23.1 GiB
`);
  });

  it('counts IPv6, tags and options as asked', async () => {
    const { stdout } = await said('--rate', '1G', '--vlan', '2', '--ipv6', '--no-timestamps');
    expect(stdout).toContain('packet       1500 bytes = IPv6 40 + TCP 20 + user data 1440\n');
    expect(stdout).toContain(
      'frame        1526 bytes = header 14 + tags 8 + packet 1500 + FCS 4\n',
    );
    expect((await said('--rate', '1G', '--vlan')).stdout).toContain(
      '1000 Mb/s x 1448 / 1542 = 939.04 Mb/s',
    );
  });

  it('says where a window without scaling is enough', async () => {
    const { stdout } = await said('--rate', '1G', '--rtt', '200us');
    expect(stdout).toContain(
      '= 25000 bytes at least (RFC 6349 3.3.1); a window without scaling is enough',
    );
  });

  it('says that headers alone fill a packet, and pads a short frame', async () => {
    const { stdout } = await said('--rate', '1G', '--mtu', '68', '--ipv6');
    expect(stdout).toContain(
      '68 bytes: IPv6 40 + TCP 20 + timestamps 12 leave no room for user data',
    );
    expect(stdout).toContain('goodput      1000 Mb/s x 0 / 106 = 0 Mb/s');
  });
});

describe('ceiling --measured', () => {
  const rows: readonly (readonly [string, readonly string[], string])[] = [
    ['941M', [], 'first  a full link of 1 Gb/s at MTU 1500'],
    ['112MiB/s', [], 'first  a full link of 1 Gb/s at MTU 1500'],
    ['9.90G', [], 'first  a full link of 10 Gb/s at MTU 9000'],
    ['9.41G', ['--rate', '10G'], 'first  the line is full: 10 Gb/s at MTU 1500 gives no more'],
    [
      '9.41G',
      ['--rate', '10G', '--mtu', '9000'],
      'first  a hop, most likely an end, passes only 1500 of the 9000 bytes',
    ],
    [
      '2.35G',
      ['--rate', '10G', '--mtu', '9000'],
      'first  a link on the way runs at 2.5 Gb/s, with MTU 1500',
    ],
    ['320M', ['--rate', '1G'], 'first  the adapter is on a USB 2 port, hub or cable'],
    ['6.8G', ['--rate', '10G'], 'first  the bus between adapter and computer is too narrow'],
    ['2.6G', ['--rate', '10G', '--rtt', '0.2ms'], 'first  a TCP window without scaling'],
    ['23.1GiB', ['--rate', '10G', '--mtu', '9000', '--seconds', '20'], 'first  the line is full'],
    ['9.41G', ['--rate', '20G'], 'first  one flow uses one member of the aggregate'],
    ['9.90G', ['--rate', '10G', '--mtu', '1500'], 'first  packets of 9000 bytes pass'],
    ['2.35G', ['--rate', '1G'], 'first  the line runs at 2.5 Gb/s, faster than given'],
    ['3.9G', ['--rate', '10G'], 'no rate, packet or bus comes out at this figure; next below'],
    ['12G', ['--rate', '10G'], 'it is more than the line carries'],
  ];
  it.each(rows)('%s with %j', async (figure, options, words) => {
    const { status, stdout, stderr } = await said('--measured', figure, ...options);
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout).toContain(words);
  });

  it('shows the sum, the tolerance, and what to look at', async () => {
    const { stdout } = await said('--rate', '10G', '--mtu', '9000', '--measured', '9.41G');
    expect(stdout.slice(stdout.indexOf('measured'))).toBe(`\
measured 9.41G: 9410 Mb/s = 1176.25 MB/s = 1121.76 MiB/s
  tolerance    fits a ceiling of 9404.1 to 9510.1 Mb/s: half its last digit and the 0.01 % that clocks may differ (RFC
               5180 A.1) either way, and 1 % that a transfer loses at its start, to losses and at its end (common
               practice); nothing runs faster than its line

first  a hop, most likely an end, passes only 1500 of the 9000 bytes
       10000 Mb/s x 1448 / 1538 = 9414.8 Mb/s, with IPv4, timestamps, no tag; measured 0.05 % less
       at this rate any MTU from 1473 to 1799 bytes fits the figure
       other headers fit as well: IPv4, no timestamps, no tag; IPv4, no timestamps, 1 tag; IPv4, no timestamps, 2 tags
  next compare the MTU of both ends and of routers between: TCP settles on the smallest of these, while a small switch
       stalls transfers instead of slowing them
`);
  });
});

describe('ceiling on a path', () => {
  /** The office with a saved survey in which `mtuBytes` and `speedMbps` of vault are these. */
  async function office(vaultMtuBytes: number) {
    const nodes = { 'plot-1': host('en7', 9000), vault: host('eth4', vaultMtuBytes) };
    const reader = fakeRun({ files: { 'hopgauge.yaml': twoHosts }, nodes });
    expect(await run(['survey', '--out', 'tuesday.json'], reader.io)).toBe(0);
    return fakeRun({
      columns: 120,
      files: { 'hopgauge.yaml': twoHosts, 'tuesday.json': reader.files.get('tuesday.json') ?? '' },
    });
  }

  it('names the hop that the figure points at', async () => {
    const fake = await office(1500);
    const argv = [
      'ceiling',
      '--survey',
      'tuesday.json',
      '--path',
      'plotting',
      '--measured',
      '9.41G',
    ];
    expect(await run(argv, fake.io)).toBe(0);
    expect(fake.stdout()).toContain('10 Gb/s at MTU 9000: at most 9900.4 Mb/s');
    expect(fake.stdout()).toContain(
      'on the path plotting\n  points at vault:eth4: passes at most 1500 bytes (an end)\n',
    );
  });

  it('names none where none is so', async () => {
    const fake = await office(9000);
    await run(['ceiling', '--survey', 'tuesday.json', '--measured', '9.41G'], fake.io);
    expect(fake.stdout()).toContain(
      'on the path plotting\n  no hop of the path is so: the traffic',
    );
    const full = await office(9000);
    await run(['ceiling', '--survey', 'tuesday.json', '--measured', '9.90G'], full.io);
    expect(full.stdout()).toContain(
      'on the path plotting\n  the figure points at no hop of the path\n',
    );
  });

  it('says what is not known without a survey', async () => {
    const fake = fakeRun({ files: { 'hopgauge.yaml': twoHosts } });
    await run(['ceiling', '--path', 'plotting', '--measured', '941M'], fake.io);
    expect(fake.stdout()).toContain('  not known: plot-1:en7, vault:eth4\n');
  });

  it('takes an option before what the path declares', async () => {
    const fake = await office(9000);
    await run(['ceiling', '--survey', 'tuesday.json', '--rate', '1G'], fake.io);
    expect(fake.stdout()).toContain('1 Gb/s at MTU 9000');
  });
});

describe('ceiling --format json', () => {
  it('gives every step as a number', async () => {
    const { stdout } = await said(
      '--rate',
      '10G',
      '--rtt',
      '0.2ms',
      '--seconds',
      '20',
      '--format',
      'json',
    );
    expect(parseJson(stdout)).toEqual({
      ceiling: 1,
      line: {
        rateMbps: 10_000,
        packetBytes: 1500,
        stack: { ipVersion: 4, timestamps: true, tags: 0 },
        segmentBytes: 1448,
        frameBytes: 1518,
        wireBytes: 1538,
        efficiency: 1448 / 1538,
        packetsPerSecond: 812_743,
        goodputMbps: (10_000 * 1448) / 1538,
      },
      window: {
        rttMs: 0.2,
        bytesMin: 250_000,
        unscaledBytesMax: 65_535,
        unscaledMbps: 2621.4,
        unscaledConnectionsToFill: 4,
      },
      transfer: { seconds: 20, bytes: 23_537_061_118 },
      places: [],
    });
  });

  it('gives the explanations, the likeliest first', async () => {
    const { stdout } = await said('--measured', '941M', '--format', 'json');
    expect(parseJson(stdout)).toMatchObject({
      ceiling: 1,
      measured: {
        text: '941M',
        mbps: 941,
        explanations: [{ kind: 'link', role: 'some-link', rateMbps: 1000, packetBytes: 1500 }],
        aboveCeiling: false,
      },
      places: [],
    });
    expect(stdout).not.toContain('"line"');
  });
});

describe('ceiling refuses', () => {
  const two = `${twoHosts.replace('paths: {', 'paths: { second: { from: plot-1, to: vault, over: storage },')}`;
  const rows: readonly (readonly [readonly string[], number, string])[] = [
    [[], 64, 'neither a rate nor a figure is given; write --rate 10G, or --measured 9.41G\n'],
    [
      ['--measured', '9,41G'],
      64,
      "--measured: '9,41G' is no throughput; write 9.41G, 941M, 117MB/s or 112MiB/s, or bytes such as 23.1GiB with --seconds\n",
    ],
    [
      ['--measured', '23.1GiB'],
      64,
      "--measured: '23.1GiB' is no throughput; write 9.41G, 941M, 117MB/s or 112MiB/s, or bytes such as 23.1GiB with --seconds\n",
    ],
    [
      ['--path', 'ploting', '--rate', '1G'],
      64,
      "no path 'ploting' in the intent; write 'plotting'\n",
    ],
    [
      ['--path', 'elsewhere', '--rate', '1G'],
      64,
      "no path 'elsewhere' in the intent; name one with --path: plotting, second\n",
    ],
    [
      ['--intent', 'hopgauge.yaml', '--rate', '1G'],
      64,
      'several paths in the intent; name one with --path: plotting, second\n',
    ],
    [
      ['--intent', 'gone.yaml', '--rate', '1G'],
      78,
      "gone.yaml:1:1: the file cannot be read: no such file; 'gone.yaml'; check its path, size and permissions\n",
    ],
  ];
  it.each(rows)('%j', async (argv, status, stderr) => {
    const fake = fakeRun({ files: { 'hopgauge.yaml': two } });
    expect(await run(['ceiling', ...argv], fake.io)).toBe(status);
    expect(fake.stdout()).toBe('');
    expect(fake.stderr()).toBe(stderr);
  });

  it.each([
    ['--rate', '10', 'write a rate such as 10G, 2.5G or 100M'],
    ['--rate', '-1G', 'write a rate such as 10G, 2.5G or 100M'],
    ['--mtu', '67', 'give bytes from 68 to 65535'],
    ['--mtu', '65536', 'give bytes from 68 to 65535'],
    ['--mtu', '1e3', 'give bytes from 68 to 65535'],
    ['--vlan', '3', 'give 0, 1 or 2 tags'],
    ['--rtt', '0ms', 'write a time such as 0.2ms or 200us'],
    ['--rtt', '0.2', 'write a time such as 0.2ms or 200us'],
    ['--seconds', '0', 'give seconds above 0'],
    ['--seconds', 'NaN', 'give seconds above 0'],
  ])('%s %s', async (option, value, words) => {
    const { status, stderr } = await said(option, value);
    expect(status).toBe(64);
    expect(stderr).toContain(words);
    expect(stderr).toContain('see hopgauge ceiling --help');
  });
});

it('has help with examples', async () => {
  const { status, stdout } = await said('--help');
  expect(status).toBe(0);
  expect(stdout).toContain('hopgauge ceiling --rate 10G --mtu 9000 --measured 9.41G');
});
