/**
 * Text as roff prints it letter by letter (groff_man(7), groff_char(7)): a dash stays one that can be
 * copied, and no line of it is taken for a request.
 */
export function roff(text: string): string {
  return text
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replace(
      /[^ -~\n]/gu,
      (char) => `\\[u${(char.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`,
    )
    .replace(/^(?=[.'])/gm, '\\&');
}

/** The same in bold. */
export function bold(text: string): string {
  return `\\fB${inLine(text)}\\fR`;
}

/** The same in italics, for what the operator fills in. */
export function italic(text: string): string {
  return `\\fI${inLine(text)}\\fR`;
}

function inLine(text: string): string {
  return roff(text).replace(/^\\&/, '');
}

/** Text of a help: paragraphs are filled anew, what is indented is kept as it stands. */
export function roffParagraphs(text: string): readonly string[] {
  const blocks: { readonly isKept: boolean; readonly lines: string[] }[] = [];
  let isNew = true;
  for (const line of text.split('\n')) {
    const isKept = line.startsWith(' ');
    if (line === '') {
      isNew = true;
    } else if (!isNew && blocks.at(-1)?.isKept === isKept) {
      blocks.at(-1)?.lines.push(line);
    } else {
      blocks.push({ isKept, lines: [line] });
      isNew = false;
    }
  }
  return blocks.flatMap(({ isKept, lines }) =>
    isKept
      ? ['.PP', '.nf', '.RS 2', ...lines.map((line) => roff(line.slice(2))), '.RE', '.fi']
      : ['.PP', ...lines.map(roff)],
  );
}
