import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { framesOf } from '../../../src/collect/unix/frames.ts';
import { unixScript } from '../../../src/collect/unix/unix-script.ts';

const wired = ['eno1', 'eno2'];

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

/** `ethtool` of an account that may not read modules by itself. */
const denied = (port: string) => `
case "$1" in
  -m) [ "$ASKED" = yes ] && { echo '	Identifier : 0x03 (SFP)'; exit 0; }
      echo 'netlink error: Operation not permitted' >&2; exit 1 ;;
  -*) exit 1 ;;
esac
printf 'Settings:\\n\\tPort: ${port}\\n'`;

/** Runs the script on a /sys of ours, with an `ethtool` and a `sudo` in front of the real ones. */
function run(ethtool: string, sudo: string) {
  const folder = mkdtempSync(join(tmpdir(), 'module-right-'));
  folders.push(folder);
  const log = join(folder, 'asked');
  writeFileSync(log, '');
  for (const [name, text] of Object.entries({ ethtool, sudo: `echo "$*" >>${log}\n${sudo}` })) {
    writeFileSync(join(folder, name), `#!/bin/sh\n${text}\n`);
    chmodSync(join(folder, name), 0o755);
  }
  const net = join(folder, 'net');
  for (const port of wired) mkdirSync(join(net, port, 'device'), { recursive: true });
  const script = unixScript({ marker: 'mark-7', peers: [] });
  const answer = spawnSync('/bin/sh', ['-s'], {
    input: script.replaceAll('/sys/class/net', net),
    env: { PATH: `${folder}:/usr/bin:/bin` },
    timeout: 20_000,
  });
  expect(answer.signal).toBeNull();
  const framed = framesOf(answer.stdout, 'mark-7');
  expect(framed.whole).toBe(true);
  const module = framed.sections.get(`ethtool-module ${wired[0]}`);
  const asked = readFileSync(log, 'utf8')
    .split('\n')
    .filter((line) => line !== '');
  return { module, asked };
}

const mayAsk = 'shift; [ "$1" = -l ] && exit 0; ASKED=yes exec "$@"';
const wantsPassword = 'echo "sudo: a password is required" >&2; exit 1';

// The script has a branch of its own for other systems.
describe.runIf(process.platform === 'linux')('the right to read a module (needs Linux)', () => {
  const first = wired[0];

  it('is not asked for where the account has it', () => {
    const { module, asked } = run('[ "$1" = -m ] && echo "	Identifier : 0x03 (SFP)"', mayAsk);
    expect(module).toMatchObject({ status: 0, output: '\tIdentifier : 0x03 (SFP)' });
    expect(asked).toEqual([]);
  });

  it('is asked for once, and used, where the account may ask', () => {
    const { module, asked } = run(denied('FIBRE'), mayAsk);
    expect(module).toMatchObject({ status: 0, output: '\tIdentifier : 0x03 (SFP)' });
    expect(asked).toEqual([
      `-n -l ethtool -m ${first}`,
      ...wired.map((port) => `-n ethtool -m ${port}`),
    ]);
  });

  it('is asked for once where the account may not: denied, and no prompt', () => {
    const { module, asked } = run(denied('FIBRE'), wantsPassword);
    expect(module).toMatchObject({ status: 1, words: 'netlink error: Operation not permitted' });
    expect(asked).toEqual([`-n -l ethtool -m ${first}`]);
  });

  it('is denied in the words of sudo where only its list is allowed', () => {
    const { module } = run(denied('FIBRE'), `[ "$2" = -l ] && exit 0; ${wantsPassword}`);
    expect(module).toMatchObject({ status: 1, words: 'sudo: a password is required' });
  });

  it('reads nothing from the script where sudo does ask', () => {
    const { module } = run(
      denied('FIBRE'),
      '[ "$2" = -l ] && exit 0; read -r a; echo "got $a" >&2; exit 1',
    );
    expect(module?.words).toBe('got');
  });

  it('is not asked for where there is no light to read', () => {
    const { module, asked } = run(denied('Twisted Pair'), mayAsk);
    expect(module?.words).toBe('netlink error: Operation not permitted');
    expect(asked).toEqual([]);
  });

  it('is not asked for where the driver has no module', () => {
    const none = '[ "$1" = -m ] && echo "netlink error: Operation not supported" >&2; exit 1';
    expect(run(none, mayAsk).asked).toEqual([]);
  });
});
