import {
  Composer,
  type CST,
  type Document,
  Lexer,
  LineCounter,
  Parser,
  YAMLParseError,
} from 'yaml';
import { yamlDepthMax } from './limits.ts';

const composeOptions = {
  prettyErrors: false,
  // Duplicates are found while converting: the parser's own check takes time by the square.
  uniqueKeys: false,
  merge: false,
  schema: 'core',
  resolveKnownTags: false,
  version: '1.2',
  logLevel: 'silent',
} as const;

/** A composed document, or the offset at which it nests deeper than `yamlDepthMax`. */
export type YamlText =
  | { readonly ok: true; readonly document: Document.Parsed; readonly lines: LineCounter }
  | { readonly ok: false; readonly offset: number; readonly lines: LineCounter };

/**
 * YAML 1.2 (core schema) composed from `text`. The depth is watched before composing, since the
 * composer recurses and a full stack would end the process.
 */
export function composeYaml(text: string): YamlText {
  const lines = new LineCounter();
  lines.addNewLine(0);
  const parser = new Parser(lines.addNewLine);
  const tokens: CST.Token[] = [];
  for (const lexeme of new Lexer().lex(text)) {
    for (const token of parser.next(lexeme)) tokens.push(token);
    if (parser.stack.length > yamlDepthMax) return { ok: false, offset: parser.offset, lines };
  }
  for (const token of parser.end()) tokens.push(token);
  const document = withoutStacks(() => firstDocument(tokens, text.length, lines));
  return { ok: true, document, lines };
}

/** A broken file gives thousands of errors: capturing their stacks, which nobody reads, took most of the time. */
function withoutStacks<T>(compose: () => T): T {
  const { stackTraceLimit } = Error;
  Error.stackTraceLimit = 0;
  try {
    return compose();
  } finally {
    Error.stackTraceLimit = stackTraceLimit;
  }
}

function firstDocument(
  tokens: readonly CST.Token[],
  length: number,
  lineCounter: LineCounter,
): Document.Parsed {
  const composer = new Composer({ ...composeOptions, lineCounter });
  let first: Document.Parsed | undefined;
  for (const document of composer.compose(tokens, true, length)) {
    if (first !== undefined) {
      const [from, , to] = document.range;
      first.errors.push(new YAMLParseError([from, to], 'MULTIPLE_DOCS', 'several documents'));
      break;
    }
    first = document;
  }
  if (first === undefined) throw new Error('the composer gave no document');
  return first;
}
