import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { tryDoor } from '../../../src/collect/ssh/door.ts';
import { remoteCommands } from '../../../src/collect/ssh/exec-script.ts';
import { defaultReadLimits } from '../../../src/collect/types.ts';
import { makeWorld, run, type SshWorld, targetAt } from './ssh-world.ts';

const root = new URL('../../../src/', import.meta.url).pathname;

/** All source files, with their text. */
const sources = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => ({ file, text: readFileSync(join(root, file), 'utf8') }));

const filesWith = (pattern: RegExp) =>
  sources.filter(({ text }) => pattern.test(text)).map(({ file }) => file);

describe('the only command asked of a host', () => {
  it('is sh -s, or PowerShell, without anything that a login shell could take otherwise', () => {
    expect(remoteCommands).toEqual({
      sh: 'sh -s',
      powershell: 'powershell -NoProfile -NonInteractive -Command -',
    });
    for (const command of Object.values(remoteCommands)) expect(command).toMatch(/^[A-Za-z -]+$/);
  });

  it('is asked for in one place, by its name', () => {
    expect(sources.length).toBeGreaterThan(40);
    expect(filesWith(/client\.exec\(/)).toEqual(['collect/ssh/exec-script.ts']);
    const [place] = sources.filter(({ file }) => file === 'collect/ssh/exec-script.ts');
    expect(place?.text.match(/\.exec\(\s*remoteCommands\[session\.shell\],/g)).toHaveLength(1);
  });

  it('goes with no other use of a session: no shell, subsystem, file transfer or X11', () => {
    expect(filesWith(/\.(shell|subsys|sftp|x11|forwardIn|openssh_\w+)\(/)).toEqual([]);
  });

  it('goes with no forwarding of the agent', () => {
    expect(filesWith(/agentForward\s*:/)).toEqual([]);
  });

  it('goes over connections that only the SSH transport makes', () => {
    expect(filesWith(/from 'ssh2'/).every((file) => file.startsWith('collect/ssh/'))).toBe(true);
  });

  let world: SshWorld;
  beforeEach(() => {
    world = makeWorld();
  });
  afterEach(() => world.clean());

  it('is all that a host sees', async () => {
    const host = await world.host({ shell: true });
    world.trust(host);
    const deps = world.deps();
    const signal = new AbortController().signal;
    await run(targetAt(host), deps, { script: 'echo "$0"; reboot() { :; }; reboot\n' });
    await tryDoor(targetAt(host), deps, { limits: defaultReadLimits, signal });
    expect(host.commands()).toEqual(['sh -s', 'sh -s']);
  });
});
