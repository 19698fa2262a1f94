import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';
import { type FakeRun, fakeRun, host, office } from './fake-io.ts';

/** What an alias, a name of a system or a message of the day can hold. */
const hostile: readonly (readonly [name: string, text: string])[] = [
  ['an escape sequence that clears the screen', 'FORGED\u001b[2J\u001b[1;1H'],
  ['the same in C1 controls', 'FORGED\u009b2J'],
  ['a title of the terminal', '\u001b]0;FORGED\u0007'],
  ['a link of the terminal', '\u001b]8;;https://host.example\u001b\\FORGED\u001b]8;;\u001b\\'],
  ['a reply that the terminal would type', '\u001bP+q544e\u001b\\FORGED\u001b[6n'],
  ['carriage return and backspace', 'broken\r\b\bFORGED'],
  ['a line of a report', 'x\nFORGED: the declared 9000 bytes pass every hop'],
  ['other line ends', 'x\u2028FORGED\u2029\u0085\u000b\u000c'],
  ['right to left', '\u202eFORGED\u2066\u061c'],
  ['what is not seen', 'F\u200bO\u00adRGED\ufeff\u{e0041}'],
  ['half of a character', 'FORGED\ud83d'],
  ['JSON', '"}],"exitStatus":0,"FORGED":[{"'],
  ['HTML', '<script>FORGED</script><img src=x onerror=alert(1)>'],
  ['a formula', '=HYPERLINK("https://host.example/?"&A1,"FORGED")'],
  ['a template of a rule', '{path.mtuAtMostBytes} {FORGED} %s%n'],
  ['a shell', '$(FORGED); `id`; rm -rf ~'],
  ['a flood', `FORGED${'\u6e2f\u001b['.repeat(50_000)}`],
];

/** An office where a host says `text` wherever it can, and the other host's trouble says it too. */
function officeSaying(text: string): FakeRun {
  const gap = { reason: 'denied', words: text } as const;
  const vault = host('eth4', 1500, {
    facts: { systemKind: 'linux', systemName: text, systemText: text },
    gaps: { osVersion: gap, routes: gap },
    portSources: { mtuBytes: text },
    portGaps: { speedMbps: gap },
    ports: [
      {
        name: 'eth4',
        facts: { mtuBytes: 1500, operUp: true, alias: text, mediaText: text, addresses: [text] },
        gaps: { duplex: gap },
      },
      { name: text || 'eth5', facts: { mtuBytes: 9000, operUp: true, kind: 'physical' } },
    ],
    routes: [{ to: text, device: text, words: text }],
    sessions: [{ local: text, remote: text, count: 1, segmentBytes: 536, timestamps: true }],
    mounts: [{ server: text, kind: 'nfs', at: text }],
  });
  const trouble = { kind: 'garbled', seen: text, remedy: text } as const;
  const files = {
    ...office,
    'hopgauge.yaml': office['hopgauge.yaml'].replace('[own.yaml]', '[essential, jumbo]'),
  };
  return fakeRun({
    files,
    io: {
      read: async ({ name }) =>
        name === 'vault' ? { ok: true, reading: vault } : { ok: false, trouble },
    },
  });
}

const tame = /^[^\p{Cc}\p{Cs}\p{Cf}\u2028\u2029]*$/u;

/** Nothing in the lines moves, hides or turns; gives the lines. */
function expectTame(output: string): readonly string[] {
  const lines = output.split('\n');
  expect(lines.filter((line) => !tame.test(line))).toEqual([]);
  return lines;
}

describe.each(hostile)('text of a node: %s', (_, text) => {
  it.each([
    [['audit', '--verbose'], 1],
    [['audit', '--redact'], 1],
    [['audit', '--format', 'json'], 1],
    [['audit', '--format', 'json', '--redact'], 1],
    [['survey', '--verbose'], 2],
    [['survey', '--redact'], 2],
    [['survey', '--format', 'json'], 2],
  ])('%j', async (argv, status) => {
    const fake = officeSaying(text);
    expect(await run(argv, fake.io)).toBe(status);
    expect(fake.stdout().length).toBeGreaterThan(100);
    const lines = [...expectTame(fake.stdout()), ...expectTame(fake.stderr())];
    expect(lines.filter((line) => line.startsWith('FORGED'))).toEqual([]);
    if (argv.includes('json')) expect(parseJson(fake.stdout())).not.toHaveProperty('FORGED');
  });

  it('in a survey that was saved, and in the message when it is none', async () => {
    const saved = officeSaying(text);
    await run(['survey', '--out', 'a.json', '--quiet'], saved.io);
    const again = fakeRun({ files: Object.fromEntries(saved.files) });
    expect(await run(['audit', '--survey', 'a.json'], again.io)).toBe(1);
    expectTame(again.stdout());
    const wrong = fakeRun({
      files: { ...office, 'a.json': JSON.stringify({ survey: 1, [text]: text }), 'b.json': text },
    });
    expect(await run(['audit', '--survey', 'a.json'], wrong.io)).toBe(78);
    expect(await run(['survey', '--survey', 'b.json'], wrong.io)).toBe(78);
    expectTame(wrong.stderr());
  });

  it('in the intent, the names of files and the command line', async () => {
    const faulty = office['hopgauge.yaml'].replace('[storage]', JSON.stringify([text]));
    const fake = fakeRun({ files: { ...office, 'hopgauge.yaml': faulty } });
    expect(await run(['audit', '--format', text], fake.io)).toBe(64);
    expect(await run(['audit', '--survey', text], fakeRun({ files: office }).io)).toBe(78);
    expect(await run(['audit', text], fake.io)).toBe(78);
    expect(await run([`x${text}`], fake.io)).toBe(64);
    expect(await run(['fit', text, 'vault'], fake.io)).toBe(64);
    expectTame(fake.stderr());
    expectTame(fake.stdout());
  });
});
