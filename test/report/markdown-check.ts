import type { Token, Tokens } from 'marked';

/** The kinds of all tokens, those inside others too. */
export const kindsOf = (tokens: readonly Token[]): string[] =>
  tokens.flatMap((token) => [
    token.type,
    ...kindsOf('tokens' in token && token.tokens !== undefined ? token.tokens : []),
    ...(token.type === 'table'
      ? kindsOf(
          [...(token as Tokens.Table).header, ...(token as Tokens.Table).rows.flat()].flatMap(
            (cell) => cell.tokens,
          ),
        )
      : []),
    ...(token.type === 'list' ? kindsOf((token as Tokens.List).items) : []),
  ]);
/** Kinds of tokens that a report is made of. */
export const plain = new Set([
  'heading',
  'paragraph',
  'table',
  'list',
  'list_item',
  'text',
  'escape',
  'space',
]);
