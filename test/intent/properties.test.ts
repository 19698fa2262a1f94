import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { faultLine } from '../../src/intent/fault.ts';
import { exampleIntent, sharedAccess } from './example.ts';
import { loadFrom } from './load.ts';
import { yamlTokens } from './yaml-tokens.ts';

/** Loads what may be anything: faults must be places in the file, in order, told in one line. */
async function loadAnything(text: string): Promise<void> {
  const loaded = await loadFrom(
    { 'a/site.yaml': text, 'shared-access.yaml': sharedAccess },
    'a/site.yaml',
  );
  if (loaded.ok) return;
  expect(loaded.faults.length).toBeGreaterThan(0);
  const lineCount = text.split('\n').length;
  for (const fault of loaded.faults) {
    const told = faultLine(fault);
    expect(told).not.toMatch(/[\u0000-\u001f\u007f-\u009f]/);
    expect(told).not.toMatch(/undefined|\[object|NaN/);
    if (fault.place.file !== 'a/site.yaml') continue;
    expect(fault.place.line).toBeLessThanOrEqual(lineCount);
    expect(Math.min(fault.place.line, fault.place.column)).toBeGreaterThanOrEqual(1);
  }
  const told = loaded.faults.map(faultLine);
  expect(new Set(told).size, told.join('\n')).toBe(told.length);
}

const token = fc.constantFrom(
  ...yamlTokens,
  ...[
    'intent',
    'nodes',
    'links',
    'paths',
    'ends',
    'a:1',
    '010',
    '1.10',
    '~',
    '<<',
    '---\n',
    '\t',
    '\u001b[31m',
    '\u202e',
  ],
  ...[
    '__proto__',
    'constructor',
    'snmp',
    'version',
    '1',
    'on',
    'yes',
    'cord cat6 2 m',
    '.inf',
    '0x10',
  ],
);

describe('loading an intent never throws', () => {
  it('on text made of YAML tokens', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(token, { maxLength: 40 }), (tokens) =>
        loadAnything(tokens.join('')),
      ),
      { numRuns: 600 },
    );
  });

  it('on any text', async () => {
    await fc.assert(fc.asyncProperty(fc.string({ unit: 'binary', maxLength: 60 }), loadAnything), {
      numRuns: 300,
    });
  });

  it('on the example with a stretch replaced', async () => {
    const mutation = fc.tuple(
      fc.nat(exampleIntent.length),
      fc.nat(30),
      fc.oneof(token, fc.string({ maxLength: 6 }), fc.constant('')),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(mutation, { minLength: 1, maxLength: 3 }), (mutations) => {
        let text = exampleIntent;
        for (const [at, length, by] of mutations)
          text = text.slice(0, at) + by + text.slice(at + length);
        return loadAnything(text);
      }),
      { numRuns: 300 },
    );
  });

  it('on any plain data where a section is meant', async () => {
    const sections = [
      'site',
      'access',
      'nodes',
      'segments',
      'links',
      'paths',
      'policies',
      'waivers',
    ];
    const data = fc.letrec((tie) => ({
      any: fc.oneof(
        { maxDepth: 4 },
        fc.constantFrom<unknown>(null, true, 0, -1, 1.5, '', 'a', 'a:1', 'x y'),
        fc.array(tie('any'), { maxLength: 3 }),
        fc.dictionary(
          fc.constantFrom('a', 'ends', 'at', 'access', 'snmp', 'from', 'ports', 'secret'),
          tie('any'),
        ),
      ),
    })).any;
    await fc.assert(
      fc.asyncProperty(fc.dictionary(fc.constantFrom('intent', ...sections), data), (value) =>
        loadAnything(JSON.stringify(value)),
      ),
      { numRuns: 500 },
    );
  });
});
