import { describe, expect, it } from 'vitest';
import { faultLine } from '../../src/intent/fault.ts';
import { createCelEnvironment } from '../../src/judge/cel-environment.ts';
import { loadPolicy, policyLengthMax } from '../../src/judge/load-policy.ts';
import { policyJsonSchema } from '../../src/judge/policy-schema.ts';
import { policyOf, ruleLines } from './policy-samples.ts';

const cel = await createCelEnvironment();

function faultsOf(text: string): readonly string[] {
  const loaded = loadPolicy(text, 'own.yaml', cel);
  return loaded.ok ? [] : loaded.faults.map(faultLine);
}

const head = 'policy: own\nabout: Samples.\nrules:\n';
const tail = '    severity: error\n    says: no\n    source: common practice\n';
const rule = (lines: string) => `${head}  - rule: a\n    judges: port\n${lines}${tail}`;

const rows: readonly (readonly [name: string, text: string, ...faults: string[]])[] = [
  [
    'a misspelt fact in plain text',
    rule('    holds: port.operUp && port.mtuBtyes > 1\n'),
    "own.yaml:6:32: holds: `port` has no fact `mtuBtyes`; 'mtuBtyes'; write 'port.mtuBytes'",
  ],
  [
    'a misspelt fact on a folded line',
    rule('    holds: >-\n      port.operUp\n      && has(port.mtuBtyes)\n'),
    "own.yaml:8:19: holds: `port` has no fact `mtuBtyes`; 'mtuBtyes'; write 'port.mtuBytes'",
  ],
  [
    'a misspelt fact in quotes, behind an escape',
    rule('    holds: "port.id == \\"a\\" && port.mtuBtyes > 1"\n'),
    "own.yaml:6:38: holds: `port` has no fact `mtuBtyes`; 'mtuBtyes'; write 'port.mtuBytes'",
  ],
  [
    'a misspelt fact in a text',
    rule('    holds: port.operUp\n    advice: "raise\n      {port.mtuBtyes}"\n'),
    "own.yaml:8:13: advice: `port` has no fact `mtuBtyes`; 'mtuBtyes'; write 'port.mtuBytes'",
  ],
  [
    'a fact of another subject in a cause',
    rule('    holds: port.operUp\n    cause: mtu {path.narrowestPort}\n'),
    "own.yaml:7:17: cause: a rule that judges a port reads no fact of a path; 'path'; use facts of the port, or write a rule that judges a path",
  ],
  [
    'a `!` that YAML takes for a tag',
    rule('    holds: !port.up && port.operUp\n'),
    'own.yaml:6:12: a YAML tag (!...) is not allowed here; put the text in quotes',
  ],
  [
    'a condition that is a number',
    rule('    holds: port.mtuBytes\n'),
    "own.yaml:6:12: holds: not a condition: its type is double; 'port.mtuBytes'; compare it with something",
  ],
  [
    'a condition cut by a comment',
    rule('    holds: port.id == "a #1"\n'),
    "own.yaml:6:23: holds: the quoted text does not end; '\"a'; close the quotes",
  ],
  ['an empty file', '', 'own.yaml:1:1: the file is empty; write a map of keys and values'],
];

