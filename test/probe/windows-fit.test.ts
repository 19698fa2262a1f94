import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answerPowershell } from '../../mocks/windows-output/answer-powershell.ts';
import type { DescribedWindows } from '../../mocks/windows-output/described-windows.ts';
import { type PrintedRows, windowsFramed } from '../../mocks/windows-output/windows-framed.ts';
import { scriptFor } from '../../src/collect/script-for.ts';
import { defaultReadLimits, type RunScript } from '../../src/collect/types.ts';
import { planFor, planOf } from '../../src/probe/fit-plan.ts';
import type { FitOutcome } from '../../src/probe/fit-types.ts';
import { parseWindowsFit } from '../../src/probe/parse-windows-fit.ts';
import { runFit } from '../../src/probe/run-fit.ts';
import { windowsFitCommands, windowsFitScript } from '../../src/probe/windows-fit-script.ts';
import { plot3 } from '../collect/windows/described.ts';
import { cmdletsOf, methodsOf, typesOf } from '../collect/windows/powershell-words.ts';

const marker = 'mark-7';
const toAddress = '198.18.20.2';
const request = { marker, toAddress, plan: planOf([1500, 9000], toAddress) };
const bytes = (text: string) => new TextEncoder().encode(text);

function verdicts(outcome: FitOutcome) {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.trouble));
  return outcome.fit.sizes.map(({ verdict }) => verdict);
}

describe('windowsFitScript', () => {
  const script = windowsFitScript(request);

  it('generates the first line and no other', () => {
    expect(script.split('\n')[0]).toBe(
      "$M='mark-7'; $A='198.18.20.2'; $sizes=@(1472,8972); $near=@(); $floor=548",
    );
    expect(script.split('\n').slice(1)).toEqual(
      windowsFitScript({ marker: 'b', toAddress: 'fd00:5e::2', plan: planFor(9000, 'fd00:5e::2') })
        .split('\n')
        .slice(1),
    );
  });

  it.each([
    ['a name', { toAddress: 'vault' }],
    ['a command', { toAddress: "198.18.0.1'; calc; '" }],
    ['a marker with a quote', { marker: "a'" }],
    ['no size', { plan: planOf([], toAddress) }],
    ['a half', { plan: planOf([1500.5], toAddress) }],
  ])('refuses %s', (_, part) => {
    expect(() => windowsFitScript({ ...request, ...part })).toThrow();
  });

  it('uses the listed cmdlets and types of .NET, and nothing else', () => {
    const listed = windowsFitCommands.map(({ command }) => command);
    const cmdlets = new Set(listed.flatMap((command) => command.match(/^[A-Z]\w+-\w+/) ?? []));
    expect([...new Set(cmdletsOf(script))].sort()).toEqual([...cmdlets].sort());
    const types = new Set(listed.flatMap((command) => command.match(/System\.[\w.]+\w/g) ?? []));
    expect([...new Set(typesOf(script))].sort()).toEqual([...types].sort());
    expect([...new Set(methodsOf(script))].sort()).toEqual([
      ...['Close', 'Connect', 'Parse', 'Send', 'ToCharArray', 'ToString'],
    ]);
  });

  it('is plain ASCII, with every statement whole on one line', () => {
    expect(script).toMatch(/^[\n\x20-\x7e]*$/);
    for (const line of script.split('\n')) {
      const bare = line.replaceAll(/'[^']*'|"[^"]*"/g, '');
      expect(bare.split('{').length, line).toBe(bare.split('}').length);
      expect(bare.split('(').length, line).toBe(bare.split(')').length);
    }
  });
});

