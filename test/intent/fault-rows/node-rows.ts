import type { FaultRow } from './fault-row.ts';

const nameOnly = 'write letters, digits, dot, underscore and hyphen, at most 64, no blank or colon';

/** Nodes and their ports. */
export const nodeRows: readonly FaultRow[] = [
  [
    'misspelt at: not also told missing',
    'intent: 1\nnodes: { a: { «att: x } }',
    "'a' has no such key; 'att'; write 'at'",
  ],
  [
    'misspelt unread: nothing concluded',
    'intent: 1\nnodes: { a: { «unraed: switch, frame: 9216 } }',
    "'a' has no such key; 'unraed'; write 'unread'",
  ],
  [
    'misspelt key beside the right one',
    'intent: 1\nnodes: { a: { at: x, «acces: ssh, access: ssh } }',
    "'a' has no such key; 'acces'; remove it: 'access' is there",
  ],
  [
    'no address',
    'intent: 1\nnodes: { «a: {} }',
    "'at' is missing; add 'at: host name or address', or 'unread: kind'",
  ],
  [
    'an address of no form',
    'intent: 1\nnodes: { a: { at: «198.18.0.256 } }',
    "'at' must be a host name or an IP address; '198.18.0.256'; write host, host:port or [IPv6]:port",
  ],
  [
    'a password in an address, not echoed',
    'intent: 1\nnodes: { a: { at: «"u:hunter2@h" } }',
    "'at' must be a host name or an IP address; write host, host:port or [IPv6]:port",
  ],
  [
    'a colon in a name',
    'intent: 1\nnodes: { «a:b: { at: x } }',
    `a key of 'nodes' must be a name; 'a:b'; ${nameOnly}`,
  ],
  [
    'nothing after a name',
    'intent: 1\nnodes:\n  «a:\n',
    "'a' is empty; give it a value, or remove it",
  ],
  [
    'misspelt role',
    'intent: 1\nnodes: { a: { at: x, role: «swich } }',
    "'role' must be one of host, switch; 'swich'; write 'switch'",
  ],
  [
    'a version that YAML takes for a number',
    'intent: 1\nnodes: { a: { at: x, osAtLeast: «14.5 } }',
    "'osAtLeast' must be text; 14.5; put it in quotes if it is meant so",
  ],
  [
    'a version with a letter',
    'intent: 1\nnodes: { a: { at: x, ports: { p: { name: en7, driverAtLeast: «1.2b } } } }',
    "'driverAtLeast' must be a version; '1.2b'; write numbers with dots, in quotes, such as '14.5'",
  ],
  [
    'unread with access',
    'intent: 1\nnodes: { a: { unread: switch, «access: [ssh] } }',
    "'access' is set on an unread node; a list of 1; remove access, or remove unread to read it",
  ],
  [
    'frame of a node that is read',
    'intent: 1\nnodes: { a: { at: x, frame: «9216 } }',
    "'frame' is only for unread nodes; 9216; remove it, or declare the mtu of the segment",
  ],
  [
    'frame below what every station passes',
    'intent: 1\nnodes: { a: { unread: dock, frame: «1500 } }',
    "'frame' is out of range; 1500; write 1518 or more",
  ],
  [
    'unknown accounting',
    'intent: 1\nnodes: { a: { at: x, mtuCounts: «headers } }',
    "'mtuCounts' must be one of payload, header, header-fcs, header-fcs-tag; 'headers'; write 'header'",
  ],
  [
    'unknown accounting of a kind of port',
    'intent: 1\nnodes: { a: { at: x, mtuCounts: { port: «header-fsc } } }',
    "'port' must be one of payload, header, header-fcs, header-fcs-tag; 'header-fsc'; write 'header-fcs'",
  ],
  [
    'unknown kind of port',
    'intent: 1\nnodes: { a: { at: x, mtuCounts: { «brige: header } } }',
    "'mtuCounts' has no such key; 'brige'; write 'bridge'",
  ],
  [
    'a MAC address of no form',
    'intent: 1\nnodes: { a: { at: x, ports: { desk: { mac: «"02:00:5e" } } } }',
    "'mac' must be a MAC address; '02:00:5e'; write six pairs such as '02:00:5e:00:00:05', in quotes",
  ],
  [
    'no station behind a port',
    'intent: 1\nnodes: { a: { at: x, ports: { g7: { behind: «0 } } } }',
    "'behind' is out of range; 0; write 1 or more",
  ],
  [
    'stations behind a port, in words',
    'intent: 1\nnodes: { a: { at: x, ports: { g7: { behind: «many } } } }',
    "'behind' must be a whole number; 'many'; write a whole number",
  ],
  [
    'a bus that is none',
    'intent: 1\nnodes: { a: { at: x, ports: { desk: { bus: «PCIe 8.0 GT/s x3 } } } }',
    "'bus' must be a bus; 'PCIe 8.0 GT/s x3'; write it such as 'PCIe 8.0 GT/s x4', 'USB 5000 Mb/s' or 'Thunderbolt 40 Gb/s'",
  ],
  [
    'a bus as a number',
    'intent: 1\nnodes: { a: { at: x, ports: { desk: { bus: «5000 } } } }',
    "'bus' must be text; 5000; put it in quotes if it is meant so",
  ],
  [
    'one name under two aliases',
    'intent: 1\nnodes: { a: { at: x, ports: { desk: en7, «dock: { name: en7 } } } }',
    "'dock' and 'desk' are names of one port; first at site.yaml:2:31; leave one name",
  ],
  [
    'a fingerprint of no form',
    'intent: 1\nnodes: { a: { at: x, identity: { hostKey: «abc } } }',
    "'hostKey' must be a fingerprint; 'abc'; write SHA256: and 43 characters, as 'ssh-keygen -l' prints it",
  ],
];
