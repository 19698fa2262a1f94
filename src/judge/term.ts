import type { Subject } from '../facts/subject.ts';

/** A value inside an expression. */
export type Value = number | string | boolean | readonly Value[];

/** Holds the item that a macro such as `exists` is looking at. */
export interface Cell {
  value: Value | undefined;
}

/** A function over values that are all known; undefined: undetermined, as division by zero is. */
export type Strict = (...values: Value[]) => Value | undefined;

/** A checked expression, reduced to the few forms that differ in how they treat the unknown. */
export type Term =
  | { readonly op: 'constant'; readonly value: Value }
  | { readonly op: 'fact'; readonly name: string }
  /** `has()` */
  | { readonly op: 'present'; readonly name: string }
  | { readonly op: 'item'; readonly cell: Cell }
  | { readonly op: 'and' | 'or'; readonly left: Term; readonly right: Term }
  | { readonly op: 'choice'; readonly test: Term; readonly yes: Term; readonly no: Term }
  | { readonly op: 'list'; readonly items: readonly Term[] }
  | { readonly op: 'apply'; readonly strict: Strict; readonly args: readonly Term[] }
  /** `all`, `exists` */
  | {
      readonly op: 'quantify';
      readonly decides: boolean;
      readonly list: Term;
      readonly cell: Cell;
      readonly test: Term;
    }
  /** `exists_one`, `filter`, `map` */
  | {
      readonly op: 'gather';
      readonly list: Term;
      readonly cell: Cell;
      readonly test: Term;
      readonly item: Term;
      readonly finish: (items: readonly Value[]) => Value;
    };

/** Value of a term on a subject; undefined: undetermined. */
export type Read = (subject: Subject) => Value | undefined;

/** A rule that fails on a subject: its fault, not the network's. */
export const ruleFailure = 'rule-failure';

/** Ends an evaluation that cannot give a value, such as a sum beyond all numbers. */
export function failRule(what: string): never {
  throw new Error(what, { cause: ruleFailure });
}
