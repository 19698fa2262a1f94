import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answerScript } from '../../mocks/unix-output/answer-script.ts';
import { framed, type Printed } from '../../mocks/unix-output/framed.ts';
import { localRunner } from '../../src/collect/local/local-runner.ts';
import { scriptFor } from '../../src/collect/script-for.ts';
import { defaultReadLimits, type RunScript } from '../../src/collect/types.ts';
import { planOf } from '../../src/probe/fit-plan.ts';
import type { FitOutcome, SizeFit } from '../../src/probe/fit-types.ts';
import { parseFitOutput } from '../../src/probe/parse-fit-output.ts';
import { runFit } from '../../src/probe/run-fit.ts';
import { plot1, vault } from '../collect/unix/described.ts';

const marker = 'mark-7';
const toAddress = '198.18.0.20';
const bytes = (text: string) => new TextEncoder().encode(text);
const never = new AbortController().signal;

function sizesOf(outcome: FitOutcome): readonly SizeFit[] {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.trouble));
  return outcome.fit.sizes;
}

/** Recorded on Linux 6.18 with ping of iputils 20221126; addresses altered. */
const passed: Omit<Printed, 'section'> = {
  output:
    'PING 198.18.0.20 (198.18.0.20) 1472(1500) bytes of data.\n1480 bytes from 198.18.0.20: icmp_seq=1 ttl=64 time=0.029 ms\n1480 bytes from 198.18.0.20: icmp_seq=2 ttl=64 time=0.060 ms\n\n--- 198.18.0.20 ping statistics ---\n2 packets transmitted, 2 received, 0% packet loss, time 1013ms\nrtt min/avg/max/mdev = 0.029/0.044/0.060/0.015 ms',
};
const counted = (errors = '') =>
  `\n--- 198.18.0.20 ping statistics ---\n2 packets transmitted, 0 received${errors}, 100% packet loss, time 1010ms\n`;

interface Row {
  readonly name: string;
  readonly large: Omit<Printed, 'section'>;
  readonly verdict: SizeFit['verdict'];
  readonly system?: 'Linux' | 'Darwin' | 'FreeBSD';
  readonly route?: string;
  readonly own?: string;
  /** Packets that were sent; absent: 1. */
  readonly tries?: number;
}

