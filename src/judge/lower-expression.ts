import type { ASTNode } from '@marcbachmann/cel-js';
import {
  comparisons,
  doubleArithmetic,
  functions,
  intArithmetic,
  itemAt,
  join,
  negate,
  not,
} from './strict-functions.ts';
import type { Cell, Strict, Term, Value } from './term.ts';

type Scope = ReadonlyMap<string, Cell>;
type Macro = (list: Term, cell: Cell, args: readonly Term[]) => Term;

const yes: Term = { op: 'constant', value: true };

/**
 * Reduces an expression that was inspected and type-checked to a term.
 *
 * @throws Error on a form that the inspection should have refused: a bug of ours
 */
export function lowerExpression(ast: ASTNode): Term {
  return lower(ast, new Map());
}

function lower(node: ASTNode, scope: Scope): Term {
  switch (node.op) {
    case 'value':
      return { op: 'constant', value: literal(node.args) };
    case 'id':
      return { op: 'item', cell: known(scope.get(node.args), node.args) };
    case '.':
      return { op: 'fact', name: node.args[1] };
    case '&&':
    case '||':
      return {
        op: node.op === '&&' ? 'and' : 'or',
        left: lower(node.args[0], scope),
        right: lower(node.args[1], scope),
      };
    case '?:': {
      const [test, then, otherwise] = node.args;
      return {
        op: 'choice',
        test: lower(test, scope),
        yes: lower(then, scope),
        no: lower(otherwise, scope),
      };
    }
    case 'list':
      return { op: 'list', items: node.args.map((item) => lower(item, scope)) };
    case '!_':
      return apply(not, [node.args], scope);
    case '-_':
      return apply(negate, [node.args], scope);
    case '[]':
      return apply(itemAt, node.args, scope);
    case 'call':
      return lowerCall(node.args, scope);
    case 'rcall':
      return lowerMethod(node.args, scope);
    case 'map':
    case '.?':
    case '[?]':
      return unrefused(node.op);
    default:
      return apply(binary(node, node.op), node.args, scope);
  }
}

function apply(strict: Strict, args: readonly ASTNode[], scope: Scope): Term {
  return { op: 'apply', strict, args: args.map((arg) => lower(arg, scope)) };
}

function binary(node: ASTNode, op: string): Strict {
  const comparison = comparisons[op];
  if (comparison !== undefined) return comparison;
  const type = checkedType(node);
  if (type === 'int') return known(intArithmetic[op], op);
  if (type === 'double') return known(doubleArithmetic[op], op);
  return op === '+' ? join : unrefused(op);
}

// The checker leaves its types on the tree and has no public way to ask for them.
function checkedType(node: ASTNode): string {
  return String((node as { checkedType?: unknown }).checkedType);
}

function literal(value: unknown): Value {
  if (typeof value === 'bigint') return Number(value);
  if (typeof value === 'string' || typeof value === 'boolean' || typeof value === 'number') {
    return value;
  }
  return unrefused(typeof value);
}

function lowerCall([name, args]: readonly [string, readonly ASTNode[]], scope: Scope): Term {
  const [first] = args;
  if (name === 'has' && first?.op === '.') return { op: 'present', name: first.args[1] };
  return apply(known(functions[name], name), args, scope);
}

function lowerMethod(
  [name, receiver, args]: readonly [string, ASTNode, readonly ASTNode[]],
  scope: Scope,
): Term {
  const macro = macros[name];
  if (macro === undefined) return apply(known(functions[name], name), [receiver, ...args], scope);
  const [variable, ...rest] = args;
  const cell: Cell = { value: undefined };
  const inner = new Map([...scope, [variable?.op === 'id' ? variable.args : '', cell]]);
  return macro(
    lower(receiver, scope),
    cell,
    rest.map((arg) => lower(arg, inner)),
  );
}

const macros: Readonly<Record<string, Macro>> = {
  all: (list, cell, [test = yes]) => ({ op: 'quantify', decides: false, list, cell, test }),
  exists: (list, cell, [test = yes]) => ({ op: 'quantify', decides: true, list, cell, test }),
  exists_one: (list, cell, [test = yes]) => ({
    ...gather(list, cell, test),
    finish: (found) => found.length === 1,
  }),
  filter: (list, cell, [test = yes]) => gather(list, cell, test),
  map: (list, cell, [first = yes, second]) =>
    second === undefined
      ? { ...gather(list, cell, yes), item: first }
      : { ...gather(list, cell, first), item: second },
};

function gather(list: Term, cell: Cell, test: Term): Extract<Term, { op: 'gather' }> {
  return { op: 'gather', list, cell, test, item: { op: 'item', cell }, finish: (found) => found };
}

function known<T>(value: T | undefined, what: string): T {
  return value === undefined ? unrefused(what) : value;
}

function unrefused(what: string): never {
  throw new Error(`expression form ${what} was not refused`);
}
