/** What one command of the script prints. */
export interface Printed {
  /** Name of the section, with what it is about. */
  readonly section: string;
  readonly output?: string;
  readonly words?: string;
  readonly status?: number;
}

/** Sections between the marks, byte for byte as the script frames them. */
export function framed(marker: string, sections: readonly Printed[]): string {
  const parts = sections.map(({ section, output = '', words = '', status = 0 }) => {
    const text = output === '' || output.endsWith('\n') ? output : `${output}\n`;
    return `\n${marker} open ${section}\n${text}\n${marker} words\n${words}\n${marker} close ${status}\n`;
  });
  return `\n${marker} begin 1\n${parts.join('')}\n${marker} end\n`;
}