const rows: readonly Row[] = [
  { name: 'passes', large: passed, verdict: { kind: 'passes' } },
  {
    name: 'own interface, iputils',
    large: {
      output: `PING 198.18.0.20 (198.18.0.20) 8972(9000) bytes of data.\n${counted(', +2 errors')}`,
      words:
        'ping: local error: message too long, mtu=1500\nping: local error: message too long, mtu=1500',
      status: 1,
    },
    verdict: {
      kind: 'own-interface-small',
      mtuBytes: 1500,
      words: 'ping: local error: message too long, mtu=1500',
    },
  },
  {
    name: 'own interface, IPv6',
    large: {
      output: counted(),
      words: 'ping: local error: message too long, mtu: 1500',
      status: 1,
    },
    verdict: {
      kind: 'own-interface-small',
      mtuBytes: 1500,
      words: 'ping: local error: message too long, mtu: 1500',
    },
  },
  {
    name: 'own interface, old iputils',
    large: { output: counted(), words: 'ping: local error: Message too long', status: 1 },
    verdict: { kind: 'own-interface-small', words: 'ping: local error: Message too long' },
  },
  {
    name: 'a router, whose word the kernel then repeats',
    large: {
      output: `PING 198.18.0.20 (198.18.0.20) 8972(9000) bytes of data.\nFrom 198.18.0.254 icmp_seq=1 Frag needed and DF set (mtu = 1500)\n${counted(', +2 errors')}`,
      words: 'ping: local error: message too long, mtu=1500',
      status: 1,
    },
    verdict: {
      kind: 'router-said',
      address: '198.18.0.254',
      mtuBytes: 1500,
      words: 'From 198.18.0.254 icmp_seq=1 Frag needed and DF set (mtu = 1500)',
    },
  },
  {
    name: 'a router, IPv6',
    large: {
      output: `From fd00:a::ff icmp_seq=1 Packet too big: mtu=1500\n${counted(', +2 errors')}`,
      words: 'ping: local error: message too long, mtu: 1500',
      status: 1,
    },
    verdict: {
      kind: 'router-said',
      address: 'fd00:a::ff',
      mtuBytes: 1500,
      words: 'From fd00:a::ff icmp_seq=1 Packet too big: mtu=1500',
    },
  },
  {
    name: 'what a router said earlier',
    route:
      '198.18.0.20 via 198.18.0.254 dev ar src 198.18.0.1 uid 0 \n    cache expires 597sec mtu 1500 ',
    large: {
      output: counted(', +2 errors'),
      words: 'ping: local error: message too long, mtu=1500',
      status: 1,
    },
    verdict: {
      kind: 'router-said',
      mtuBytes: 1500,
      words: 'ping: local error: message too long, mtu=1500',
    },
  },
  {
    name: 'silence after a smaller size that passed',
    large: { output: counted(), status: 1 },
    tries: 3,
    verdict: { kind: 'silent' },
  },
  {
    name: 'silence of fewer tries than RFC 8899 asks for (MAX_PROBES, section 5.1.2)',
    large: { output: counted(), status: 1 },
    tries: 2,
    verdict: { kind: 'cannot-tell', words: 'no reply to 2 of 3 tries, and no more were sent' },
  },
  {
    // Recorded on Linux 6.18 with iputils 20221126, after `ip route add ... mtu 1500`.
    name: 'an MTU of the route',
    route: '198.18.0.20 dev b0 src 198.18.0.1 uid 0 \n    cache mtu 1500 ',
    own: '9000',
    large: {
      output: counted(', +1 errors'),
      words: 'ping: local error: message too long, mtu=1500',
      status: 1,
    },
    verdict: {
      kind: 'route-small',
      mtuBytes: 1500,
      words: 'ping: local error: message too long, mtu=1500',
    },
  },
  {
    name: 'own interface by name, where an old iputils does not say its MTU',
    route: '198.18.0.20 dev b0 src 198.18.0.1 uid 0 \n    cache ',
    own: '1500',
    large: { output: counted(), words: 'ping: local error: Message too long', status: 1 },
    verdict: {
      kind: 'own-interface-small',
      device: 'b0',
      mtuBytes: 1500,
      words: 'ping: local error: Message too long',
    },
  },
  {
    name: 'errors of another kind are no silence',
    large: {
      output: `From 198.18.0.1 icmp_seq=1 Destination Host Unreachable\n${counted(', +2 errors')}`,
      status: 1,
    },
    verdict: {
      kind: 'cannot-tell',
      words: 'From 198.18.0.1 icmp_seq=1 Destination Host Unreachable',
    },
  },
  {
    // Recorded on Linux 6.18 with iputils 20221126, which took two seconds for it.
    name: 'a queue that stays full for all tries',
    large: { output: counted(), words: 'ping: sendmsg: No buffer space available', status: 1 },
    tries: 3,
    verdict: { kind: 'silent' },
  },
  {
    name: 'a queue that was full once',
    large: { output: counted(), words: 'ping: sendmsg: No buffer space available', status: 1 },
    verdict: { kind: 'cannot-tell', words: 'no reply to 1 of 3 tries, and no more were sent' },
  },
  {
    name: 'no ping at all',
    large: { words: 'sh: 8: ping: not found', status: 127 },
    verdict: { kind: 'cannot-tell', words: 'sh: 8: ping: not found' },
  },
  {
    name: 'no right to ping',
    large: { words: 'ping: socket: Operation not permitted', status: 2 },
    verdict: { kind: 'cannot-tell', words: 'ping: socket: Operation not permitted' },
  },
  {
    name: 'a hostile word',
    large: { words: '\u001b[2J\u202eoh no', status: 2 },
    verdict: { kind: 'cannot-tell', words: '[2J oh no' },
  },
  {
    name: 'macOS, above the limit of its own',
    system: 'Darwin',
    large: { output: counted(), words: 'ping: sendto: Message too long', status: 2 },
    verdict: {
      kind: 'cannot-tell',
      words: 'cannot tell from this end: macos limits a ping to 8164 bytes',
    },
  },
  {
    name: 'macOS, silence',
    system: 'Darwin',
    large: {
      output:
        'Request timeout for icmp_seq 0\n\n--- x ping statistics ---\n1 packets transmitted, 0 packets received, 100.0% packet loss\n',
      status: 2,
    },
    tries: 3,
    verdict: { kind: 'silent' },
  },
  {
    // Texts of ping.c of FreeBSD, from memory; options and statuses after ping(8).
    name: 'FreeBSD, silence',
    system: 'FreeBSD',
    large: {
      output:
        'PING 198.18.0.20 (198.18.0.20): 8972 data bytes\n\n--- 198.18.0.20 ping statistics ---\n1 packets transmitted, 0 packets received, 100.0% packet loss\n',
      status: 2,
    },
    tries: 3,
    verdict: { kind: 'silent' },
  },
  {
    name: 'FreeBSD, its own interface',
    system: 'FreeBSD',
    route:
      '   route to: 198.18.0.20\n  interface: ix0\n recvpipe  sendpipe  ssthresh  rtt,msec  mtu  weight  expire\n 0 0 0 0 1500 1 0\n',
    large: { output: counted(), words: 'ping: sendto: Message too long', status: 2 },
    verdict: {
      kind: 'own-interface-small',
      device: 'ix0',
      words: 'ping: sendto: Message too long',
    },
  },
  {
    name: 'FreeBSD of an age that lets nobody but root send more than 56 bytes',
    system: 'FreeBSD',
    large: { words: 'ping: packet size too large: 8972 > 56: Operation not permitted', status: 77 },
    verdict: {
      kind: 'cannot-tell',
      words: 'ping: packet size too large: 8972 > 56: Operation not permitted',
    },
  },
  {
    name: 'macOS, a router',
    system: 'Darwin',
    large: {
      output: '36 bytes from 198.18.0.254: frag needed and DF set (MTU 1500)\nVr HL TOS\n',
      status: 2,
    },
    verdict: {
      kind: 'router-said',
      address: '198.18.0.254',
      mtuBytes: 1500,
      words: '36 bytes from 198.18.0.254: frag needed and DF set (MTU 1500)',
    },
  },
];

