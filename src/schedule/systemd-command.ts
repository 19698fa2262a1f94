/**
 * A command line for `ExecStart=`, as systemd.service(5) and systemd.syntax(7) read it: words in
 * double quotes with C escapes, `%` doubled against specifiers, `$` doubled against variables. In
 * the first word, the program, no variable is replaced. Absolute words without control characters.
 */
export function systemdCommand([program = '', ...args]: readonly string[]): string {
  return [quoted(program), ...args.map((word) => quoted(word.replaceAll('$', '$$$$')))].join(' ');
}

function quoted(word: string): string {
  const plain = word.replaceAll('%', '%%');
  if (/^[A-Za-z0-9_./:=@%$+-]+$/.test(plain)) return plain;
  return `"${plain.replaceAll(/["\\]/g, '\\$&')}"`;
}

/** Whether systemd runs a program of this path at all: it takes no quotes and no backslash there. */
export function isSystemdProgram(path: string): boolean {
  return !/["'\\]/.test(path);
}
