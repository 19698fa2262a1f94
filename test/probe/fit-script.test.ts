import { execFileSync } from 'node:child_process';
import { chmodSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fitSearch, type Sent } from '../../mocks/unix-output/fit-search.ts';
import { payloadsOf, planFor, planOf } from '../../src/probe/fit-plan.ts';
import { fitScript } from '../../src/probe/fit-script.ts';
import type { Fit, FitPlan } from '../../src/probe/fit-types.ts';
import { parseFitOutput } from '../../src/probe/parse-fit-output.ts';
import { settleFits } from '../../src/probe/settle-fits.ts';

const marker = 'mark-7';
const toAddress = '198.18.0.20';
const plan = planFor(9000, toAddress);

describe('fitScript', () => {
  it('generates the first line and no other', () => {
    const lines = fitScript({ marker, toAddress, plan }).split('\n');
    expect(lines[0]).toBe(
      "M='mark-7'; A='198.18.0.20'; S='1472 1972 8972'; P='8972'; N='8950 8954 8958 8968'; F='548'; H='28'",
    );
    const six = 'fd00:5e::20';
    const other = fitScript({ marker: 'b', toAddress: six, plan: planOf([1500], six) }).split('\n');
    expect(other[0]).toBe("M='b'; A='fd00:5e::20'; S='1452'; P='1452'; N=''; F='1232'; H='48'");
    expect(other.slice(1)).toEqual(lines.slice(1));
  });

  it.each([
    ['no size', { plan: planOf([], toAddress) }],
    ['a name', { toAddress: 'vault' }],
    ['a command', { toAddress: "198.18.0.1'; reboot; '" }],
    ['a marker with a quote', { marker: "a'" }],
  ])('refuses %s', (_, part) => {
    expect(() => fitScript({ marker, toAddress, plan, ...part })).toThrow();
  });
});

/** A path as a stub of ping knows it: what passes each way, what is lost at random, who speaks. */
interface World {
  readonly thereBytes: number;
  readonly backBytes: number;
  readonly ownBytes: number;
  /** What the far end sends in one piece: it cuts larger replies, as Linux does. */
  readonly farBytes: number;
  readonly routerSpeaks: boolean;
  /** Whether the packet of that number in the run is lost whatever its size. */
  readonly lost: readonly boolean[];
}

/** Prints as ping of iputils does, and writes down what it was asked to send. */
const pingStub = `#!/bin/sh
while [ $# -gt 0 ]; do
  case $1 in -s) s=$2; shift ;; esac
  shift
done
. "$WORLD"
size=$((s+28))
[ "$size" -le "$own" ] && echo "$s" >>"$WORLD.sent"
echo "$s" >>"$WORLD.asked"
count=$(wc -l <"$WORLD.asked")
nothing() { echo; echo '--- x ping statistics ---'; echo "1 packets transmitted, 0 received$1, 100% packet loss, time 0ms"; exit 1; }
if [ "$size" -gt "$own" ]; then echo "ping: local error: message too long, mtu=$own" >&2; nothing ', +1 errors'; fi
case " $lost " in *" $count "*) nothing '' ;; esac
if [ "$size" -gt "$there" ]; then
  [ "$speaks" = 1 ] && echo "From 198.18.0.254 icmp_seq=1 Frag needed and DF set (mtu = $there)"
  nothing ''
fi
[ "$size" -gt "$far" ] && size=$far
[ "$size" -gt "$back" ] && nothing ''
echo "$((s+8)) bytes from 198.18.0.20: icmp_seq=1 ttl=64 time=0.029 ms"
`;

