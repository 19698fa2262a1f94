import { gapOf, type Subject } from '../facts/subject.ts';
import type { Read, Term, Value } from './term.ts';

type Form<Op extends Term['op']> = Extract<Term, { op: Op }>;

/**
 * Closures that evaluate a term with three values: a condition gives true, false or undefined
 * (undetermined). Absent facts cost no more than present ones. Agrees with `explainTerm`, which
 * is slower and says what it read.
 */
export function compileTerm(term: Term): Read {
  switch (term.op) {
    case 'constant': {
      const { value } = term;
      return () => value;
    }
    case 'fact': {
      const { name } = term;
      return (subject) => subject.facts[name];
    }
    case 'present': {
      const { name } = term;
      return (subject) => isPresent(subject, name);
    }
    case 'item': {
      const { cell } = term;
      return () => cell.value;
    }
    case 'and':
    case 'or':
      return compileLogic(term);
    case 'choice':
      return compileChoice(term);
    case 'list':
      return compileList(term.items.map(compileTerm));
    case 'apply':
      return compileApply(term);
    case 'quantify':
      return compileQuantify(term);
    case 'gather':
      return compileGather(term);
  }
}

/** `has()`: undetermined for a fact that could not be read, false for one never expected. */
export function isPresent(subject: Subject, name: string): boolean | undefined {
  if (subject.facts[name] !== undefined) return true;
  return gapOf(subject, name) === undefined ? false : undefined;
}

function compileLogic(term: Form<'and' | 'or'>): Read {
  const left = compileTerm(term.left);
  const right = compileTerm(term.right);
  const decides = term.op === 'or';
  return (subject) => {
    const a = left(subject);
    if (a === decides) return decides;
    const b = right(subject);
    return b === decides || a !== undefined ? b : undefined;
  };
}

function compileChoice(term: Form<'choice'>): Read {
  const test = compileTerm(term.test);
  const yes = compileTerm(term.yes);
  const no = compileTerm(term.no);
  return (subject) => {
    const chosen = test(subject);
    if (chosen === undefined) return undefined;
    return chosen === true ? yes(subject) : no(subject);
  };
}

function compileList(items: readonly Read[]): Read {
  return (subject) => {
    const values: Value[] = [];
    for (const item of items) {
      const value = item(subject);
      if (value === undefined) return undefined;
      values.push(value);
    }
    return values;
  };
}

function compileApply({ strict, args }: Form<'apply'>): Read {
  const [first, second] = args.map(compileTerm);
  if (first === undefined) return () => strict();
  if (second === undefined) {
    return (subject) => {
      const a = first(subject);
      return a === undefined ? undefined : strict(a);
    };
  }
  return (subject) => {
    const a = first(subject);
    if (a === undefined) return undefined;
    const b = second(subject);
    return b === undefined ? undefined : strict(a, b);
  };
}

function compileQuantify({ decides, cell, ...parts }: Form<'quantify'>): Read {
  const list = compileTerm(parts.list);
  const test = compileTerm(parts.test);
  return (subject) => {
    const items = list(subject) as readonly Value[] | undefined;
    if (items === undefined) return undefined;
    let result: boolean | undefined = !decides;
    for (const item of items) {
      cell.value = item;
      const found = test(subject);
      if (found === decides) return decides;
      if (found === undefined) result = undefined;
    }
    return result;
  };
}

function compileGather({ cell, finish, ...parts }: Form<'gather'>): Read {
  const list = compileTerm(parts.list);
  const test = compileTerm(parts.test);
  const item = compileTerm(parts.item);
  return (subject) => {
    const items = list(subject) as readonly Value[] | undefined;
    if (items === undefined) return undefined;
    const gathered: Value[] = [];
    for (const each of items) {
      cell.value = each;
      const wanted = test(subject);
      if (wanted === undefined) return undefined;
      if (wanted !== true) continue;
      const value = item(subject);
      if (value === undefined) return undefined;
      gathered.push(value);
    }
    return finish(gathered);
  };
}
