import { type FaultRow, nodes } from './fault-row.ts';

const nameSecret =
  'must be the name of a secret, not the secret; write a name such as SALTMARSH_AUTH and keep the secret outside this file';

/** How to log in. */
export const accessRows: readonly FaultRow[] = [
  [
    'a password in a jump without host, not echoed',
    `${nodes}access: { x: { ssh: { jump: «"u:hunter2" } } }`,
    "'jump' must be a host to go through; write 'host', 'user@host' or 'user@host:port'",
  ],
  [
    'a private key pasted, not echoed',
    `${nodes}access: { x: { ssh: { key: «"hunter2  hunter2" } } }`,
    "'key' has control or invisible characters, or blanks at an end or in a row; write one line of plain text",
  ],
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
