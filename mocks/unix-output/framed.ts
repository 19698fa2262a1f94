/** What one command of the script prints. */
export interface Printed {
  /** Name of the section, with what it is about. */
  readonly section: string;
  readonly output?: string;
  readonly words?: string;
  readonly status?: number;
}

/** Sections between the marks, byte for byte as the script frames them; `rest` is what comes last. */
export function framed(
  marker: string,
  sections: readonly Printed[],
  rest?: readonly Printed[],
): string {
  const last = rest === undefined ? '' : `\n${marker} rest\n${text(marker, rest)}`;
  return `\n${marker} begin 1\n${text(marker, sections)}${last}\n${marker} end\n`;
}

function text(marker: string, sections: readonly Printed[]): string {
  const parts = sections.map(({ section, output = '', words = '', status = 0 }) => {
    const ended = output === '' || output.endsWith('\n') ? output : `${output}\n`;
    return `\n${marker} open ${section}\n${ended}\n${marker} words\n${words}\n${marker} close ${status}\n`;
  });
  return parts.join('');
}
