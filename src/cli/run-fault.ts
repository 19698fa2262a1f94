/**
 * A fault of the run that the operator can mend: ends the command with `status` after printing
 * its lines. Nothing else is thrown on purpose.
 */
export class RunFault extends Error {
  readonly status: number;
  readonly lines: readonly string[];

  constructor(status: number, lines: readonly string[]) {
    super(lines.join('\n'));
    this.name = 'RunFault';
    this.status = status;
    this.lines = lines;
  }
}