describe('parseFitOutput', () => {
  const request = { marker, toAddress, plan: planOf([1500, 9000], toAddress) };

  it.each(rows)('$name', (row) => {
    const { large, verdict, system = 'Linux', route = '', own = '', tries = 1 } = row;
    const text = framed(marker, [
      { section: 'system', output: system },
      { section: 'route', output: route },
      { section: 'own', output: own },
      { section: 'ping 1472.1', ...passed },
      ...[1, 2, 3].slice(0, tries).map((at) => ({ section: `ping 8972.${at}`, ...large })),
    ]);
    const outcome = parseFitOutput(bytes(text), request);
    expect(sizesOf(outcome)).toEqual([
      { sizeBytes: 1500, verdict: { kind: 'passes' }, tries: 1 },
      { sizeBytes: 9000, verdict, tries },
    ]);
    const proven = verdict.kind === 'passes' ? 9000 : 1500;
    expect(outcome.ok ? outcome.fit.provenBytes : 0).toBe(proven);
  });

  it('concludes nothing where the smallest size is silent too', () => {
    const text = framed(marker, [
      { section: 'system', output: 'Linux' },
      ...[1, 2, 3].map((at) => ({ section: `ping 1472.${at}`, output: counted(), status: 1 })),
      ...[1, 2, 3].map((at) => ({ section: `ping 548.${at}`, output: counted(), status: 1 })),
    ]);
    const outcome = parseFitOutput(bytes(text), request);
    const words = 'no reply to the smallest size either: the far end is off, or pings are filtered';
    expect(outcome).toEqual({
      ok: true,
      fit: {
        toAddress,
        own: {},
        sizes: [
          { sizeBytes: 576, verdict: { kind: 'cannot-tell', words }, tries: 3 },
          { sizeBytes: 1500, verdict: { kind: 'cannot-tell', words }, tries: 3 },
          {
            sizeBytes: 9000,
            tries: 0,
            verdict: {
              kind: 'cannot-tell',
              words: 'not sent, because a smaller size did not come back',
            },
          },
        ],
      },
    });
  });

  it('tells macOS below its limit that its own interface is small', () => {
    const text = framed(marker, [
      { section: 'system', output: 'Darwin' },
      { section: 'ping 1472.1', ...passed },
      { section: 'ping 1972.1', words: 'ping: sendto: Message too long', status: 2 },
    ]);
    const outcome = parseFitOutput(bytes(text), {
      ...request,
      plan: planOf([1500, 2000], toAddress),
    });
    expect(sizesOf(outcome)[1]?.verdict.kind).toBe('own-interface-small');
  });

  // Recorded on Linux 6.18 with BusyBox 1.35, addresses altered.
  const busybox = {
    section: 'ping 1472.1',
    words: "ping: invalid option -- 'M'\nBusyBox v1.35.0 multi-call binary.\n\nUsage: ping",
    status: 1,
  };
  const inPieces =
    'cannot tell from this end: its ping cannot forbid that packets are cut in pieces';

  it.each([
    [
      '1500',
      [
        { kind: 'cannot-tell', words: inPieces },
        {
          kind: 'own-interface-small',
          device: 'a0',
          mtuBytes: 1500,
          words: 'the MTU of a0 is 1500',
        },
      ],
    ],
    [
      '9000',
      [
        { kind: 'cannot-tell', words: inPieces },
        { kind: 'cannot-tell', words: inPieces },
      ],
    ],
    [
      '',
      [
        { kind: 'cannot-tell', words: inPieces },
        { kind: 'cannot-tell', words: inPieces },
      ],
    ],
  ])('knows of BusyBox only what its own MTU of %j tells', (mtu, verdicts) => {
    const text = framed(marker, [
      { section: 'system', output: 'Linux' },
      { section: 'route', output: '198.18.0.20 dev a0  src 198.18.0.1 ' },
      { section: 'own', output: mtu },
      busybox,
    ]);
    const outcome = parseFitOutput(bytes(text), request);
    expect(sizesOf(outcome).map(({ verdict }) => verdict)).toEqual(verdicts);
    expect(sizesOf(outcome).map(({ tries }) => tries)).toEqual([0, 0]);
    expect(outcome.ok ? outcome.fit.own : undefined).toEqual({
      device: 'a0',
      onLink: true,
      ...(mtu === '' ? {} : { interfaceMtuBytes: Number(mtu) }),
    });
  });

  it('says what macOS has sent, and that it lets nobody send more', () => {
    const reply = `8172 bytes from ${toAddress}: icmp_seq=0 ttl=64 time=0.412 ms`;
    const text = framed(marker, [
      { section: 'system', output: 'Darwin' },
      { section: 'ping 1472.1', ...passed },
      { section: 'ping 8164.1', output: reply },
    ]);
    const outcome = parseFitOutput(bytes(text), request);
    expect(sizesOf(outcome).map(({ sizeBytes, tries }) => [sizeBytes, tries])).toEqual([
      [1500, 1],
      [8192, 1],
      [9000, 0],
    ]);
    expect(sizesOf(outcome)[2]?.verdict).toEqual({
      kind: 'cannot-tell',
      words: 'cannot tell from this end: macos limits a ping to 8164 bytes',
    });
    expect(outcome.ok ? outcome.fit.provenBytes : 0).toBe(8192);
  });

  it('sends nothing over IPv6 from FreeBSD, whose ping forbids pieces over IPv4 only', () => {
    const text = framed(marker, [{ section: 'system', output: 'FreeBSD' }]);
    const outcome = parseFitOutput(bytes(text), {
      marker,
      toAddress: 'fd00:5e::20',
      plan: planOf([1500], 'fd00:5e::20'),
    });
    expect(sizesOf(outcome)).toEqual([
      {
        sizeBytes: 1500,
        tries: 0,
        verdict: {
          kind: 'cannot-tell',
          words: 'cannot tell from this end: the ping of FreeBSD forbids pieces over IPv4 only',
        },
      },
    ]);
  });

  it('takes no silence for one of size while a larger packet comes back', () => {
    const text = framed(marker, [
      { section: 'system', output: 'Linux' },
      ...[1, 2, 3].map((at) => ({ section: `ping 1472.${at}`, output: counted(), status: 1 })),
      { section: 'ping 8972.1', ...passed },
    ]);
    expect(sizesOf(parseFitOutput(bytes(text), request))[0]?.verdict).toEqual({
      kind: 'cannot-tell',
      words: 'no reply, while 9000 bytes came back: packets are lost for another reason than size',
    });
  });

  it('says never more than the whole answer, wherever it is cut', () => {
    const text = framed(marker, [
      { section: 'system', output: 'Linux' },
      { section: 'ping 1472.1', ...passed },
      ...[1, 2, 3].map((at) => ({ section: `ping 8972.${at}`, output: counted(), status: 1 })),
    ]);
    const whole = sizesOf(parseFitOutput(bytes(text), request));
    for (let length = 0; length < text.length; length += 1) {
      const outcome = parseFitOutput(bytes(text.slice(0, length)), request);
      if (!outcome.ok) continue;
      for (const [i, { verdict }] of outcome.fit.sizes.entries()) {
        if (verdict.kind !== 'cannot-tell') expect(verdict).toEqual(whole[i]?.verdict);
      }
    }
  });

  it('never throws on any bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 500 }), (noise) => {
        const begun = bytes(`\n${marker} begin 1\n`);
        expect(parseFitOutput(Buffer.concat([begun, noise]), request).ok).toBe(false);
      }),
    );
  });

  it.each([
    ['nothing', '', 'no-marks'],
    ['a cut answer', `\n${marker} begin 1\n`, 'truncated'],
    [
      'another system',
      framed(marker, [{ section: 'system', output: 'OpenBSD' }]),
      'system-unknown',
    ],
  ])('has trouble with %s', (_, text, kind) => {
    const outcome = parseFitOutput(bytes(text), request);
    expect(outcome.ok ? '' : outcome.trouble.kind).toBe(kind);
  });
});

