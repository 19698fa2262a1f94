/** What one block of the script gives. */
export interface PrintedRows {
  readonly section: string;
  readonly rows: readonly object[];
  /** First error: category and identifier as numbers and names, message translated. */
  readonly error?: { readonly category: number; readonly id: string; readonly message: string };
}

/** Length of the lines into which the script cuts what it prints. */
const lineLength = 72;

/** Sections between the marks, as the script for Windows frames them, lines ended by CR LF. */
export function windowsFramed(
  marker: string,
  sections: readonly PrintedRows[],
  rest: readonly PrintedRows[],
): string {
  const lines = [
    '',
    `${marker} begin 1`,
    ...sections.flatMap((section) => linesOf(marker, section)),
    '',
    `${marker} rest`,
    ...rest.flatMap((section) => linesOf(marker, section)),
    '',
    `${marker} end`,
  ];
  return lines.map((line) => `${line}\r\n`).join('');
}

function linesOf(marker: string, { section, rows, error }: PrintedRows): readonly string[] {
  return [
    '',
    `${marker} open ${section}`,
    ...cut(JSON.stringify(rows)),
    `${marker} words`,
    ...cut(error === undefined ? '' : JSON.stringify(error)),
    `${marker} close ${error === undefined ? 0 : 1}`,
  ];
}

/** ASCII only, in short lines. */
function cut(text: string): readonly string[] {
  const ascii = text.replace(
    /[^ -~]/g,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
  return ascii.match(new RegExp(`.{1,${lineLength}}`, 'g')) ?? [];
}
