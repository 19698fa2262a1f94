import { describe, expect, it } from 'vitest';
import { ncProgram } from '../../src/probe/transfer-nc.ts';
import { perlProgram } from '../../src/probe/transfer-perl.ts';
import { transferProgram } from '../../src/probe/transfer-program.ts';
import { pythonProgram } from '../../src/probe/transfer-python.ts';
import { starterScript, transferCommands } from '../../src/probe/transfer-starter.ts';
import type { TransferRole } from '../../src/probe/transfer-types.ts';
import { commandsOf, redirectionsOf } from '../collect/unix/shell-words.ts';

const role: TransferRole = {
  marker: 'mark-7',
  ...{ role: 'listen', way: 'receive', own: '198.18.20.7', peer: '198.18.20.1', port: 0 },
  token: '00112233445566778899aabbccddeeff',
  ...{ streams: 2, seconds: 10, bytesMax: 5e9, plain: false },
};

describe('the text that makes a host one end', () => {
  it('has one generated line before a constant program', () => {
    const rest = `${perlProgram}\n#run\n`;
    expect(transferProgram('perl', role)).toBe(
      `our %P=(m=>'mark-7',role=>'listen',way=>'receive',own=>'198.18.20.7',peer=>'198.18.20.1',port=>0,token=>'00112233445566778899aabbccddeeff',streams=>2,seconds=>10,cap=>5000000000,wait=>10,drain=>10,plain=>0);\n${rest}`,
    );
    expect(transferProgram('python3', role)).toBe(
      `P = dict(m='mark-7', role='listen', way='receive', own='198.18.20.7', peer='198.18.20.1', port=0, token='00112233445566778899aabbccddeeff', streams=2, seconds=10, cap=5000000000, wait=10, drain=10, plain=0)\n${pythonProgram}\n#run\n`,
    );
    expect(transferProgram('nc', { ...role, port: 50_000 })).toBe(
      `R='listen'; A='198.18.20.7'; B='198.18.20.1'; P='50000'; T='00112233445566778899aabbccddeeff'; D='10'; C='76293'; L='30'\n${ncProgram}`,
    );
  });

  it.each([
    ['a marker with a quote', { marker: "a'" }],
    ['a name', { own: 'vault' }],
    ['a zone', { peer: 'fe80::1%eth0' }],
    ['a command', { peer: "198.18.0.1'; reboot; '" }],
    ['a port that is none', { port: 65_536 }],
    ['half a port', { port: 1.5 }],
    ['a short token', { token: 'aa' }],
    ['a token with a quote', { token: "'0112233445566778899aabbccddeeff" }],
    ['no stream', { streams: 0 }],
    ['nine streams', { streams: 9 }],
    ['a minute', { seconds: 60 }],
    ['no number', { seconds: Number.NaN }],
    ['no byte', { bytesMax: 0 }],
    ['bytes without end', { bytesMax: Number.POSITIVE_INFINITY }],
    ['another role', { role: "x'" as 'listen' }],
    ['another way', { way: "x'" as 'send' }],
  ])('refuses %s', (_, part) => {
    for (const tool of ['perl', 'python3', 'nc'] as const) {
      expect(() => transferProgram(tool, { ...role, ...part })).toThrow();
    }
  });
});

/** N holds `nc` or `busybox nc`; programs of other languages stand between single quotes. */
const named = (script: string) =>
  script.replaceAll('$N', 'nc').replaceAll(/\bexec (?=[a-z])|\bcommand -v /g, '');
const starter = named(starterScript('mark-7').replaceAll(/'[^']*'/g, "'text'"));

describe.each([
  ['the starter', starter],
  ['the script for nc', named(ncProgram)],
])('%s', (_, script) => {
  it('runs what is listed, and nothing else', () => {
    const listed = transferCommands.flatMap(({ command }) => command.split(/[ ,]+/));
    // Words of the shell, and kinds of nc as patterns of `case`.
    const own = new Set(['exec', 'trap', 'wait', 'bsd', 'old', 'smallest']);
    for (const used of commandsOf(script)) {
      if (!own.has(used)) expect(listed).toContain(used);
    }
    expect(commandsOf(script).length).toBeGreaterThan(1);
  });

  it('writes to no file', () => {
    const found = redirectionsOf(script);
    expect(found.length).toBeGreaterThan(3);
    for (const redirection of found) {
      expect(redirection).toMatch(/^(?:2>&1|2?>\/dev\/null|[34]?<\/dev\/null|3<&0|4<&0|<&[34])$/);
    }
  });

  it('has no word of changing anything', () => {
    expect(script).not.toMatch(
      /\b(?:rm|mv|cp|tee|touch|mkdir|chmod|mkfifo|sudo|su|nohup|curl|wget)\b/,
    );
  });
});

describe.each([
  ['Perl', perlProgram],
  ['Python', pythonProgram],
])('the program in %s', (_, program) => {
  it('opens one file, to read it', () => {
    const opened = program.match(/\bopen\b\([^)]*\)/g) ?? [];
    expect(opened).toHaveLength(1);
    expect(opened[0]).toMatch(/^open\((?:my \$f, '<', )?'\/proc\/stat'\)$/);
  });

  it('starts nothing and removes nothing', () => {
    expect(program).not.toMatch(
      /\b(?:system|exec|fork|popen|qx|unlink|subprocess|spawn|rename)\b|`/,
    );
  });
});

it('does not look for python3 on macOS, where its name opens a dialog', () => {
  const at = starterScript('mark-7')
    .split('\n')
    .filter((line) => line.includes('python3 -I'));
  expect(at[0]).toMatch(/^ {2}if \[ "\$S" != Darwin \] && python3/);
  expect(at).toHaveLength(2);
});