describe('runFit', () => {
  const described =
    (host: typeof vault): RunScript =>
    async (script) => ({
      ok: true,
      output: bytes(answerScript(host, scriptFor(script, 'sh')) ?? ''),
    });

  it.each([
    ['a hop in the middle', vault, '198.18.0.20', 1500, 'silent'],
    ['a router', vault, '198.18.9.9', 1400, 'router-said'],
    ['its own interface', vault, '198.18.0.21', 1500, 'own-interface-small'],
    ['the limit of macOS', plot1, '198.18.0.10', 8192, 'cannot-tell'],
    ['nobody there', vault, '198.18.0.99', undefined, 'cannot-tell'],
  ] as const)('meets %s', async (_, host, address, provenBytes, kind) => {
    const request = { toAddress: address, plan: planOf([1500, 9000], address) };
    const outcome = await runFit(described(host), request, defaultReadLimits, never);
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    expect(outcome.fit.provenBytes).toBe(provenBytes);
    expect(outcome.fit.sizes.find(({ verdict }) => verdict.kind !== 'passes')?.verdict.kind).toBe(
      kind,
    );
  });

  it.runIf(process.platform === 'linux')(
    'proves the size of this machine to itself, for real (needs Linux)',
    async () => {
      const request = { toAddress: '127.0.0.1', plan: planOf([1500, 9000], '127.0.0.1') };
      const outcome = await runFit(localRunner(), request, defaultReadLimits, never);
      expect(outcome).toEqual({
        ok: true,
        fit: {
          toAddress: '127.0.0.1',
          own: { device: 'lo', onLink: true, interfaceMtuBytes: 65_536 },
          sizes: [
            { sizeBytes: 1500, verdict: { kind: 'passes' }, tries: 1 },
            { sizeBytes: 9000, verdict: { kind: 'passes' }, tries: 1 },
          ],
          provenBytes: 9000,
        },
      });
    },
  );
});
