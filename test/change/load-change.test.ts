import { describe, expect, it } from 'vitest';
import { loadChange } from '../../src/change/load-change.ts';
import { faultLine } from '../../src/intent/fault.ts';
import { twoSwitches } from './two-switches.ts';

const { intent: plain } = twoSwitches({ hosts: 1500, switches: 1518, declared: 1500 });
const { intent } = twoSwitches({
  hosts: 1500,
  switches: 1518,
  declared: 1500,
  intent: { nodes: { 'shed-sw': { unread: 'switch', frameBytes: 1522 } } },
});

function faults(text: string): readonly string[] {
  const loaded = loadChange(text, 'change.yaml', intent);
  return loaded.ok ? [] : loaded.faults.map(faultLine);
}

describe('a change file', () => {
  it('says what is asked for, with its places', () => {
    const text = `change: 1
about: storage to 9000
ports:
  quay-sw:xg2: { mtu: 9216 }
segments: { storage: { mtu: 9000 } }
nodes:
  shed-sw: { mtu: 9216, mtuChange: reload }
links:
  quay-sw:xg2 - plot-1:en7: { speed: 10G, negotiate: true }
`;
    const loaded = loadChange(text, 'change.yaml', intent);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
    const { settings, segments, mtuChange, speeds, about } = loaded.value;
    const at = (line: number, column = 3) => ({ file: 'change.yaml', line, column });
    const link = { place: at(9) };
    expect(about).toBe('storage to 9000');
    expect(settings).toEqual([
      { node: 'quay-sw', port: 'xg2', setting: 'mtu', to: 9216, place: at(4) },
      { node: 'shed-sw', setting: 'mtu', to: 9216, place: at(7) },
      { node: 'plot-1', port: 'en7', setting: 'auto-negotiation', to: true, ...link },
      { node: 'plot-1', port: 'en7', setting: 'speed', to: 10_000, ...link },
      { node: 'quay-sw', port: 'xg2', setting: 'auto-negotiation', to: true, ...link },
      { node: 'quay-sw', port: 'xg2', setting: 'speed', to: 10_000, ...link },
    ]);
    expect(segments).toEqual([{ name: 'storage', mtuBytes: 9000, place: at(5, 13) }]);
    expect([...mtuChange]).toEqual([['shed-sw', 'reload']]);
    expect([...speeds]).toEqual([['plot-1:en7 - quay-sw:xg2', 10_000]]);
  });

  it.each([
    ['nothing', '', ['change.yaml:1:1: the file is empty; write a map of keys and values']],
    [
      'no change in it',
      'change: 1\n',
      ["change.yaml:1:9: 'change' has nothing to change; 1; add ports, segments, nodes or links"],
    ],
    [
      'an unknown key',
      'change: 1\nport: {}\nsegments: { storage: { mtu: 9000 } }\n',
      ["change.yaml:2:1: a change file has no such key; 'port'; write 'ports'"],
    ],
    [
      'an unknown node',
      'change: 1\nports: { "valut:eth4": { mtu: 9000 } }\n',
      ["change.yaml:2:10: the intent has no such node; 'valut'; write 'vault'"],
    ],
    [
      'an unknown segment',
      'change: 1\nsegments: { storge: { mtu: 9000 } }\n',
      ["change.yaml:2:13: the intent has no such segment; 'storge'; write 'storage'"],
    ],
    [
      'an unknown link',
      'change: 1\nlinks: { "plot-1:en7 - quay-sw:xg3": { speed: 10G } }\n',
      [
        "change.yaml:2:10: the intent has no such link; 'plot-1:en7 - quay-sw:xg3'; write 'plot-1:en7 - quay-sw:xg2'",
      ],
    ],
    [
      'a port without a node',
      'change: 1\nports: { eth4: { mtu: 9000 } }\n',
      [
        "change.yaml:2:10: a port must be node:port; 'eth4'; write the node, a colon and the port, such as 'plot-1:en7'",
      ],
    ],
    [
      'an MTU of a whole host',
      'change: 1\nnodes: { vault: { mtu: 9000 } }\n',
      [
        "change.yaml:2:10: a host has no MTU as a whole; 'vault'; write its ports under ports:, such as 'vault:eth0'",
      ],
    ],
    [
      'a port of a node that nobody reads',
      'change: 1\nports: { "shed-sw:p2": { mtu: 9216 } }\n',
      ["change.yaml:2:10: nobody reads this node; 'shed-sw:p2'; write it under nodes: shed-sw"],
    ],
    [
      'two values for one setting',
      'change: 1\nports: { "plot-1:en7": { speed: 1G } }\nlinks: { "plot-1:en7 - quay-sw:xg2": { speed: 10G } }\n',
      ['change.yaml:3:10: speed of plot-1:en7 is set to two values; first at line 2; remove one'],
    ],
    [
      'a speed that is none',
      'change: 1\nports: { "plot-1:en7": { speed: 3G } }\n',
      [
        "change.yaml:2:33: 'speed' is no speed of Ethernet; '3G'; write one of 10M, 100M, 1G, 2.5G, 5G, 10G, 25G, 40G, 50G, 100G, 200G, 400G",
      ],
    ],
    [
      'an MTU out of range, and names that are not there',
      'change: 1\nsegments: { storge: { mtu: 20 } }\nports: { "valt:eth4": { mtu: 9000 } }\n',
      [
        "change.yaml:2:13: the intent has no such segment; 'storge'; write 'storage'",
        "change.yaml:2:28: 'mtu' is out of range; 20; write 68 or more",
        "change.yaml:3:10: the intent has no such node; 'valt'; write 'vault'",
      ],
    ],
    [
      'an MTU out of range',
      'change: 1\nsegments: { storage: { mtu: 20 } }\n',
      ["change.yaml:2:29: 'mtu' is out of range; 20; write 68 or more"],
    ],
  ])('with %s is refused', (_, text, lines) => {
    expect(faults(text)).toEqual(lines);
  });

  it('that is too long is refused unread', () => {
    const loaded = loadChange(`change: 1 #${'x'.repeat(1024 * 1024)}`, 'change.yaml', plain);
    expect(loaded.ok ? [] : loaded.faults.map(faultLine)).toEqual([
      'change.yaml:1:1: longer than 1048576 characters; split it',
    ]);
  });
});
