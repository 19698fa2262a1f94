import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { framesOf } from '../../../src/collect/unix/frames.ts';
import { unixScriptBody } from '../../../src/collect/unix/script-text.ts';
import { unixCommands } from '../../../src/collect/unix/unix-commands.ts';
import { unixScript } from '../../../src/collect/unix/unix-script.ts';
import { fitCommands } from '../../../src/probe/fit-commands.ts';
import { planFor } from '../../../src/probe/fit-plan.ts';
import { fitScript } from '../../../src/probe/fit-script.ts';
import { commandsOf, redirectionsOf } from './shell-words.ts';

const marker = 'mark-7';

describe('unixScript', () => {
  it('generates the first line and no other', () => {
    const script = unixScript({ marker, peers: ['198.18.0.10', 'fd00:5e::10'] });
    expect(script).toBe(`M='mark-7'; P='198.18.0.10 fd00:5e::10'\n${unixScriptBody}`);
    expect(unixScript({ marker, peers: [] })).toBe(`M='mark-7'; P=''\n${unixScriptBody}`);
  });

  it.each([
    [''],
    ["a'b"],
    ['a b'],
    ['a\nb'],
    ['$(reboot)'],
    ['`id`'],
    ['a;b'],
    ['a\u0000'],
    ['ä'],
    ['x'.repeat(65)],
  ])('refuses the marker %j', (text) => {
    expect(() => unixScript({ marker: text, peers: [] })).toThrow('marker');
  });

  it.each([
    ['vault.office.example'],
    ['198.18.0.300'],
    ['198.18.0.1/24'],
    ['fe80::1%eth0'],
    ["198.18.0.1'; reboot; '"],
    ['198.18.0.1 '],
    ['198.18.0.1\n'],
    ['-V'],
    ['1'],
    [''],
  ])('refuses the peer %j', (text) => {
    expect(() => unixScript({ marker, peers: [text] })).toThrow('literal IP address');
  });

  it('asks for 64 peers at most', () => {
    const peers = Array.from({ length: 100 }, (_, i) => `198.18.1.${i}`);
    const line = unixScript({ marker, peers }).split('\n')[0] ?? '';
    expect(line.split(' ')).toHaveLength(1 + 64);
  });
});

