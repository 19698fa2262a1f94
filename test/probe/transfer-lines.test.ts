import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addTransferLine, silentEnd } from '../../src/probe/transfer-lines.ts';
import type { EndReport } from '../../src/probe/transfer-types.ts';

const marker = 'mark-7';

function told(lines: readonly string[], from: EndReport = silentEnd): EndReport {
  return lines.reduce((report, line) => addTransferLine(report, `${marker} ${line}`, marker), from);
}
const begun = told(['begin 1']);

/** As one end printed it on Linux 6.18 with Perl 5.36. */
const receiver = [
  'begin 1',
  'system Linux',
  'with perl',
  'port 48529',
  'idle again=0 busy=0 buffer=0 bytes=0 least=5 mss=8948 resent=0 rtt=12 stamps=1 window=0',
  'tick 1000 24000000 - 0',
  'tick 2000 48000000 132 0',
  'got 2999471 72000000 whole',
  'cpu 370 997 998 2',
  'flow again=0 busy=0 buffer=0 bytes=9 mss=8948 resent=0 rtt=12 stamps=1 window=0',
  'end',
];

describe('the answer of an end', () => {
  it('is read whole', () => {
    expect(told(receiver)).toEqual({
      ...{ begun: true, met: true, ended: true },
      ...{ system: 'Linux', tool: 'perl', port: 48529, idleUs: 5 },
      ticks: [
        { ms: 1000, bytes: 24e6 },
        { ms: 2000, bytes: 48e6, rttUs: 132 },
      ],
      got: { us: 2_999_471, bytes: 72e6, cut: false },
      cpu: { own: 0.37, busiest: 0.997, all: 0.998, cores: 2 },
      flows: [
        {
          ...{ segmentBytes: 8948, timestamps: true, resentSegments: 0, sentBytes: 9 },
          ...{ resentBytes: 0, busyUs: 0, windowUs: 0, bufferUs: 0 },
        },
      ],
    });
  });

  it('is nothing before its begin mark, without the marker and after its end', () => {
    expect(addTransferLine(silentEnd, 'port 80', marker)).toBe(silentEnd);
    expect(told(['port 48529'])).toBe(silentEnd);
    expect(addTransferLine(begun, 'mark-8 port 48529', marker)).toBe(begun);
    const over = told(receiver);
    expect(told(['port 1'], over)).toBe(over);
  });

  it('has no value for what a kernel does not tell', () => {
    expect(told(['flow mss=0 stamps=x bytes=', 'cpu - - - -', 'idle', 'echo x'], begun)).toEqual({
      ...begun,
      met: true,
      flows: [{}],
      cpu: {},
    });
  });

  it.each([
    ['port 0'],
    ['port 70000'],
    ['port 80; reboot'],
    ['tick -5 10'],
    ['tick 1000'],
    ['tick 1e9 5'],
    ['got 5 whole'],
    ['sent 5 5 never'],
    ['failed connect <script>'],
    ['failed'],
    ['with netcat'],
    ['nonsense'],
    [''],
  ])('takes no harm from %j', (line) => {
    expect(told([line], begun)).toEqual(begun);
  });

  it('takes ticks that go forward only, and a bounded number of them', () => {
    expect(told(['tick 1000 50', 'tick 1000 60', 'tick 2000 40'], begun).ticks).toEqual([
      { ms: 1000, bytes: 50 },
    ]);
    const many = Array.from({ length: 500 }, (_, at) => `tick ${at + 1} ${at}`);
    expect(told(many, begun).ticks).toHaveLength(64);
    expect(
      told(
        Array.from({ length: 500 }, () => 'flow'),
        begun,
      ).flows,
    ).toHaveLength(16);
  });

  it('throws for no text', () => {
    fc.assert(
      fc.property(fc.array(fc.string()), (lines) => {
        expect(told(lines, begun).begun).toBe(true);
      }),
    );
  });
});

describe('what dd prints', () => {
  it.each([
    // GNU coreutils 9.1.
    ['655360000 bytes (655 MB, 625 MiB) copied, 3.01257 s, 217 MB/s', 655_360_000, 3_012_570],
    ['1020 bytes (1.0 kB) copied, 0.000433072 s, 2.4 MB/s', 1020, 433],
    // BusyBox 1.35.
    ['65536000 bytes (62.5MB) copied, 0.543210 seconds, 115.1MB/s', 65_536_000, 543_210],
    // FreeBSD 14, from memory.
    ['655360 bytes transferred in 0.500000 secs (1310720 bytes/sec)', 655_360, 500_000],
  ])('%s', (line, bytes, us) => {
    expect(told([`dd ${line}`], begun).got).toEqual({ us, bytes, cut: false });
  });

  it('is nothing where it counts blocks', () => {
    expect(told(['dd 0+1 records in'], begun).got).toBeUndefined();
  });
});

it('reads what ss prints of a connection, each line in place of the one before', () => {
  // iproute2 6.1 on Linux 6.18; it prints no `ts`, and the headers tell.
  const line =
    'ss \t cubic wscale:10,10 rto:204 rtt:0.159/0.008 mss:8948 pmtu:9000 rcvmss:536 advmss:8948 cwnd:11 bytes_sent:1000 bytes_retrans:20 bytes_acked:1001 retrans:0/7 delivered:2';
  const report = told(['ss ESTAB 0 0 198.18.20.1:1 198.18.20.2:2', line, line], begun);
  expect(report.flows).toEqual([
    {
      ...{ segmentBytes: 8948, timestamps: true, resentSegments: 7, sentBytes: 1000 },
      resentBytes: 20,
    },
  ]);
  expect(report.ticks).toEqual([
    { ms: 1000, bytes: 1000, rttUs: 159 },
    { ms: 2000, bytes: 1000, rttUs: 159 },
  ]);
});
