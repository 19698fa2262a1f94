import type { ASTNode, Environment } from '@marcbachmann/cel-js';
import { dictionary } from '../facts/dictionary.ts';
import type { FactEntry, FactType } from '../facts/entry.ts';
import { type ExpressionFault, wordCelError } from './cel-error.ts';

/** Longest condition or template, in UTF-16 units. */
export const expressionLengthMax = 2000;

const limits = {
  maxAstNodes: 500,
  maxDepth: 24,
  maxListElements: 64,
  maxMapEntries: 0,
  maxCallArguments: 8,
};

/** CEL type of each fact type; whole numbers are doubles, since facts are JSON. */
export const celTypes = {
  number: 'double',
  text: 'string',
  flag: 'bool',
  numbers: 'list<double>',
  texts: 'list<string>',
} as const satisfies Record<FactType, string>;

/** An expression that is CEL, not yet checked. */
export interface ParsedExpression {
  readonly ast: ASTNode;
  /** Types the tree in place: CEL type of the whole, or what is wrong. */
  checkTypes(): { readonly type: string } | { readonly fault: ExpressionFault };
}

/** Parser and type checker of CEL (cel.dev), knowing the subjects of the dictionary. */
export interface CelEnvironment {
  parse(text: string): ParsedExpression | { readonly fault: ExpressionFault };
}

/**
 * Loads the CEL library, which costs tens of milliseconds: only what judges asks for it. Facts
 * of each subject kind are fields of a variable of that name.
 */
export async function createCelEnvironment(): Promise<CelEnvironment> {
  const cel = await import('@marcbachmann/cel-js');
  const environment = new cel.Environment({ limits });
  for (const [name, entries] of Object.entries(dictionary)) {
    environment.registerVariable({ name, schema: schemaOf(entries) });
  }
  registerMixedArithmetic(environment);
  return { parse: (text) => parseExpression(environment, text) };
}

function schemaOf(entries: Readonly<Record<string, FactEntry>>): Record<string, string> {
  return Object.fromEntries(Object.entries(entries).map(([name, e]) => [name, celTypes[e.type]]));
}

// Only the signatures count: the library checks types and never evaluates.
const neverCalled = (): never => {
  throw new Error('the checker evaluated an operator');
};

function registerMixedArithmetic(environment: Environment): void {
  for (const operator of ['+', '-', '*', '/']) {
    environment.registerOperator(`double ${operator} int: double`, neverCalled);
    environment.registerOperator(`int ${operator} double: double`, neverCalled);
  }
  environment.registerOperator('double == int', neverCalled);
  environment.registerOperator('double in list<int>', neverCalled);
  environment.registerOperator('int in list<double>', neverCalled);
  for (const type of ['int', 'double']) {
    environment.registerFunction(`speed(${type}): string`, neverCalled, { async: false });
  }
  for (const name of ['min', 'max']) {
    environment.registerFunction(`${name}(int, int): int`, neverCalled, { async: false });
    for (const types of ['double, double', 'double, int', 'int, double']) {
      environment.registerFunction(`${name}(${types}): double`, neverCalled, { async: false });
    }
  }
}

function parseExpression(
  environment: Environment,
  text: string,
): ReturnType<CelEnvironment['parse']> {
  // Before parsing: a text of nothing but `!` overflows the parser's stack.
  if (text.length > expressionLengthMax) {
    return {
      fault: {
        start: expressionLengthMax,
        end: text.length,
        what: `longer than ${expressionLengthMax} characters`,
        remedy: 'split it into several rules',
      },
    };
  }
  try {
    const parsed = environment.parse(text);
    return { ast: parsed.ast, checkTypes: () => checkTypes(parsed, text) };
  } catch (error) {
    return { fault: wordCelError(error, text) };
  }
}

function checkTypes(
  parsed: ReturnType<Environment['parse']>,
  text: string,
): ReturnType<ParsedExpression['checkTypes']> {
  try {
    const result = parsed.check();
    if (result.valid && result.type !== undefined) return { type: result.type };
    return { fault: wordCelError(result.error, text) };
  } catch (error) {
    return { fault: wordCelError(error, text) };
  }
}
