import type { z } from 'zod';
import { wordRemedy } from './nearest.ts';

/** What is wrong and what to do, without place or the text seen. */
export interface IssueText {
  readonly what: string;
  readonly remedy: string;
}

type IssueOf<Code> = Extract<z.core.$ZodIssue, { readonly code: Code }>;

const typeWords: Readonly<Record<string, string>> = {
  string: 'text',
  int: 'a whole number',
  number: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list',
  object: 'a map',
  record: 'a map',
};

// Words that a person may well write here, and why they are not valid.
const wordNotes: Readonly<Record<string, string>> = {
  aes192: "the SNMP library has no 192-bit AES; write 'aes128' or 'aes256'",
  aes: "write 'aes128' or 'aes256'",
  '3des': "write 'aes128' or 'aes256'",
};

/**
 * The words for an issue of a schema. `subject` is the quoted key, `seen` the value there:
 * undefined when it is missing, null when nothing follows the key.
 */
export function issueText(issue: z.core.$ZodIssue, subject: string, seen: unknown): IssueText {
  const message = checkMessage(issue);
  if (message !== undefined) return messageText(message, subject);
  if (seen === undefined) return { what: `${subject} is missing`, remedy: 'add it' };
  if (seen === null)
    return { what: `${subject} is empty`, remedy: 'give it a value, or remove it' };
  if (issue.code === 'invalid_value') return valueText(issue.values, subject, seen);
  if (issue.code === 'invalid_union') return unionText(issue, subject, seen);
  if (issue.code === 'too_small' || issue.code === 'too_big') return sizeText(issue, subject);
  const expected = issue.code === 'invalid_type' ? issue.expected : '';
  const word = typeWords[expected] ?? 'of another form';
  return { what: `${subject} must be ${word}`, remedy: typeRemedy(expected, word, seen) };
}

function checkMessage(issue: z.core.$ZodIssue): string | undefined {
  if (issue.code === 'custom' || issue.code === 'invalid_format') return issue.message;
  if (issue.code === 'invalid_type')
    return issue.message.includes('; ') ? issue.message : undefined;
  if (issue.code !== 'invalid_key') return undefined;
  const [inner] = issue.issues;
  return inner === undefined ? undefined : keyMessage(inner);
}

function keyMessage(inner: z.core.$ZodIssue): string {
  if (inner.code === 'custom' || inner.code === 'invalid_format') return inner.message;
  return inner.code === 'too_small' ? 'is an empty key; name it' : 'is too long a key; shorten it';
}

function messageText(message: string, subject: string): IssueText {
  const split = message.indexOf('; ');
  return { what: `${subject} ${message.slice(0, split)}`, remedy: message.slice(split + 2) };
}

function valueText(values: readonly unknown[], subject: string, seen: unknown): IssueText {
  const words = [...new Set(values.map(String))];
  const what = `${subject} must be ${words.length === 1 ? '' : 'one of '}${words.join(', ')}`;
  const text = typeof seen === 'object' ? '' : String(seen);
  if (
    typeof seen === 'string' &&
    values.some((value) => value !== seen && String(value) === seen)
  ) {
    return { what, remedy: 'remove the quotes' };
  }
  const note = Object.hasOwn(wordNotes, text) ? wordNotes[text] : undefined;
  return { what, remedy: note ?? wordRemedy(text, words) };
}

function unionText(issue: IssueOf<'invalid_union'>, subject: string, seen: unknown): IssueText {
  if ('options' in issue && issue.options !== undefined) {
    return valueText(issue.options, subject, seen);
  }
  const expected = issue.errors.flatMap(([first]) =>
    first?.code === 'invalid_type' ? [first.expected] : [],
  );
  const words = expected.map((type) => typeWords[type] ?? type).join(' or ');
  const what = `${subject} must be ${words}`;
  return { what, remedy: typeRemedy(expected[0] ?? '', words, seen) };
}

function typeRemedy(expected: string, word: string, seen: unknown): string {
  if (expected === 'string' && typeof seen !== 'object')
    return 'put it in quotes if it is meant so';
  if (word === 'a whole number' && typeof seen === 'string' && /^\d+$/.test(seen))
    return 'remove the quotes';
  return `write ${word}`;
}

function sizeText(issue: IssueOf<'too_small'> | IssueOf<'too_big'>, subject: string): IssueText {
  const small = issue.code === 'too_small';
  const limit = small ? issue.minimum : issue.maximum;
  if (issue.origin === 'string') {
    if (small) return { what: `${subject} is empty`, remedy: 'write text' };
    return { what: `${subject} is longer than ${limit} characters`, remedy: 'shorten it' };
  }
  if (issue.origin === 'array') {
    const what = `${subject} has ${small ? 'fewer' : 'more'} than ${limit} entries`;
    return { what, remedy: `write ${limit} or ${small ? 'more' : 'fewer'}` };
  }
  const remedy = `write ${limit} or ${small ? 'more' : 'less'}`;
  return { what: `${subject} is out of range`, remedy };
}