describe.runIf(process.platform === 'linux')('the search, run for real (needs Linux)', () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'hopgauge-fit-'));
    const stubs = {
      ping: pingStub,
      uname: '#!/bin/sh\necho Linux\n',
      ip: '#!/bin/sh\necho "198.18.0.20 dev eth9 src 198.18.0.1"\n',
      cat: '#!/bin/sh\n. "$WORLD"\necho "$own"\n',
    };
    for (const [name, text] of Object.entries(stubs)) {
      writeFileSync(join(folder, name), text);
      chmodSync(join(folder, name), 0o755);
    }
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  function search(world: World, tried: FitPlan): { fit: Fit; sent: number[]; asked: number[] } {
    const file = join(folder, 'world');
    const lost = world.lost.flatMap((is, at) => (is ? [at + 1] : [])).join(' ');
    writeFileSync(
      file,
      `there=${world.thereBytes}; back=${world.backBytes}; own=${world.ownBytes}; far=${world.farBytes}; speaks=${world.routerSpeaks ? 1 : 0}; lost='${lost}'\n`,
    );
    for (const log of ['sent', 'asked']) writeFileSync(`${file}.${log}`, '');
    const script = fitScript({ marker, toAddress, plan: tried });
    const output = execFileSync('/bin/sh', ['-s'], {
      input: script,
      env: { PATH: `${folder}:/usr/bin:/bin`, WORLD: file },
    });
    const outcome = parseFitOutput(output, { marker, toAddress, plan: tried });
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    const log = (name: string) =>
      (readFileSync(`${file}.${name}`, 'utf8').match(/\d+/g) ?? []).map(Number);
    return { fit: outcome.fit, sent: log('sent'), asked: log('asked') };
  }

  const still: World = {
    thereBytes: 9000,
    backBytes: 9000,
    ownBytes: 9000,
    farBytes: 9000,
    routerSpeaks: false,
    lost: [],
  };
  const three = (size: number) => [size, size, size];
  const rows: readonly (readonly [string, Partial<World>, number | undefined, number[]])[] = [
    ['all passes: one packet each', {}, 9000, [1472, 1972, 8972]],
    ['a hop at 1500', { thereBytes: 1500 }, 1500, [1472, ...three(1972)]],
    [
      'an MTU of 9000 that counts a tag',
      { thereBytes: 8996 },
      8996,
      [1472, 1972, ...three(8972), 8954, 8958, 8968],
    ],
    [
      'one that counts the header',
      { thereBytes: 8986 },
      8986,
      [1472, 1972, ...three(8972), 8954, 8958, ...three(8968)],
    ],
    [
      'one that counts header and FCS, on the way back',
      { backBytes: 8982 },
      8982,
      [1472, 1972, ...three(8972), 8954, ...three(8958)],
    ],
    [
      'one that counts header, tag and FCS',
      { thereBytes: 8978 },
      8978,
      [1472, 1972, ...three(8972), ...three(8954), 8950],
    ],
    [
      'a hop at 4000',
      { thereBytes: 4000 },
      2000,
      [1472, 1972, ...three(8972), ...three(8954), ...three(8950)],
    ],
    ['nobody there', { thereBytes: 0 }, undefined, [...three(1472), ...three(548)]],
    ['a tunnel', { thereBytes: 1400 }, 576, [...three(1472), 548]],
    ['an own interface at 4000', { ownBytes: 4000 }, 4000, [1472, 1972, 3972]],
    ['an own interface at 1400', { ownBytes: 1400 }, 1400, [1372]],
    ['a reply that is lost once', { lost: [false, true] }, 9000, [1472, 1972, 1972, 8972]],
  ];
  it.each(rows)('%s', (_, part, proven, sent) => {
    const found = search({ ...still, ...part }, plan);
    expect(found.sent).toEqual(sent);
    expect(found.fit.provenBytes).toBe(proven);
  });

  const world = fc.record({
    thereBytes: fc.oneof(fc.constantFrom(0, 576, 1500, 8978, 8982, 8986, 8996, 9000), size()),
    backBytes: fc.oneof(fc.constantFrom(0, 576, 1500, 8978, 8982, 8986, 8996, 9000), size()),
    ownBytes: fc.oneof(fc.constantFrom(1500, 9000), size()),
    farBytes: fc.oneof(fc.constantFrom(1500, 9000), size()),
    routerSpeaks: fc.boolean(),
    lost: fc.array(
      fc.integer({ min: 0, max: 5 }).map((n) => n === 0),
      { maxLength: 12 },
    ),
  });
  const plans = fc.oneof(
    fc.constant(plan),
    fc.constantFrom(1500, 1492, 2000, 1510).map((bytes) => planFor(bytes, toAddress)),
    fc
      .uniqueArray(fc.integer({ min: 68, max: 9500 }), { minLength: 1, maxLength: 6 })
      .map((sizes) => planOf(sizes, toAddress)),
  );

  it('is never wrong, sends 12 packets at most, and what the plain search sends', () => {
    fc.assert(
      fc.property(world, plans, (given, tried) => {
        const { fit, sent, asked } = search(given, tried);
        expect(asked.length).toBeLessThanOrEqual(12);
        expect(asked).toEqual(plainly(given, tried));
        for (const { sizeBytes, verdict } of fit.sizes) {
          if (verdict.kind === 'passes') expect(comesBack(given, sizeBytes)).toBe(true);
          // Lost at random three times over is taken for lost: so it may be wrong of those alone.
          const unlucky = given.lost.filter((is) => is).length >= 3;
          if (verdict.kind === 'silent' && !unlucky)
            expect(comesBack(given, sizeBytes)).toBe(false);
          if (verdict.kind === 'own-interface-small') {
            expect(sizeBytes).toBeGreaterThan(given.ownBytes);
          }
          if (verdict.kind === 'router-said') expect(sizeBytes).toBeGreaterThan(given.thereBytes);
        }
        // No packet goes out that is larger than one that was given up.
        for (const { sizeBytes, verdict } of fit.sizes) {
          if (verdict.kind !== 'silent') continue;
          const later = sent.slice(sent.lastIndexOf(sizeBytes - 28));
          expect(Math.max(...later)).toBe(sizeBytes - 28);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('settles both directions without a false word', () => {
    const fitted = (given: World) => ({ ok: true, fit: search(given, plan).fit }) as const;
    fc.assert(
      fc.property(fc.record({ ...mtus(), own: size(), other: size() }), (given) => {
        const { thereBytes, backBytes, own, other } = given;
        const away = { thereBytes, backBytes, routerSpeaks: false, lost: [] };
        const home = { ...away, thereBytes: backBytes, backBytes: thereBytes };
        const at = '2026-11-25T02:00:00.000Z';
        const ways = settleFits(
          [
            {
              from: 'a',
              to: 'b',
              toAddress,
              at,
              outcome: fitted({ ...away, ownBytes: own, farBytes: other }),
            },
            {
              from: 'b',
              to: 'a',
              toAddress,
              at,
              outcome: fitted({ ...home, ownBytes: other, farBytes: own }),
            },
          ],
          9000,
        );
        const passes = [Math.min(thereBytes, own), Math.min(backBytes, other)];
        for (const [index, { provenBytes = 0, loss }] of ways.entries()) {
          const most = passes[index] ?? 0;
          expect(provenBytes).toBeLessThanOrEqual(most);
          if (loss === undefined) continue;
          if (loss.eitherWay) expect(loss.bytes).toBeGreaterThan(Math.min(thereBytes, backBytes));
          else expect(loss.bytes).toBeGreaterThan(most);
        }
      }),
      { numRuns: 25 },
    );
  });

  function plainly(given: World, tried: FitPlan): number[] {
    const asked: number[] = [];
    fitSearch(payloadsOf(tried, toAddress), (payload): Sent => {
      asked.push(payload);
      const bytes = payload + 28;
      if (bytes > given.ownBytes) return { ended: 'said', payloadBytes: given.ownBytes - 28 };
      if (given.lost[asked.length - 1] === true) return { ended: 'silent' };
      return { ended: comesBack(given, bytes) ? 'passes' : 'silent' };
    });
    return asked;
  }
});

function size(): fc.Arbitrary<number> {
  return fc.oneof(fc.constantFrom(1500, 8982, 8986, 9000), fc.integer({ min: 68, max: 9200 }));
}

function comesBack(world: World, bytes: number): boolean {
  const reply = Math.min(bytes, world.farBytes);
  return bytes <= Math.min(world.thereBytes, world.ownBytes) && reply <= world.backBytes;
}

function mtus() {
  return { thereBytes: size(), backBytes: size() };
}
