import { type FaultRow, network, nodes } from './fault-row.ts';

const piece = (text: string) =>
  `${nodes}links:\n  - { ends: [a:1, b:1], run: [jack W-07, «"${text}"] }`;
const copper = 'cat5, cat5e, cat6, cat6a, cat7, cat8';
const fibre = 'om1, om2, om3, om4, om5, os1, os2';

/** Links. */
export const linkRows: readonly FaultRow[] = [
  [
    'an end without a colon',
    `${nodes}links: [{ ends: [«a, b:1] }]`,
    "an end must be node:port; 'a'; write 'a:PORT', with the port that is meant",
  ],
  [
    'an end without a colon, its port known',
    'intent: 1\nnodes: { a: { at: x, ports: { desk: en7 } }, b: { at: y } }\nlinks: [{ ends: [«a, b:1] }]',
    "an end must be node:port; 'a'; write 'a:desk', with the port that is meant",
  ],
  [
    'an end without a port',
    `${nodes}links: [{ ends: [a:1, «"b:"] }]`,
    "an end must be node:port; 'b:'; write 'b:PORT', with the port that is meant",
  ],
  [
    'one end',
    `${nodes}links: [{ «ends: [a:1] }]`,
    "'ends' has fewer than 2 entries; a list of 1; write 2 or more",
  ],
  ['no ends', `${nodes}links: [«{ duplex: half }]`, "'ends' is missing; add it"],
  [
    'an end at nothing',
    'intent: 1\nnodes: { plot-1: { at: x }, b: { at: y } }\nlinks: [{ ends: [«plot-2:1, b:1] }]',
    "no node has this name; 'plot-2'; write 'plot-1'",
  ],
  [
    'a segment that is none',
    `${nodes}segments: { storage: {} }\nlinks: [{ ends: [a:1, b:1], untagged: «storge, tagged: [«b] }]`,
    "no segment has this name; 'storge'; write 'storage'",
    "a segment is meant here, and this is a node; 'b'; name a segment",
  ],
  [
    'untagged also in tagged',
    `${network}links: [{ ends: [a:1, b:1], untagged: «s, tagged: [s, t] }]`,
    "'untagged' names a segment that is also in tagged; 's'; remove it from one of them",
  ],
  [
    'tagged twice',
    `${network}links: [{ ends: [a:1, b:1], tagged: [s, «s] }]`,
    "an entry of 'tagged' is there twice; 's'; remove one",
  ],
  [
    'a speed without unit',
    `${nodes}links: [{ ends: [a:1, b:1], speed: «10 }]`,
    "'speed' must be a speed; 10; write it with its unit, such as '10G'",
  ],
  [
    'a speed of no port',
    `${nodes}links: [{ ends: [a:1, b:1], speed: «3G }]`,
    "'speed' is no speed of Ethernet; '3G'; write one of 10M, 100M, 1G, 2.5G, 5G, 10G, 25G, 40G, 50G, 100G, 200G, 400G",
  ],
  [
    'misspelt duplex',
    `${nodes}links: [{ ends: [a:1, b:1], duplex: «ful }]`,
    "'duplex' must be one of full, half; 'ful'; write 'full'",
  ],
  [
    'a port in two links',
    `${nodes}links:\n  - { ends: [a:1, b:1] }\n  - { ends: [«a:1, b:2] }`,
    "the port is already in the link at site.yaml:4:14; 'a:1'; name another port",
  ],
  [
    'one port at both ends',
    `${nodes}links: [{ ends: [a:1, «a:1] }]`,
    "both ends of the link are one port; 'a:1'; name the other port",
  ],
  [
    'two names for one port',
    'intent: 1\nnodes: { a: { at: x, ports: { desk: en7 } }, b: { at: y } }\nlinks: [{ ends: [a:desk, b:1] }, { ends: [«a:en7, b:2] }]',
    "'en7' and 'desk' are two names of one port, which is already in the link at site.yaml:3:18; 'a:en7'; name another port",
  ],
  [
    'an aggregate of one',
    `${nodes}links: [{ ends: [a:1, b:1], lag: «up }]`,
    "an aggregate has one link only; 'up'; give another link the same lag, or remove it",
  ],
];

/** Pieces of runs. */
export const runRows: readonly FaultRow[] = [
  [
    'no such piece',
    piece('coard cat6 2 m'),
    "an entry of 'run' is no known kind of piece; 'coard cat6 2 m'; write 'cord'",
  ],
  [
    'no such category',
    piece('cord cat9 2 m'),
    `an entry of 'run' is a cord of no known category; 'cord cat9 2 m'; write one of ${copper}, ${fibre}`,
  ],
  [
    'copper as fibre',
    piece('fibre cat6 2 m'),
    `an entry of 'run' is a fibre of no known category; 'fibre cat6 2 m'; write one of ${fibre}`,
  ],
  [
    'feet',
    piece('cord cat6 2 ft'),
    "an entry of 'run' has a length of no known form; 'cord cat6 2 ft'; write it in cm, m or km, such as '2 m'",
  ],
  [
    'no such module',
    piece('module fast'),
    "an entry of 'run' is a module of no known type; 'module fast'; write its type, such as 'module 10GBASE-T'",
  ],
  [
    'a map',
    `${nodes}links:\n  - { ends: [a:1, b:1], run: [«jack: 7] }`,
    "an entry of 'run' must be text; a map; write text",
  ],
];
