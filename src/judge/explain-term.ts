import type { Subject } from '../facts/subject.ts';
import { isPresent } from './compile-term.ts';
import type { Term, Value } from './term.ts';

/** What an evaluation came to, and on which facts it rests. */
export interface Trace {
  readonly value: Value | undefined;
  /** Facts that the value rests on, in the order in which they were read. */
  readonly facts: readonly string[];
  /** Those of `facts` whose absence makes the value undetermined. */
  readonly needs: readonly string[];
}

type Form<Op extends Term['op']> = Extract<Term, { op: Op }>;
interface Log {
  readonly facts: string[];
  readonly needs: string[];
}

/**
 * Evaluates a term and says on what its value rests. A side of `&&` or `||` that was
 * undetermined and that the other side made immaterial is not part of it.
 */
export function explainTerm(term: Term, subject: Subject): Trace {
  const log: Log = { facts: [], needs: [] };
  const value = trace(term, subject, log);
  return {
    value,
    facts: distinct(log.facts),
    needs: value === undefined ? distinct(log.needs) : [],
  };
}

// Lists of two or three names: a set would cost more than it saves.
function distinct(names: readonly string[]): readonly string[] {
  return names.length < 2 ? names : names.filter((name, index) => names.indexOf(name) === index);
}

function trace(term: Term, subject: Subject, log: Log): Value | undefined {
  switch (term.op) {
    case 'constant':
      return term.value;
    case 'item':
      return term.cell.value;
    case 'fact':
      return note(log, term.name, subject.facts[term.name]);
    case 'present':
      return note(log, term.name, isPresent(subject, term.name));
    case 'and':
    case 'or':
      return traceLogic(term, subject, log);
    case 'choice': {
      const chosen = trace(term.test, subject, log);
      if (chosen === undefined) return undefined;
      return trace(chosen === true ? term.yes : term.no, subject, log);
    }
    case 'list':
      return traceAll(term.items, subject, log);
    case 'apply': {
      const values = traceAll(term.args, subject, log);
      return values === undefined ? undefined : term.strict(...values);
    }
    case 'quantify':
      return traceQuantify(term, subject, log);
    case 'gather':
      return traceGather(term, subject, log);
  }
}

function note<T>(log: Log, name: string, value: T | undefined): T | undefined {
  log.facts.push(name);
  if (value === undefined) log.needs.push(name);
  return value;
}

function traceLogic(term: Form<'and' | 'or'>, subject: Subject, log: Log): Value | undefined {
  const decides = term.op === 'or';
  const start = markOf(log);
  const a = trace(term.left, subject, log);
  if (a === decides) return decides;
  const middle = markOf(log);
  const b = trace(term.right, subject, log);
  if (b === decides && a === undefined) forget(log, start, middle);
  return b === decides || a !== undefined ? b : undefined;
}

/** All values in order; every one is looked at, so that all that is needed is named. */
function traceAll(terms: readonly Term[], subject: Subject, log: Log): Value[] | undefined {
  const values: Value[] = [];
  for (const term of terms) {
    const value = trace(term, subject, log);
    if (value !== undefined) values.push(value);
  }
  return values.length === terms.length ? values : undefined;
}

function traceQuantify(term: Form<'quantify'>, subject: Subject, log: Log): Value | undefined {
  const items = trace(term.list, subject, log) as readonly Value[] | undefined;
  if (items === undefined) return undefined;
  const start = markOf(log);
  let result: boolean | undefined = !term.decides;
  for (const item of items) {
    term.cell.value = item;
    const before = markOf(log);
    const found = trace(term.test, subject, log);
    if (found === term.decides) {
      forget(log, start, before);
      return found;
    }
    if (found === undefined) result = undefined;
  }
  return result;
}

function traceGather(term: Form<'gather'>, subject: Subject, log: Log): Value | undefined {
  const items = trace(term.list, subject, log) as readonly Value[] | undefined;
  if (items === undefined) return undefined;
  const gathered: Value[] = [];
  for (const each of items) {
    term.cell.value = each;
    const wanted = trace(term.test, subject, log);
    if (wanted === undefined) return undefined;
    if (wanted !== true) continue;
    const value = trace(term.item, subject, log);
    if (value === undefined) return undefined;
    gathered.push(value);
  }
  return term.finish(gathered);
}

interface Mark {
  readonly facts: number;
  readonly needs: number;
}

function markOf(log: Log): Mark {
  return { facts: log.facts.length, needs: log.needs.length };
}

function forget(log: Log, from: Mark, to: Mark): void {
  log.facts.splice(from.facts, to.facts - from.facts);
  log.needs.splice(from.needs, to.needs - from.needs);
}
