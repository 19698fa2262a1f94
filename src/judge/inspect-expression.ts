import type { ASTNode } from '@marcbachmann/cel-js';
import { dictionary, type SubjectKind, subjectKinds } from '../facts/dictionary.ts';
import { nearestWord, wordRemedy } from '../intent/nearest.ts';
import type { ExpressionFault } from './cel-error.ts';
import { functionRemedy, functionsForRules } from './functions-for-rules.ts';

/** Macros that walk lists inside each other at most this deep: each multiplies the time. */
export const nestedMacrosMax = 2;

/** What an expression reads, and what in it no rule may use. */
export interface Inspection {
  /** Names of facts, in order of mention, without their subject. */
  readonly facts: readonly string[];
  readonly faults: readonly ExpressionFault[];
}

type Faults = readonly ExpressionFault[];
interface Walk {
  readonly kind: SubjectKind;
  readonly facts: Set<string>;
  /** Names of macro variables in force. */
  readonly scope: readonly string[];
}

const none: Faults = [];

/**
 * Checks what CEL itself lets pass: misspelt facts under `has()`, untyped values, patterns of
 * unbounded cost, nested walks, and facts of another subject than the one that is judged.
 */
export function inspectExpression(ast: ASTNode, kind: SubjectKind): Inspection {
  const walk: Walk = { kind, facts: new Set(), scope: [] };
  const faults = inspect(ast, walk);
  return { facts: [...walk.facts], faults };
}

function inspect(node: ASTNode, walk: Walk): Faults {
  switch (node.op) {
    case 'value':
      return inspectLiteral(node);
    case 'id':
      return inspectName(node, node.args, walk);
    case '.':
      return inspectField(node, node.args, walk);
    case 'call':
      return inspectCall(node, node.args, walk);
    case 'rcall':
      return inspectMethod(node, node.args, walk);
    case '[]':
      return inspectIndex(node, node.args, walk);
    case '!_':
    case '-_':
      return inspect(node.args, walk);
    case 'map':
    case '.?':
    case '[?]':
      return refuse(node, `\`${node.op}\` is not for rules`, 'use facts, lists and comparisons');
    default:
      return inspectAll(node.args, walk);
  }
}

function inspectAll(nodes: readonly ASTNode[], walk: Walk): Faults {
  return nodes.flatMap((node) => inspect(node, walk));
}

function refuse(at: { start: number; end: number }, what: string, remedy: string): Faults {
  return [{ start: at.start, end: at.end, what, remedy }];
}

function inspectLiteral(node: ASTNode): Faults {
  const value: unknown = node.args;
  if (typeof value === 'string' || typeof value === 'boolean') return none;
  if (typeof value === 'number' && Number.isFinite(value)) return none;
  if (typeof value !== 'bigint') {
    return refuse(node, 'not a number, text or condition', 'ask for an absent fact with has()');
  }
  if (Number.isSafeInteger(Number(value))) return none;
  return refuse(node, 'too large a whole number', 'at most 9007199254740991');
}

function inspectName(node: ASTNode, name: string, { kind, scope }: Walk): Faults {
  if (scope.includes(name)) return none;
  if (name === kind) {
    return refuse(node, `\`${name}\` alone has no value`, `name a fact of it: ${factOf(kind)}`);
  }
  if (isSubjectKind(name)) {
    return refuse(
      node,
      `a rule that judges a ${kind} reads no fact of a ${name}`,
      `use facts of the ${kind}, or write a rule that judges a ${name}`,
    );
  }
  const remedy = wordRemedy(name, [kind, ...scope]);
  return refuse(node, `nothing is called \`${name}\` here`, remedy);
}