describe('a fit from Windows', () => {
  const far = (passesBytes: number, beyond: 'silence' | 'own-interface' | 'router') => ({
    to: toAddress,
    passesBytes,
    beyond,
    ...(beyond === 'router' ? { router: '198.18.20.1' } : {}),
  });
  const from =
    (host: DescribedWindows): RunScript =>
    async (script) => ({
      ok: true,
      shell: 'powershell',
      output: bytes(answerPowershell(host, scriptFor(script, 'powershell')) ?? ''),
    });
  const nothing = 'no reply to the smallest size either: the far end is off, or pings are filtered';
  const tooBig = 'ping gave status PacketTooBig (11009)';

  it.each([
    ['everything passes', far(9000, 'silence'), [{ kind: 'passes' }, { kind: 'passes' }]],
    ['a hop in the middle', far(1500, 'silence'), [{ kind: 'passes' }, { kind: 'silent' }]],
    [
      'its own interface',
      far(1500, 'own-interface'),
      [{ kind: 'passes' }, { kind: 'own-interface-small', words: tooBig }],
    ],
    [
      'a router',
      far(1500, 'router'),
      [{ kind: 'passes' }, { kind: 'router-said', address: '198.18.20.1', words: tooBig }],
    ],
    [
      'nobody answers',
      far(0, 'silence'),
      [
        { kind: 'cannot-tell', words: nothing },
        { kind: 'cannot-tell', words: nothing },
        {
          kind: 'cannot-tell',
          words: 'not sent, because a smaller size did not come back',
        },
      ],
    ],
  ])('%s', async (_, described, expected) => {
    const run = from({ ...plot3, fits: [described] });
    const signal = new AbortController().signal;
    expect(verdicts(await runFit(run, request, defaultReadLimits, signal))).toEqual(expected);
  });

  it('halves what is left between the last that passes and the packet', async () => {
    const run = from({ ...plot3, fits: [far(8986, 'silence')] });
    const plan = planFor(9000, toAddress);
    const signal = new AbortController().signal;
    const outcome = await runFit(run, { toAddress, plan }, defaultReadLimits, signal);
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    expect(outcome.fit.provenBytes).toBe(8986);
    expect(outcome.fit.sizes.map(({ sizeBytes, tries }) => [sizeBytes, tries])).toEqual([
      [1500, 1],
      [2000, 1],
      [8982, 1],
      [8986, 1],
      [8996, 3],
      [9000, 3],
    ]);
  });
});

describe('parseWindowsFit', () => {
  const parse = (
    rows: readonly object[],
    more: Partial<PrintedRows> = {},
    source = '198.18.20.31',
  ) =>
    parseWindowsFit(
      bytes(
        windowsFramed(
          marker,
          [
            { section: 'source', rows: source === '' ? [] : [{ from: source }] },
            { section: 'ping 1472.1', rows: [{ status: 0, address: toAddress }] },
            { section: 'ping 8972.1', rows, ...more },
          ],
          [],
        ),
      ),
      request,
    );

  it.each([
    [
      'the host leaves the address empty',
      [{ status: 11_009, address: '' }],
      { kind: 'own-interface-small', words: 'ping gave status PacketTooBig (11009)' },
    ],
    [
      'a host that is not there',
      [{ status: 11_003 }],
      { kind: 'cannot-tell', words: 'ping gave status 11003' },
    ],
    ['no row', [], { kind: 'cannot-tell', words: 'ping gave status none' }],
    [
      'a text where a number is due',
      [{ status: 'Success' }],
      { kind: 'cannot-tell', words: 'ping gave status Success' },
    ],
  ])('%s', (_, rows, verdict) => {
    expect(verdicts(parse(rows))[1]).toEqual(verdict);
  });

  it('cannot tell whose word it is while the own address is not known', () => {
    expect(verdicts(parse([{ status: 11_009, address: '198.18.20.1' }], {}, ''))[1]).toEqual({
      kind: 'cannot-tell',
      words:
        'ping gave status PacketTooBig (11009), and whether 198.18.20.1 is its own is not known',
    });
  });

  it('cannot tell where PowerShell may not make a ping', () => {
    const error = { category: 18, id: 'CannotCreateTypeConstrainedLanguage', message: 'nein' };
    expect(verdicts(parse([], { error }))[1]).toEqual({
      kind: 'cannot-tell',
      words: 'nein (CannotCreateTypeConstrainedLanguage)',
    });
  });

  it('cannot tell over IPv6, which Windows fragments', () => {
    const text = windowsFramed(marker, [{ section: 'ping 1452.1', rows: [{ status: 0 }] }], []);
    const outcome = parseWindowsFit(bytes(text), {
      ...request,
      toAddress: 'fd00:5e::2',
      plan: planOf([1500], 'fd00:5e::2'),
    });
    expect(verdicts(outcome)).toEqual([
      { kind: 'cannot-tell', words: 'Windows fragments a large ping over IPv6 by itself' },
    ]);
  });

  it('never throws, and proves nothing from noise', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (noise) => {
        const outcome = parseWindowsFit(
          new Uint8Array([...bytes(`${marker} begin 1\n`), ...noise]),
          request,
        );
        expect(outcome.ok && outcome.fit.provenBytes).toBe(undefined);
      }),
    );
  });
});
