type Style = 'plain' | 'single' | 'double' | 'block';

/** A scalar of a YAML file: the whole source, where it starts in it, and its value. */
export interface WrittenScalar {
  readonly source: string;
  /** Offset of the first character: a quote, `|`, `>`, or the text itself. */
  readonly start: number;
  readonly value: string;
}

interface Walk extends WrittenScalar {
  readonly style: Style;
  /** Blanks that start every line of a block and are no part of the value. */
  readonly indent: number;
}

/** How far both sides of the walk have come. */
interface Progress {
  readonly at: number;
  readonly done: number;
}

const styles: Readonly<Record<string, Style>> = {
  "'": 'single',
  '"': 'double',
  '|': 'block',
  '>': 'block',
};

/**
 * Where in the source of a YAML file the character at `offset` of a scalar's value stands.
 * Exact but for escaped blanks that lead a continuation line in double quotes.
 */
export function sourceOffset(scalar: WrittenScalar, offset: number): number {
  const style = styles[scalar.source.charAt(scalar.start)] ?? 'plain';
  const first = firstCharacter(scalar, style);
  const indent = first - (scalar.source.lastIndexOf('\n', first - 1) + 1);
  const walk: Walk = { ...scalar, style, indent };
  const wanted = Math.min(offset, scalar.value.length);
  let progress: Progress = { at: first, done: leadingBreaks(scalar, style) };
  while (progress.done < wanted && progress.at < scalar.source.length) {
    progress = step(walk, progress);
  }
  return wanted === scalar.value.length ? progress.at : overEmpty(walk, progress).at;
}

function firstCharacter({ source, start }: WrittenScalar, style: Style): number {
  if (style === 'plain') return start;
  if (style !== 'block') return start + 1;
  const header = source.indexOf('\n', start) + 1;
  return header + (/^(?:[ \t]*\r?\n)*[ ]*/.exec(source.slice(header))?.[0].length ?? 0);
}

/** Blank lines at the head of a block are line feeds of its value. */
function leadingBreaks({ value }: WrittenScalar, style: Style): number {
  return style === 'block' ? matched(/\n*/y, value, 0).length : 0;
}

function step(walk: Walk, progress: Progress): Progress {
  const { source, style } = walk;
  const { at, done } = overEmpty(walk, progress);
  const broken = lineBreak(walk, at);
  if (broken !== undefined) return overBreak(walk, { at, done }, broken);
  if (style === 'single' && source.startsWith("''", at)) return { at: at + 2, done: done + 1 };
  if (style === 'double' && source.charAt(at) === '\\') return overEscape(source, at, done);
  return { at: at + 1, done: done + 1 };
}

/** Escaped line breaks in double quotes, which leave nothing in the value. */
function overEmpty({ source, style }: Walk, { at, done }: Progress): Progress {
  if (style !== 'double') return { at, done };
  return { at: at + matched(/(?:\\\r?\n[ \t]*)*/y, source, at).length, done };
}

/** Line breaks at `at`, with the blanks about them that are no part of the value. */
function lineBreak({ source, style, indent }: Walk, at: number): string | undefined {
  const found =
    style === 'block'
      ? matched(/(?:\r?\n[ \t]*(?=\r?\n))*\r?\n/y, source, at)
      : matched(/[ \t]*(?:\r?\n[ \t]*)+/y, source, at);
  if (found === '') return undefined;
  if (style !== 'block') return found;
  const blanks = matched(/ */y, source, at + found.length);
  return found + blanks.slice(0, indent);
}

/** A break is one blank in the value, or as many line feeds as folding leaves, or none. */
function overBreak({ value }: Walk, { at, done }: Progress, broken: string): Progress {
  const breaks = broken.split('\n').length - 1;
  const folded = value.startsWith(' ', done) ? 1 : matched(/\n*/y, value, done).length;
  return { at: at + broken.length, done: done + Math.min(folded, breaks) };
}

const hexDigits: Readonly<Record<string, number>> = { x: 2, u: 4, U: 8 };

function overEscape(source: string, at: number, done: number): Progress {
  const digits = hexDigits[source.charAt(at + 1)] ?? 0;
  const code = Number.parseInt(source.slice(at + 2, at + 2 + digits), 16);
  return { at: at + 2 + digits, done: done + (code > 0xffff ? 2 : 1) };
}

function matched(sticky: RegExp, text: string, at: number): string {
  sticky.lastIndex = at;
  return sticky.exec(text)?.[0] ?? '';
}