describe.each([
  ['the reading script', unixScript({ marker, peers: ['198.18.0.10'] }), unixCommands],
  [
    'the script of a fit',
    fitScript({ marker, toAddress: '198.18.0.10', plan: planFor(9000, '198.18.0.10') }),
    fitCommands,
  ],
])('%s', (_, script, commands) => {
  it('runs what is listed, and nothing else', () => {
    const listed = commands.map(({ command }) => command.split(' ')[0] ?? '');
    const used = new Set(commandsOf(script));
    expect([...used].sort()).toEqual([...new Set(listed)].sort());
  });

  it('runs each command with listed options only', () => {
    const options = new Map<string, Set<string>>();
    for (const { command } of commands) {
      const [name = '', ...rest] = command.split(' ');
      const known = options.get(name) ?? new Set();
      for (const word of rest) if (/^-/.test(word)) known.add(word);
      options.set(name, known);
    }
    const runs = script.matchAll(
      /(?:\brun (?:"[^"]*"|[\w-]+) |\$\(|^ {2})([a-z_]\w*)((?: +[^|;)\n]+)?)/gm,
    );
    let checked = 0;
    for (const [, name = '', rest = ''] of runs) {
      const known = options.get(name);
      if (known === undefined) continue;
      checked += 1;
      for (const option of rest.match(/(?<= )-[\w-]+/g) ?? []) {
        expect([...known], `${name} ${option}`).toContain(option);
      }
    }
    expect(checked).toBeGreaterThan(3);
  });

  it('writes to no file', () => {
    const found = redirectionsOf(script);
    expect(found.length).toBeGreaterThan(3);
    for (const redirection of found) {
      expect(redirection).toMatch(
        /^(?:2>&1|>&3|3>&1|3>&-|2>\/dev\/null|<\/dev\/null|<\/proc\/mounts)$/,
      );
    }
  });

  it('has no word of changing anything', () => {
    // Asking as another user stands in exactly two forms: they never ask for a password, and the
    // one command that they can run only reads a module.
    const plain = script.replaceAll(/(?<= )sudo -n (?:-l )?(?=ethtool -m "\$1"\n)/g, '');
    expect(plain).not.toMatch(
      /\b(?:rm|mv|cp|tee|touch|mkdir|chmod|kill|sudo|su|eval|exec|source|nohup|dd|curl|wget)\b/,
    );
    expect(plain).not.toMatch(/\b(?:set|add|del|delete|flush|change|replace|up|down) dev\b/);
  });
});

const shells = [
  ['dash', ['dash', '-s']],
  ['bash', ['bash', '-s']],
  ['busybox ash', ['busybox', 'sh', '-s']],
  ['sh', ['sh', '-s']],
] as const;

describe.runIf(process.platform === 'linux')('run for real (needs Linux)', () => {
  const script = unixScript({ marker, peers: ['127.0.0.1', '::1'] });

  function run([command, ...args]: readonly [string, ...string[]]) {
    const answer = spawnSync(command, args, { input: script, timeout: 20_000 });
    return { status: answer.status, stderr: answer.stderr.toString(), output: answer.stdout };
  }

  const reference = framesOf(run(['sh', '-s']).output, marker);

  it.each(shells)('%s prints the same sections, no complaint, status 0', (_, command) => {
    if (!existsSync(`/usr/bin/${command[0]}`)) throw new Error(`${command[0]} is not installed`);
    const { status, stderr, output } = run(command);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    const framed = framesOf(output, marker);
    expect(framed.whole).toBe(true);
    expect([...framed.sections.keys()]).toEqual([...reference.sections.keys()]);
    for (const name of ['system ', 'text ', 'os-release ', 'ip-link ', 'ip-addr ']) {
      expect(framed.sections.get(name), name).toEqual(reference.sections.get(name));
    }
  });

  it('eats none of its own lines, and asks for the routes', () => {
    const names = [...reference.sections.values()].map(({ name, about }) => `${name} ${about}`);
    expect(names.slice(0, 5)).toEqual(['system ', 'name ', 'text ', 'os-release ', 'uptime ']);
    expect(names).toContain('route 127.0.0.1');
    expect(names).toContain('route ::1');
    const last = names.slice(names.indexOf('sessions ') + 1);
    expect(
      last.filter((name) => !/^(?:ethtool-[a-z]+ [\w.:@-]+|module-right )$/.test(name)),
    ).toEqual([]);
    expect(reference.core).toBe(true);
  });

  it('keeps status and words of a command that is missing', () => {
    const answer = execFileSync('/bin/sh', ['-s'], {
      input: script,
      env: { PATH: '/nowhere' },
      timeout: 20_000,
    });
    const framed = framesOf(answer, marker);
    expect(framed.whole).toBe(true);
    // The script adds /usr/sbin and /sbin, so only what is in /usr/bin is gone.
    const section = framed.sections.get('name ');
    expect(section?.status).toBe(127);
    expect(section?.words).toMatch(/uname: not found|uname: command not found/);
  });
});

describe('the check of commands itself', () => {
  it.each([
    ['reboot'],
    ['x=$(reboot)'],
    ['run "x" reboot'],
    ['run x reboot -f'],
    ['[ a ] && reboot'],
    ['[ a ] || reboot now'],
    ['(reboot)'],
    ['{ w=$(reboot); }'],
    ['case a in a) reboot ;; esac'],
    ['case a in a|b) run x reboot ;; esac'],
    ['if reboot; then cd /; fi'],
    ['while reboot; do cd /; done'],
    ['for a in b; do reboot; done'],
    ['LC_ALL=C reboot'],
    ['printf "%s" "$(reboot)"'],
    ['printf a | reboot'],
  ])('finds the one in %s', (line) => {
    expect(commandsOf(`${unixScriptBody}${line}\n`)).toContain('reboot');
  });

  it.each([
    ['cat a > b', '>'],
    ['cat a >b', '>b'],
    ['cat a 2>>b', '2>>b'],
    ['cat a >$x', '>$x'],
  ])('finds the redirection in %s', (line, redirection) => {
    expect(redirectionsOf(line)).toContain(redirection);
  });
});
