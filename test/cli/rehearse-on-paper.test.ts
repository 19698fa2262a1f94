import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { parseJson } from '../../src/facts/json.ts';
import { fakeRun, office, twoHosts } from './fake-io.ts';

async function paper(intent: string, ...argv: readonly string[]) {
  const fake = fakeRun({ files: { ...office, 'hopgauge.yaml': intent } });
  const status = await run(['rehearse', ...argv], fake.io);
  return { status, stdout: fake.stdout(), stderr: fake.stderr(), fake };
}

const oneLine = (text: string) => text.replaceAll(/\s+/g, ' ');

describe('rehearse without a change', () => {
  it('finds nothing against an intent that goes together, and reads nothing', async () => {
    const { status, stdout, fake } = await paper(twoHosts);
    expect(stdout).toBe(`Saltmarsh survey office on paper: nothing in the intent speaks against it
nothing was read: buses that are not declared, drivers and modules in place are
known only from a survey
`);
    expect(status).toBe(0);
    expect(fake.asked).toEqual([]);
  });

  it.each([
    [
      'a run that does not reach',
      twoHosts.replace('cord cat6a 2 m', 'wall cat6a 140 m'),
      1,
      'plot-1:en7 - vault:eth4 is declared at 10000 Mb/s, and its run does not reach that',
    ],
    [
      'a goodput above its ceiling',
      twoHosts.replace('over: storage }', 'over: storage, goodput: 10G }'),
      1,
      'plotting wants 10000 Mb/s, and plot-1:en7 - vault:eth4 at 10000 Mb/s with packets of 9000 bytes carries at most 9900 Mb/s of TCP data',
    ],
    [
      'an unread switch with a small frame, and the path through it',
      twoHosts
        .replace('segments:', '  shed-sw: { unread: switch, frame: 1522 }\nsegments:')
        .replace('ends: [plot-1:en7, vault:eth4]', 'ends: [plot-1:en7, shed-sw:p1]')
        .replace(
          'paths:',
          '  - { ends: [shed-sw:p2, vault:eth4], untagged: storage, speed: 10G }\npaths:',
        ),
      1,
      'shed-sw passes frames of at most 1522 bytes as declared, and segment storage needs 9018 bytes there (9000 + 18 of header and FCS, IEEE 802.3); it is on the way of path plotting',
    ],
    [
      'a link without a run',
      twoHosts.replace(', run: [cord cat6a 2 m]', ''),
      2,
      'not known plot-1:en7 - vault:eth4 has no run declared do declare the run',
    ],
    [
      'a segment without an MTU',
      twoHosts.replace('{ mtu: 9000 }', '{}'),
      2,
      'storage has no MTU declared',
    ],
    [
      'a caution, which leaves the status as it is',
      twoHosts.replace('cord cat6a 2 m', 'cord cat6a 2 m field-terminated'),
      0,
      'Saltmarsh survey office on paper: nothing in the intent speaks against it, 1 to mind mind plot-1:en7 - vault:eth4 is to be looked at',
    ],
  ])('names %s', async (_, intent, wanted, words) => {
    const { status, stdout } = await paper(intent);
    expect(oneLine(stdout)).toContain(words);
    expect(status).toBe(wanted);
  });

  it.each([
    [
      'a port in two links',
      twoHosts.replace(
        'paths:',
        '  - { ends: [plot-1:en7, vault:eth5], untagged: storage }\npaths:',
      ),
      "hopgauge.yaml:9:14: the port is already in the link at hopgauge.yaml:8:14; 'plot-1:en7'; name another port",
    ],
    [
      'an aggregate of one link',
      twoHosts.replace('untagged: storage,', 'untagged: storage, lag: up,'),
      "an aggregate has one link only; 'up'; give another link the same lag, or remove it",
    ],
    [
      'a path larger than its segment',
      twoHosts.replace('over: storage }', 'over: storage, mtu: 9001 }'),
      "'mtu' is larger than that of segment 'storage'; 9001 over 9000 at hopgauge.yaml:6:13; write 9000 or less, or raise the segment",
    ],
    [
      'a segment too small for IPv6 (RFC 8200 section 5)',
      twoHosts.replace('{ mtu: 9000 }', '{ mtu: 1279, ipv6: true }'),
      'is too small for IPv6 (RFC 8200)',
    ],
    [
      'a bus that is none, at its line and column',
      twoHosts.replace(
        '{ at: vault.office.example }',
        '{ at: vault.office.example, ports: { eth4: { bus: PCIe 9 } } }',
      ),
      "hopgauge.yaml:5:60: 'bus' must be a bus; 'PCIe 9'; write it such as 'PCIe 8.0 GT/s x4', 'USB 5000 Mb/s' or 'Thunderbolt 40 Gb/s'",
    ],
  ])('refuses %s', async (_, intent, words) => {
    const { status, stdout, stderr } = await paper(intent);
    expect(stderr).toContain(words);
    expect(stderr).toMatch(/^hopgauge\.yaml:\d+:\d+: /m);
    expect(stdout).toBe('');
    expect(status).toBe(78);
  });

  it('judges a declared bus by the speed of its link', async () => {
    const bus = (text: string) =>
      twoHosts.replace(
        '{ at: vault.office.example }',
        `{ at: vault.office.example, ports: { eth4: { bus: ${text} } } }`,
      );
    const narrow = await paper(bus('PCIe 8.0 GT/s x1'));
    expect(oneLine(narrow.stdout)).toContain(
      'impossible vault:eth4 cannot carry the declared 10000 Mb/s: PCI Express 3.0 x1 carries',
    );
    expect(narrow.status).toBe(1);
    expect((await paper(bus('PCIe 8.0 GT/s x4'))).status).toBe(0);
  });

  it('gives each remark of its own as JSON, and those that say the same as one line', async () => {
    const links = [1, 2, 3, 4, 5, 6, 7].map(
      (n) => `  - { ends: [plot-1:a${n}, vault:b${n}], untagged: storage, speed: 10G }\n`,
    );
    const intent = twoHosts.replace('paths:', `${links.join('')}paths:`);
    const { stdout, status } = await paper(intent);
    expect(oneLine(stdout)).toContain(
      '0 impossible as declared, 7 left unknown not known plot-1:a1 - vault:b1, plot-1:a2 - vault:b2, plot-1:a3 - vault:b3, plot-1:a4 - vault:b4, plot-1:a5 - vault:b5 and 2 more have no run declared do declare the run nothing was read',
    );
    expect(status).toBe(2);
    const json = await paper(intent, '--format', 'json');
    expect(parseJson(json.stdout)).toEqual({
      site: 'Saltmarsh survey office',
      remarks: [1, 2, 3, 4, 5, 6, 7].map((n) => ({
        kind: 'unknown',
        on: `plot-1:a${n} - vault:b${n}`,
        what: 'has no run declared',
        remedy: 'declare the run',
      })),
    });
  });

  it('judges the intent of the demo', async () => {
    const demo = fileURLToPath(new URL('../../mocks/saltmarsh/intent.yaml', import.meta.url));
    const { status, stdout } = await paper(await readFile(demo, 'utf8'));
    expect(stdout).toContain('1 impossible as declared, 3 left unknown, 6 to\nmind\n');
    expect(oneLine(stdout)).toContain(
      'shed-sw:p2 - plot-2:eno1 is declared at 10000 Mb/s, and its run does not reach that (cord cat5e 5 m: 10GBASE-T is not specified for cat5e)',
    );
    expect(status).toBe(1);
  });
});
