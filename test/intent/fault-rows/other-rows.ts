import { type FaultRow, network, nodes } from './fault-row.ts';

/** Segments, paths, policies, includes, waivers; and all at once. */
export const otherRows: readonly FaultRow[] = [
  [
    'VLAN and MTU out of range',
    `${nodes}segments: { s: { vlan: «4095, mtu: «67 }, t: { vlan: «0, mtu: «65536 } }`,
    "'vlan' is out of range; 4095; write 4094 or less",
    "'mtu' is out of range; 67; write 68 or more",
    "'vlan' is out of range; 0; write 1 or more",
    "'mtu' is out of range; 65536; write 65535 or less",
  ],
  [
    'too small for IPv6',
    `${nodes}segments: { s: { mtu: «1279, ipv6: true } }`,
    "'mtu' is too small for IPv6 (RFC 8200); 1279; write 1280 or more, or remove ipv6",
  ],
  [
    'a number in quotes',
    `${nodes}segments: { s: { mtu: «"9000" } }`,
    "'mtu' must be a whole number; '9000'; remove the quotes",
  ],
  [
    'yes is text',
    `${nodes}segments: { s: { ipv6: «yes } }`,
    "'ipv6' must be true or false; 'yes'; write true or false",
  ],
  [
    'one name for two things',
    `${network}paths: { «s: { from: a, to: b }, «a: { from: a, to: b } }`,
    "'s' is already the name of a segment; first at site.yaml:3:13; rename one: nodes, segments and paths share one set of names",
    "'a' is already the name of a node; first at site.yaml:2:10; rename one: nodes, segments and paths share one set of names",
  ],
  [
    'an end that is nothing',
    `${network}paths: { p: { from: «aa, to: [b, «p] } }`,
    "no node or segment has this name; 'aa'; write 'a'",
    "a node or segment is meant here, and this is a path; 'p'; name a node or segment",
  ],
  [
    'the same at both ends',
    `${network}paths: { p: { from: «a, to: [a, b] } }`,
    "'from' has no node that is not also in 'to'; name two different ends",
  ],
  [
    'a segment without hosts',
    `${network}paths: { p: { from: «s, to: b } }`,
    "no host has a link in this segment; 's'; declare the links of its hosts, or name nodes",
  ],
  [
    'over a node',
    `${network}paths: { p: { from: a, to: b, over: «b } }`,
    "a segment is meant here, and this is a node; 'b'; name a segment",
  ],
  [
    'a path larger than its segment',
    `${network}paths: { p: { from: a, to: b, over: [t, s], mtu: «9000 } }`,
    "'mtu' is larger than that of segment 's'; 9000 over 1500 at site.yaml:3:13; write 1500 or less, or raise the segment",
  ],
  [
    'goodput without unit, misspelt load, a fit by day',
    `${nodes}paths: { p: { from: a, to: b, goodput: «9.4, load: «allow, fit: «daily } }`,
    "'goodput' must be a rate; 9.4; write it with its unit, such as '9.4G'",
    "'load' must be allowed; 'allow'; write 'allowed'",
    "'fit' must be nightly; 'daily'; write 'nightly'",
  ],
  ['no ends', `${nodes}paths: { «p: { to: b } }`, "'from' is missing; add it"],
  [
    'unknown policies',
    `${nodes}policies: [«essentail, «./own.yml]`,
    "no shipped policy has this name; 'essentail'; write 'essential'",
    "no shipped policy has this name; './own.yml'; a file of your own must end in '.yaml'",
  ],
  [
    'no policies',
    `${nodes}«policies: []`,
    "'policies' has fewer than 1 entries; an empty list; write 1 or more",
  ],
  [
    'include that is no list',
    `${nodes}include: «x.yaml`,
    "'include' must be a list; 'x.yaml'; write a list",
  ],
  [
    'a waiver until no day, for no reason',
    `${nodes}waivers: [{ rule: r, on: a, until: «2027-02-29, because: «"" }]`,
    "'until' must be a day of the calendar; '2027-02-29'; write it as YYYY-MM-DD, such as '2027-03-31'",
    "'because' is empty; write why it is accepted",
  ],
  [
    'a waiver on nothing',
    `${nodes}waivers: [{ rule: r, on: «"c:1", until: 2027-02-28, because: x }, { rule: r, on: «"a:1 - b:1", until: 2027-02-28, because: x }]`,
    "no node has this name; 'c'; write one of a, b",
    "no link has these ends; 'a:1 - b:1'; write both ends as the link has them, in its order",
  ],
  [
    'a wrong name beside another fault of its entry',
    'intent: 1\naccess: { x: { ssh: {} } }\nnodes: { a: { at: y, «rol: host, access: «xx }, b: { at: z } }\nsegments: { s: {} }\nlinks: [{ ends: [a:1, b:1], speed: «3G, untagged: «t }]\npaths: { p: { from: a, to: «c, goodput: «9 } }\n',
    "'a' has no such key; 'rol'; write 'role'",
    "no access has this name; 'xx'; write 'x'",
    "'speed' is no speed of Ethernet; '3G'; write one of 10M, 100M, 1G, 2.5G, 5G, 10G, 25G, 40G, 50G, 100G, 200G, 400G",
    "no segment has this name; 't'; write 's'",
    "no node or segment has this name; 'c'; write one of a, b, s",
    "'goodput' must be a rate; 9; write it with its unit, such as '9.4G'",
  ],
  [
    'what follows from a fault is not told: who is a host, who is in the segment, whose aggregate',
    'intent: 1\nnodes: { a: { at: x, «rol: host, access: x }, b: { at: y, access: x } }\nsegments: { s: {} }\nlinks: [{ ends: [a:1, b:1], untagged: s, lag: up }, { ends: [a:2, b:2], «leg: up }]\npaths: { p: { from: s, to: b } }\naccess: { x: { snmp: { version: 2c, community: A } } }\n',
    "'a' has no such key; 'rol'; write 'role'",
    "an entry of 'links' has no such key; 'leg'; write 'lag'",
  ],
  [
    'a key that is there already hides no other name',
    `«acess: {}\naccess: { x: { ssh: {} } }\n${network}paths: { p: { from: a, to: «c } }`,
    "an intent file has no such key; 'acess'; remove it: 'access' is there",
    "no node or segment has this name; 'c'; write one of a, b, s, t",
  ],
  [
    'all at once, in order',
    'intent: 1\nnodes:\n  a: { at: x, «rol: host }\n  b: { at: y, sleeps: «maybe }\nsegments: { s: { vlan: «5000 } }\nlinks: [{ ends: [a:1, «c:1] }]\npaths: { p: { from: a, to: «d } }\npolicies: [«jumb]\n',
    "'a' has no such key; 'rol'; write 'role'",
    "'sleeps' must be true or false; 'maybe'; write true or false",
    "'vlan' is out of range; 5000; write 4094 or less",
    "no node has this name; 'c'; write one of a, b",
    "no node or segment has this name; 'd'; write one of a, b, s",
    "no shipped policy has this name; 'jumb'; write 'jumbo'",
  ],
];
