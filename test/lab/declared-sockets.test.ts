import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type CanarySite, startCanarySite } from '../secrecy/canary-site.ts';

// Every system call that could send something is written down by strace: an audit may speak to the
// nodes that its intent declares, and to nobody else, no name server and no home of ours among them.

let site: CanarySite;
beforeAll(async () => {
  site = await startCanarySite();
});
afterAll(() => site.stop());

const run = promisify(execFile);
const tsx = resolve('node_modules/.bin/tsx');
const child = resolve('test/secrecy/child.ts');

/** Destinations of all that a command sent or connected to, as `address:port`. */
async function destinations(argv: readonly string[]): Promise<ReadonlySet<string>> {
  const log = join(site.home, 'strace.log');
  const calls = 'trace=connect,sendto,sendmsg,sendmmsg';
  await run('strace', ['-f', '-qq', '-s', '0', '-e', calls, '-o', log, tsx, child, ...argv], {
    cwd: site.home,
    env: site.env,
    timeout: 90_000,
  }).catch((error: { code?: unknown }) => {
    // The office has faults, so that an audit does not end with 0.
    if (typeof error.code !== 'number') throw error;
  });
  return destinationsIn(readFileSync(log, 'utf8'));
}

function destinationsIn(text: string): ReadonlySet<string> {
  const found = new Set<string>();
  const port = /sin6?_port=htons\((\d+)\)/;
  const address = /inet_addr\("([^"]+)"\)|inet_pton\(AF_INET6, "([^"]+)"/;
  for (const line of text.split('\n')) {
    if (!/AF_INET6?\b/.test(line)) continue;
    const [, v4, v6] = address.exec(line) ?? [];
    found.add(`${v4 ?? v6}:${port.exec(line)?.[1]}`);
  }
  return found;
}

describe('nobody is spoken to but the declared nodes', () => {
  it.each([
    ['access', ['access']],
    [
      'audit',
      [
        'audit',
        '--changes',
        '--store',
        'state/history.sqlite',
        '--format',
        'html',
        '--out',
        'x.html',
      ],
    ],
    ['survey', ['survey', '--quiet', '--out', 'survey.json']],
  ])('%s', { timeout: 120_000 }, async (_, argv) => {
    const seen = await destinations(argv);
    // Every node was spoken to, or nothing was watched.
    expect([...seen].sort()).toEqual([...site.declared].sort());
  });

  it.each([
    ['judging again', ['audit', '--survey', 'survey.json']],
    ['showing what would be asked', ['audit', '--show-commands']],
    ['the rules', ['rules']],
  ])('%s: not even to them', { timeout: 120_000 }, async (_, argv) => {
    expect([...(await destinations(argv))]).toEqual([]);
  });
});
