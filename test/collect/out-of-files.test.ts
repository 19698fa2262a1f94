import { afterEach, describe, expect, it } from 'vitest';
import { failureOf } from '../../src/collect/snmp/failure.ts';
import { troubleOf } from '../../src/collect/snmp/trouble-of.ts';
import { reachTrouble } from '../../src/collect/ssh/reach.ts';
import { outOfFilesCode, outOfFilesWords } from '../../src/facts/out-of-files.ts';
import { target as agentTarget } from './snmp/quay-switch.ts';
import { makeWorld, run, targetAt, troubleIn } from './ssh/ssh-world.ts';

// A machine that may open nothing more has asked no node: that is never a fault of the node, of its
// key or of the way to it. Codes: open(2), socket(2).

const spent = (code = 'EMFILE') =>
  Object.assign(new Error(`${code}: too many open files`), { code });
const remedy =
  'raise the limit of open files: ulimit -n 256 in the shell before, LimitNOFILE=256 in the unit';

const worlds: { clean(): Promise<void> }[] = [];
afterEach(async () => {
  for (const world of worlds.splice(0)) await world.clean();
});

describe('no more files may be open', () => {
  it.each([
    ['EMFILE', 'EMFILE'],
    ['ENFILE', 'ENFILE'],
    ['ENOENT', undefined],
  ])('%s', (code, told) => {
    expect(outOfFilesCode(spent(code))).toBe(told);
  });

  it('no error of the system', () => {
    expect([outOfFilesCode('EMFILE'), outOfFilesCode(new Error('EMFILE'))]).toEqual([
      undefined,
      undefined,
    ]);
    expect(outOfFilesWords('EMFILE')).toBe(
      `this process may have no more files open (EMFILE); ${remedy}`,
    );
  });

  it('at the connection to a host', () => {
    const whither = { host: '198.18.20.2', port: 22, where: 'vault' };
    expect(reachTrouble(whither, [], 'EMFILE')).toEqual({
      kind: 'files-spent',
      seen: '198.18.20.2 port 22 was not asked: this process may have no more files open (EMFILE)',
      remedy,
    });
  });

  it('at the settings or the known hosts of a host, which is then not unknown', async () => {
    const world = makeWorld();
    worlds.push(world);
    const host = await world.host();
    const settings = async () => {
      throw spent();
    };
    const trouble = troubleIn(await run(targetAt(host), { ...world.deps(), settings }));
    expect(trouble).toMatchObject({ kind: 'files-spent', remedy });
    expect(host.connections()).toBe(0);
  });

  it('at the socket of an agent', () => {
    const target = agentTarget({ address: '198.18.20.3', port: 161 });
    const silence = { heard: 0, garbled: 0, matched: false };
    expect(troubleOf(failureOf(spent()), target, silence)).toEqual({
      kind: 'files-spent',
      seen: 'nothing was sent to 198.18.20.3 port 161: this process may have no more files open (EMFILE)',
      remedy,
    });
  });
});
