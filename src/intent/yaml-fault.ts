import type { Place } from '../facts/subject.ts';
import type { InputFault } from './types.ts';

// The parser's own messages may quote the text at fault, which may be a secret written where it
// does not belong: hence texts of our own.
const texts: Readonly<Record<string, readonly [what: string, remedy: string]>> = {
  ALIAS_PROPS: ['an alias has a tag or an anchor', 'remove the tag or the anchor'],
  BAD_ALIAS: ['an alias or anchor has no usable name', 'quote the text if no alias was meant'],
  BAD_DIRECTIVE: ['a line that starts with % is not understood', 'remove it, or quote the text'],
  BAD_DQ_ESCAPE: ['unknown escape in double quotes', 'use single quotes, or write \\\\ for a \\'],
  BAD_INDENT: [
    'wrong indentation, or a { or [ that is not closed',
    'indent entries of one map or list equally, with blanks',
  ],
  BAD_PROP_ORDER: ['an anchor or tag is in the wrong place', 'quote the text if none was meant'],
  BAD_SCALAR_START: ['text starts with a character that YAML reserves', 'put the text in quotes'],
  BLOCK_AS_IMPLICIT_KEY: [
    'a key stands where a value was meant',
    'check the indentation, or quote the text',
  ],
  BLOCK_IN_FLOW: ['an indented block inside braces or brackets', 'write one form or the other'],
  KEY_OVER_1024_CHARS: ['a key is longer than 1024 characters', 'shorten it'],
  MISSING_CHAR: ['a closing or separating character is missing', 'close every quote, { and ['],
  MULTILINE_IMPLICIT_KEY: [
    'a key runs over several lines',
    'put a blank after the colon, or quote the text',
  ],
  MULTIPLE_ANCHORS: ['a value has several anchors', 'leave one'],
  MULTIPLE_DOCS: ['the file holds several YAML documents', 'leave one; share through include'],
  MULTIPLE_TAGS: ['a value has several tags', 'remove them'],
  TAB_AS_INDENT: ['a tab is used as indentation', 'indent with blanks'],
  TAG_RESOLVE_FAILED: ['a YAML tag (!...) is not allowed here', 'put the text in quotes'],
};

/** The fault that a YAML error or warning with this code is, at its place. */
export function yamlFault(code: string, place: Place): InputFault {
  const [what, remedy] = texts[code] ?? [
    'the text is not YAML',
    'check quotes, brackets and colons here',
  ];
  return { place, what, remedy };
}