function inspectField(
  node: ASTNode,
  [owner, name]: readonly [ASTNode, string],
  walk: Walk,
): Faults {
  // The library's start of a field is that of its owner.
  const at = { start: node.end - name.length, end: node.end };
  if (owner.op !== 'id' || walk.scope.includes(owner.args)) {
    const inner = inspect(owner, walk);
    const remedy = 'facts have no parts: write the fact alone';
    return inner.length > 0 ? inner : refuse(at, `\`${name}\` is not a fact`, remedy);
  }
  if (owner.args !== walk.kind) return inspectName(owner, owner.args, walk);
  if (Object.hasOwn(dictionary[walk.kind], name)) {
    walk.facts.add(name);
    return none;
  }
  const nearest = nearestWord(name, Object.keys(dictionary[walk.kind]));
  const remedy =
    nearest === undefined
      ? '`hopgauge rules --facts` lists all facts'
      : `write '${walk.kind}.${nearest}'`;
  return refuse(at, `\`${walk.kind}\` has no fact \`${name}\``, remedy);
}

function inspectCall(
  node: ASTNode,
  [name, args]: readonly [string, readonly ASTNode[]],
  walk: Walk,
): Faults {
  if (name === 'has') return inspectHas(node, args, walk);
  if (functionsForRules[name]?.call === true) return inspectAll(args, walk);
  return refuseFunction(node, name);
}

function inspectHas(node: ASTNode, args: readonly ASTNode[], walk: Walk): Faults {
  const [arg] = args;
  const isField =
    arg?.op === '.' && arg.args[0].op === 'id' && !walk.scope.includes(arg.args[0].args);
  if (isField && args.length === 1) return inspect(arg, walk);
  return refuse(arg ?? node, 'has() takes one fact', `write has(${factOf(walk.kind)})`);
}

function inspectMethod(
  node: ASTNode,
  [name, receiver, args]: readonly [string, ASTNode, readonly ASTNode[]],
  walk: Walk,
): Faults {
  const known = functionsForRules[name];
  if (known?.macro === true) {
    return [...inspect(receiver, walk), ...inspectMacro(node, args, walk)];
  }
  if (known?.method === true) return inspectAll([receiver, ...args], walk);
  // The receiver may be a namespace of the library, as in `cel.bind()`: not looked at.
  return refuseFunction(node, name);
}

function inspectMacro(node: ASTNode, args: readonly ASTNode[], walk: Walk): Faults {
  const [variable, ...rest] = args;
  if (walk.scope.length >= nestedMacrosMax) {
    const what = `lists walked inside each other more than ${nestedMacrosMax} deep`;
    return refuse(node, what, 'split it into several rules');
  }
  if (variable?.op !== 'id') {
    const remedy = 'write it as `list.all(item, item > 0)`';
    return refuse(variable ?? node, 'the first argument names the item', remedy);
  }
  if (isSubjectKind(variable.args)) {
    const what = `\`${variable.args}\` is the name of a subject`;
    return refuse(variable, what, 'name the item otherwise');
  }
  return inspectAll(rest, { ...walk, scope: [...walk.scope, variable.args] });
}

function inspectIndex(node: ASTNode, parts: readonly [ASTNode, ASTNode], walk: Walk): Faults {
  const [list, index] = parts;
  if (list.op === 'id' && list.args === walk.kind) {
    return refuse(node, 'a fact is not looked up by text', `write ${factOf(walk.kind)}`);
  }
  if (index.op === 'value' && typeof index.args === 'bigint') return inspect(list, walk);
  const remedy = 'write it as `list[0]`';
  return [
    ...inspect(list, walk),
    ...refuse(index, 'the place in a list must be a written number', remedy),
  ];
}

function refuseFunction(node: ASTNode, name: string): Faults {
  return refuse(node, `\`${name}()\` is not for rules`, functionRemedy(name));
}

function isSubjectKind(name: string): boolean {
  return (subjectKinds as readonly string[]).includes(name);
}

function factOf(kind: SubjectKind): string {
  return `${kind}.${Object.keys(dictionary[kind])[0] ?? ''}`;
}
