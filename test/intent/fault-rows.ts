/** A faulty file: `«` stands before each place at fault, in order; then the faults told. */
export type FaultRow = readonly [name: string, text: string, ...told: string[]];

const nodes = 'intent: 1\nnodes: { a: { at: 198.18.0.1 }, b: { at: 198.18.0.2 } }\n';
const network = `${nodes}segments: { s: { mtu: 1500 }, t: {} }\n`;
const nameSecret =
  'must be the name of a secret, not the secret; write a name such as SALTMARSH_AUTH and keep the secret outside this file';
const nameOnly = 'write letters, digits, dot, underscore and hyphen, at most 64, no blank or colon';

const wholeFile: readonly FaultRow[] = [
  ['empty', '«', 'the file is empty; write a map of keys and values'],
  ['comments only', '«# nothing\n', 'the file is empty; write a map of keys and values'],
  ['a list', '«- a\n- b\n', "the file holds a list, not a map; write 'key: value' lines"],
  [
    'plain text',
    '«hello world\n',
    "the file holds plain text, not a map; write 'key: value' lines",
  ],
  ['no version', '«nodes: { a: { at: x } }', "'intent' is missing; add it"],
  ['another version', 'intent: «2\nnodes: { a: { at: x } }', "'intent' must be 1; 2; write '1'"],
  [
    'quoted version',
    'intent: «"1"\nnodes: { a: { at: x } }',
    "'intent' must be 1; '1'; remove the quotes",
  ],
  [
    'misspelt version key, told once',
    '«intnt: 1\nnodes: { a: { at: x } }',
    "an intent file has no such key; 'intnt'; write 'intent'",
  ],
  ['no node', '«intent: 1\n', "the intent declares no node; add 'nodes:' with at least one"],
  [
    'misspelt nodes: their names are not told unknown',
    'intent: 1\n«noeds: { a: { at: x } }\npaths: { p: { from: a, to: b } }',
    "an intent file has no such key; 'noeds'; write 'nodes'",
  ],
  [
    'a section of the wrong type',
    'intent: 1\n«nodes: [a]\n',
    "'nodes' must be a map; a list of 1; write a map",
  ],
  [
    'a section with nothing',
    `${nodes}links: «\n`.replace('links: «', '«links:'),
    "'links' is empty; give it a value, or remove it",
  ],
  [
    'a control character',
    `${nodes}site: «"a\\e[2Jb"`,
    "'site' has control or invisible characters, or blanks at an end or in a row; 'a [2Jb'; write one line of plain text",
  ],
];

const yamlText: readonly FaultRow[] = [
  ['a tab', 'intent: 1\n«\tsite: x\n', 'a tab is used as indentation; indent with blanks'],
  [
    'a brace not closed',
    'intent: 1\nnodes: {a: {at: x}«',
    'wrong indentation, or a { or [ that is not closed; indent entries of one map or list equally, with blanks',
  ],
  [
    'a quote not closed',
    'intent: 1\nsite: "x«',
    'a closing or separating character is missing; close every quote, { and [',
  ],
  [
    'two documents',
    'intent: 1\n«---\nsite: x\n',
    'the file holds several YAML documents; leave one; share through include',
  ],
  [
    'alias of nothing, its name not echoed',
    `${nodes}access: { x: { snmp: { version: 2c, community: «*hunter2 } } }`,
    'an alias (*...) refers to no anchor before it; set the anchor (&...) first, or quote the text if no alias was meant',
  ],
  [
    'alias of itself',
    'intent: 1\nnodes: &n { a: «*n }',
    'an alias refers to what it stands in; write the value out',
  ],
  [
    'a tag, which is a warning of the parser',
    `${nodes}site: «!x y`,
    'a YAML tag (!...) is not allowed here; put the text in quotes',
  ],
  [
    'a reserved character',
    `${nodes}site: «@office`,
    'text starts with a character that YAML reserves; put the text in quotes',
  ],
  [
    'no blank after the colon',
    '«intent:1\nnodes: {}\n',
    'a key runs over several lines; put a blank after the colon, or quote the text',
  ],
  [
    'a key in a value',
    'site: «a: b',
    'a key stands where a value was meant; check the indentation, or quote the text',
  ],
  ['a key that is no text', `${nodes}? «[a]\n: b\n`, 'a key must be text; put it in quotes'],
  [
    'a key that would change',
    'intent: 1\nnodes: { a: { at: x }, «010: { at: y } }',
    "a key must be text; '010'; put it in quotes",
  ],
  [
    'a key that no object can have',
    'intent: 1\nnodes: { a: { at: x }, «__proto__: { at: y } }',
    "this key is not allowed; '__proto__'; choose another",
  ],
  [
    'a key twice',
    'intent: 1\nnodes: { a: { at: x }, «a: { at: y } }',
    "'a' is there twice; first at site.yaml:2:10; remove or rename one",
  ],
  [
    'a number where text was meant',
    `${nodes}links: [{ ends: [a:1, b:1], lag: «010 }, { ends: [a:2, b:2], lag: «1.10 }]`,
    "'lag' must be text; 010; put it in quotes if it is meant so",
    "'lag' must be text; 1.10; put it in quotes if it is meant so",
  ],
  [
    'numbers that are not plain',
    `${nodes}segments: { s: { mtu: «09000 }, t: { mtu: «9e3 } }`,
    "a number is not written the plain way; '09000'; write plain decimal digits, or put it in quotes if text is meant",
    "a number is not written the plain way; '9e3'; write plain decimal digits, or put it in quotes if text is meant",
  ],
];

