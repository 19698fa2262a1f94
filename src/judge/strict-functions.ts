import { rateWords } from '../ethernet/run-brake.ts';
import { failRule, type Strict, type Value } from './term.ts';

type Numbers = (a: number, b: number) => number | undefined;

/** Arithmetic over doubles. A result beyond all numbers fails the rule. */
export const doubleArithmetic: Readonly<Record<string, Strict>> = {
  '-': numeric((a, b) => a - b, Number.isFinite),
  '*': numeric((a, b) => a * b, Number.isFinite),
  '/': numeric((a, b) => (b === 0 ? undefined : a / b), Number.isFinite),
  '+': numeric((a, b) => a + b, Number.isFinite),
};

/** Arithmetic over whole numbers; `/` and `%` cut towards zero, as CEL says. */
export const intArithmetic: Readonly<Record<string, Strict>> = {
  '-': numeric((a, b) => a - b, Number.isSafeInteger),
  '*': numeric((a, b) => a * b, Number.isSafeInteger),
  // `+ 0` turns a negative zero, which no whole number is, into zero.
  '/': numeric((a, b) => (b === 0 ? undefined : Math.trunc(a / b) + 0), Number.isSafeInteger),
  '%': numeric((a, b) => (b === 0 ? undefined : (a % b) + 0), Number.isSafeInteger),
  '+': numeric((a, b) => a + b, Number.isSafeInteger),
};

function numeric(compute: Numbers, accepts: (result: number) => boolean): Strict {
  return (a, b) => {
    const result = compute(a as number, b as number);
    if (result === undefined || accepts(result)) return result;
    return failRule('the result is beyond all numbers');
  };
}

/** Comparisons of numbers, texts and conditions of one type, as the checker has seen to. */
export const comparisons: Readonly<Record<string, Strict>> = {
  '<': (a, b) => inOrder(a) < inOrder(b),
  '<=': (a, b) => inOrder(a) <= inOrder(b),
  '>': (a, b) => inOrder(a) > inOrder(b),
  '>=': (a, b) => inOrder(a) >= inOrder(b),
  '==': equal,
  '!=': (a, b) => !equal(a, b),
  in: (a, b) => items(b).some((item) => equal(a, item)),
};

// The checker admits no lists here; both sides have one type.
const inOrder = (value: Value | undefined): number => value as number;

const items = (value: Value | undefined): readonly Value[] => value as readonly Value[];

function equal(a: Value | undefined, b: Value | undefined): boolean {
  if (typeof a !== 'object' || typeof b !== 'object') return a === b;
  return a.length === b.length && a.every((item, index) => equal(item, b[index]));
}

/** Functions and methods by name; a method's receiver is the first value. */
export const functions: Readonly<Record<string, Strict>> = {
  size: (value) => (typeof value === 'string' ? [...value].length : items(value).length),
  min: (a, b) => Math.min(a as number, b as number),
  max: (a, b) => Math.max(a as number, b as number),
  string: (value) => String(value),
  speed: (mbps) => rateWords(mbps as number),
  startsWith: (text, part) => (text as string).startsWith(part as string),
  endsWith: (text, part) => (text as string).endsWith(part as string),
  contains: (text, part) => (text as string).includes(part as string),
};

/** Texts joined with a separator. */
export const join: Strict = (a, b) =>
  typeof a === 'string' ? a + (b as string) : [...items(a), ...items(b)];

/** The opposite of a flag. */
export const not: Strict = (value) => value !== true;

/** A number with the other sign; never minus zero. */
export const negate: Strict = (value) => 0 - (value as number);

/** Item of a list; a place beyond its end is undetermined, never a default. */
export const itemAt: Strict = (list, index) => items(list)[index as number];