// What the schema finds is worded where intent files are read; here, where and what about.
const schemaRows: readonly (readonly [name: string, text: string, place: string, words: RegExp])[] =
  [
    [
      'a condition that YAML takes for a flag',
      rule('    holds: true\n'),
      'own.yaml:6:12',
      /'holds' must be text; true/,
    ],
    [
      'an unknown key of a rule',
      rule('    holds: port.operUp\n    advise: none\n'),
      'own.yaml:7:5',
      /'advise'.*'advice'/,
    ],
    [
      'an unknown key of the file',
      `polcy: own\n${rule('    holds: port.operUp\n')}`.replace('policy: own\n', ''),
      'own.yaml:1:1',
      /a policy file .*'polcy'.*'policy'/,
    ],
    ['a missing key', rule(''), 'own.yaml:4:5', /'holds' is missing/],
    [
      'an unknown subject',
      rule('    holds: port.operUp\n').replace('port\n', 'prot\n'),
      'own.yaml:5:13',
      /'judges'.*'prot'.*'port'/,
    ],
    [
      'an unknown severity',
      rule('    holds: port.operUp\n').replace('error', 'eror'),
      'own.yaml:7:15',
      /'severity'.*'eror'.*'error'/,
    ],
    [
      'a name that is none',
      rule('    holds: port.operUp\n').replace('rule: a', 'rule: Not So'),
      'own.yaml:4:11',
      /'rule' must be a name; 'Not So'; write small letters/,
    ],
    [
      'a key that is there twice',
      rule('    holds: port.operUp\n    holds: port.adminUp\n'),
      'own.yaml:7:5',
      /'holds' is there twice/,
    ],
    ['no rules', 'policy: own\nabout: x\nrules: []\n', 'own.yaml:3:', /'rules'/],
    ['rules that are no list', 'policy: own\nabout: x\nrules: a\n', 'own.yaml:3:8', /a list; 'a'/],
    ['broken YAML', "policy: 'own\nabout: x\n", 'own.yaml:3:1', /close every quote/],
  ];

describe('loadPolicy', () => {
  it.each(schemaRows)('tells of %s', (_name, text, place, words) => {
    const [first, ...rest] = faultsOf(text);
    expect(first?.startsWith(place), first).toBe(true);
    expect(first).toMatch(words);
    expect(rest).toEqual([]);
  });

  it.each(rows)('tells of %s', (_name, text, ...faults) => {
    expect(faultsOf(text)).toEqual(faults);
  });

  it('tells the faults of all rules at once, in the order of the file', () => {
    const text =
      head +
      ruleLines({ rule: 'a', holds: 'port.x', says: '{port.y}' }) +
      ruleLines({ rule: 'b', when: 'port.z', holds: 'port.operUp == 1' });
    expect(faultsOf(text).map((line) => line.split(';')[0])).toEqual([
      'own.yaml:6:18: holds: `port` has no fact `x`',
      'own.yaml:8:18: says: `port` has no fact `y`',
      'own.yaml:12:13: holds: types do not go together: bool == int',
      'own.yaml:16:17: when: `port` has no fact `z`',
    ]);
  });

  it('refuses a file beyond its limit unread', () => {
    expect(faultsOf('#'.repeat(policyLengthMax + 1))).toEqual([
      `own.yaml:1:1: longer than ${policyLengthMax} characters; split it`,
    ]);
  });

  it('gives rules with their place and the facts that they read', () => {
    const policy = policyOf(
      ruleLines({
        rule: 'a',
        when: 'has(port.declaredMtuBytes)',
        cause: 'mtu {port.id}',
        advice: 'see {port.alias}',
      }),
    );
    const [first] = policy.rules;
    expect(policy).toMatchObject({ policy: 'own', about: 'Samples.', file: 'own.yaml' });
    expect(first).toMatchObject({ rule: 'a', policy: 'own', judges: 'port', severity: 'error' });
    expect(first?.place).toEqual({ file: 'own.yaml', line: 4, column: 11 });
    expect(first?.facts).toEqual(['declaredMtuBytes', 'operUp', 'alias', 'id']);
  });

  it('has a JSON Schema with the keys and words that it takes', () => {
    expect(policyJsonSchema()).toMatchObject({
      $schema: 'http://json-schema.org/draft-07/schema#',
      required: ['policy', 'about', 'rules'],
      additionalProperties: false,
      properties: {
        rules: {
          items: {
            required: ['rule', 'judges', 'holds', 'severity', 'says', 'source'],
            additionalProperties: false,
            properties: {
              judges: { enum: ['node', 'port', 'link', 'segment', 'path', 'direction'] },
              severity: { enum: ['error', 'warning', 'notice'] },
            },
          },
        },
      },
    });
  });
});