const access: readonly FaultRow[] = [
  [
    'unknown SNMP version',
    `${nodes}access: { x: { snmp: { version: «4 } } }`,
    "'version' must be one of 2c, 3; 4; write one of 2c, 3",
  ],
  [
    'no SNMP version',
    `${nodes}access: { x: { «snmp: { user: auditor } } }`,
    "'version' is missing; add it",
  ],
  [
    'a community that looks like one',
    `${nodes}access: { x: { snmp: { version: 2c, community: «hunter2 } } }`,
    `'community' ${nameSecret}`,
  ],
  [
    'a password as a number',
    `${nodes}access: { x: { ssh: { password: «0123 } } }`,
    "'password' must be text; put it in quotes if it is meant so",
  ],
  [
    'secrets that are no map',
    `${nodes}access: { x: { snmp: { version: 3, user: u, auth: sha, privacy: none, secret: «hunter2 } } }`,
    "'secret' must be a map; write a map",
  ],
  [
    'auth and privacy not said',
    `${nodes}access: { x: { ««snmp: { version: 3, user: u } } }`,
    "'auth' is missing; add it",
    "'privacy' is missing; add it",
  ],
  [
    'AES with 192 bits',
    `${nodes}access: { x: { snmp: { version: 3, user: u, auth: sha, privacy: «aes192, secret: { auth: A, privacy: B } } } }`,
    "'privacy' must be one of des, aes128, aes256, aes256-blumenthal, none; 'aes192'; the SNMP library has no 192-bit AES; write 'aes128' or 'aes256'",
  ],
  [
    'DES',
    `${nodes}access: { x: { snmp: { version: 3, user: u, auth: sha, privacy: «des, secret: { auth: A, privacy: B } } } }`,
    "DES does not work here: the OpenSSL of this Node has it switched off; 'des'; set the user on the switch to AES and write 'aes128', or 'none'",
  ],
  [
    'privacy without authentication',
    `${nodes}access: { x: { snmp: { version: 3, user: u, auth: none, privacy: «aes128, secret: { privacy: B } } } }`,
    "'privacy' is set without authentication (RFC 3414 has no such level); 'aes128'; set auth, or write privacy: none",
  ],
  [
    'protocols without secrets',
    `${nodes}access: { x: { snmp: { version: 3, user: u, auth: «sha, privacy: «aes128 } } }`,
    "'auth' has no secret; 'sha'; add secret: { auth: NAME_OF_SECRET }",
    "'privacy' has no secret; 'aes128'; add secret: { privacy: NAME_OF_SECRET }",
  ],
  [
    'a secret that is not used',
    `${nodes}access: { x: { snmp: { version: 3, user: u, auth: none, privacy: none, secret: { auth: «A } } } }`,
    "'auth' is named but auth is none; remove it, or set auth",
  ],
  [
    'a key of the other version',
    `${nodes}access: { x: { snmp: { version: 2c, community: A, «context: c } } }`,
    "'snmp' has no such key; 'context'; write 'port'",
  ],
  [
    'nothing to log in with',
    `${nodes}access: { «x: {} }`,
    "'x' says no way to log in; a map; add 'ssh: {}' or 'snmp: { ... }'",
  ],
  [
    'misspelt way, told once',
    `${nodes}access: { x: { «snpm: {} } }`,
    "'x' has no such key; 'snpm'; write 'snmp'",
  ],
  [
    'a name that is built in',
    `${nodes}access: { «ssh: { ssh: {} } }`,
    "an access of this name is built in; 'ssh'; give it another name",
  ],
  [
    'a password in a jump, not echoed',
    `${nodes}access: { x: { ssh: { jump: «"u:hunter2@h" } } }`,
    "'jump' must be a host to go through; write 'host', 'user@host' or 'user@host:port'",
  ],
  [
    'unknown access of a node',
    'intent: 1\naccess: { hosts: { ssh: {} } }\nnodes: { a: { at: x, access: «hots } }',
    "no access has this name; 'hots'; write 'hosts'",
  ],
];

const nodeRows: readonly FaultRow[] = [
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

const linkRows: readonly FaultRow[] = [
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

const piece = (text: string) =>
  `${nodes}links:\n  - { ends: [a:1, b:1], run: [jack W-07, «"${text}"] }`;
const copper = 'cat5, cat5e, cat6, cat6a, cat7, cat8';
const fibre = 'om1, om2, om3, om4, om5, os1, os2';

const runRows: readonly FaultRow[] = [
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

const rest: readonly FaultRow[] = [
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
    'goodput without unit, misspelt load',
    `${nodes}paths: { p: { from: a, to: b, goodput: «9.4, load: «allow } }`,
    "'goodput' must be a rate; 9.4; write it with its unit, such as '9.4G'",
    "'load' must be allowed; 'allow'; write 'allowed'",
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

export const faultRows: readonly FaultRow[] = [
  ...wholeFile,
  ...yamlText,
  ...access,
  ...nodeRows,
  ...linkRows,
  ...runRows,
  ...rest,
];
