import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { must } from './command.ts';
import { mustInNs, pathInside } from './namespaces.ts';
import type { Topology } from './topology.ts';

/** Login shells that an account of the lab can have. */
export const loginShells = ['/bin/bash', '/bin/sh', '/usr/bin/fish', '/bin/csh', '/bin/rbash'];

const accounts = [
  ['auditor', 61001],
  ['plain', 61002],
] as const;

/**
 * Gives the hosts and routers two accounts, `auditor` and `plain`, that exist in no file of this
 * machine: they are in the machines' own copies of `/etc`. Both log in with the one key of the
 * auditor's home.
 */
export async function addAccounts(topology: Topology): Promise<void> {
  const home = auditorHome(topology);
  await must(['mkdir', '-p', '-m', '700', home, join(home, '.ssh')]);
  await must(['ssh-keygen', '-q', '-t', 'ed25519', '-N', '', '-C', 'lab', '-f', keyFile(topology)]);
  for (const { name, kind } of topology.plan.nodes) {
    if (kind !== 'switch') await addAccountsTo(topology, name);
  }
  setAuditorHome(topology, home);
}

/** Sets the home folder that the account file of the auditor's machine names for root. */
export function setAuditorHome({ auditor }: Topology, home: string): void {
  putLine(pathInside(auditor, '/etc/passwd'), 'root', `root:x:0:0:root:${home}:/bin/bash`);
}

/** Home of the person who runs hopgauge. */
export function auditorHome(topology: Topology): string {
  return join(topology.directory, 'home');
}

export function keyFile(topology: Topology): string {
  return join(auditorHome(topology), '.ssh', 'id_ed25519');
}

async function addAccountsTo(topology: Topology, node: string): Promise<void> {
  const machine = topology.machine(node);
  for (const [name, id] of accounts) {
    const put = (file: string, line: string) => putLine(pathInside(machine, file), name, line);
    put('/etc/passwd', passwdLine(name, id, '/bin/bash'));
    // An asterisk is no password and no lock; sshd refuses locked accounts.
    put('/etc/shadow', `${name}:*:19000:0:99999:7:::`);
    put('/etc/group', `${name}:x:${id}:`);
  }
  const key = readFileSync(`${keyFile(topology)}.pub`, 'utf8');
  for (const [name] of accounts) {
    const script = [
      'install -d -m 755 -o "$1" -g "$1" "/home/$1"',
      'install -d -m 700 -o "$1" -g "$1" "/home/$1/.ssh"',
      'cat >"/home/$1/.ssh/authorized_keys"',
      'chown "$1:$1" "/home/$1/.ssh/authorized_keys"',
    ];
    const argv = ['sh', '-ec', script.join('\n'), 'sh', name];
    await mustInNs(topology.machine(node), argv, { input: key });
  }
}

function passwdLine(name: string, id: number, shell: string): string {
  return `${name}:x:${id}:${id}::/home/${name}:${shell}`;
}

/** Puts a line for `name` into an account file, in place of the one it has. */
function putLine(file: string, name: string, line: string): void {
  const others = readFileSync(file, 'utf8')
    .split('\n')
    .filter((each) => each !== '' && !each.startsWith(`${name}:`));
  writeFileSync(file, `${[...others, line].join('\n')}\n`);
}

/** Sets the login shell of `auditor` on one host. */
export function setShell(topology: Topology, node: string, shell: string): void {
  const [name, id] = accounts[0];
  const file = pathInside(topology.machine(node), '/etc/passwd');
  putLine(file, name, passwdLine(name, id, shell));
}

/** Writes a file into the home of `auditor` on one host; an empty text removes it. */
export async function setHomeFile(
  topology: Topology,
  [node, file]: readonly [string, string],
  text: string,
): Promise<void> {
  const path = `/home/auditor/${file}`;
  const command = text === '' ? 'rm -f -- "$1"' : 'mkdir -p -- "$(dirname -- "$1")" && cat >"$1"';
  await mustInNs(topology.machine(node), ['sh', '-c', command, 'sh', path], { input: text });
}
