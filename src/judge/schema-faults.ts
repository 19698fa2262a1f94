import type { z } from 'zod';
import { quoted } from '../intent/fault.ts';
import { wordRemedy } from '../intent/nearest.ts';
import { entryPlace, type Spot, spotAt } from '../intent/spot.ts';
import type { InputFault } from '../intent/types.ts';

type Issue = z.core.$ZodIssue;

/** What a schema finds wrong in a file, each at its place; `keys` are the valid ones at a path. */
export function schemaFaults(
  issues: readonly Issue[],
  root: Spot,
  keys: (path: readonly PropertyKey[]) => readonly string[],
): readonly InputFault[] {
  return issues.flatMap((issue) => {
    if (issue.code === 'unrecognized_keys') return unknownKeys(issue, root, keys(issue.path));
    return [issueFault(issue, root)];
  });
}

function unknownKeys(
  issue: Extract<Issue, { code: 'unrecognized_keys' }>,
  root: Spot,
  valid: readonly string[],
): readonly InputFault[] {
  return issue.keys.map((key) => ({
    place: entryPlace(spotAt(root, [...issue.path, key])),
    what: `unknown key ${quoted(key)}`,
    remedy: wordRemedy(key, valid),
  }));
}

function issueFault(issue: Issue, root: Spot): InputFault {
  const name = nameOf(issue.path);
  const spot = spotAt(root, issue.path);
  if (issue.input === undefined) {
    const what = `the key ${quoted(name)} is missing`;
    return { place: entryPlace(spot), what, remedy: `add '${name}:'` };
  }
  const seen = seenOf(issue.input);
  return { place: spot.value, ...(seen === undefined ? {} : { seen }), ...wordIssue(issue, name) };
}

function nameOf(path: readonly PropertyKey[]): string {
  const last = path.at(-1);
  return typeof last === 'number'
    ? `${nameOf(path.slice(0, -1))}[${last}]`
    : String(last ?? 'file');
}

function seenOf(input: unknown): string | undefined {
  if (typeof input === 'string') return quoted(input);
  if (typeof input === 'number' || typeof input === 'boolean') return String(input);
  return input === null ? 'nothing' : undefined;
}

function wordIssue(issue: Issue, name: string): Pick<InputFault, 'what' | 'remedy'> {
  switch (issue.code) {
    case 'invalid_type':
      return wordType(issue.expected, name);
    case 'invalid_value': {
      const seen = typeof issue.input === 'string' ? issue.input : '';
      return {
        what: `${name} is not a valid word`,
        remedy: wordRemedy(seen, issue.values.map(String)),
      };
    }
    case 'too_big':
      return { what: `${name} is too long`, remedy: `write at most ${issue.maximum}` };
    case 'too_small':
      return { what: `${name} is empty`, remedy: 'write at least one' };
    default: {
      // Checks of our own say `must be ...; write ...`.
      const [what = '', remedy = 'correct it'] = issue.message.split('; ');
      return { what: `${name} ${what}`, remedy };
    }
  }
}

function wordType(expected: string, name: string): Pick<InputFault, 'what' | 'remedy'> {
  if (expected === 'string') {
    return { what: `${name} must be text`, remedy: 'put the text in quotes' };
  }
  if (expected === 'array') return { what: `${name} must be a list`, remedy: "write '- ' lines" };
  return { what: `${name} must be a map`, remedy: "write 'key: value' lines" };
}
