import { type FaultRow, nodes } from './fault-row.ts';

/** The file as a whole. */
export const wholeFileRows: readonly FaultRow[] = [
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

/** What is wrong before the schema, or beneath it. */
export const yamlRows: readonly FaultRow[] = [
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
