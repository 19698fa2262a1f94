import { clean } from '../report/layout.ts';
import { redactResult } from '../report/redact.ts';
import { summaryLine } from '../report/summary-line.ts';
import type { AuditResult } from '../report/types.ts';
import { writeForm } from '../report/write-form.ts';
import type { Io, Text } from './io.ts';
import type { AuditOptions } from './options.ts';
import type { Output } from './outputs.ts';
import { textLook, writeResult } from './write-result.ts';

/** Writes a result in each form that was asked for; one of `status` 0 that is to be quiet, to files alone. */
export async function reportAudit(
  result: AuditResult,
  status: number,
  options: AuditOptions,
  io: Io,
): Promise<void> {
  const shown = options.redact === true ? redactResult(result) : result;
  const hush = options.quiet === true && result.moved === undefined && status === 0;
  for (const output of options.outputs) {
    if (output.file === undefined && hush) continue;
    await writeResult(written(shown, output, options, io), output.file, io);
  }
  const files = options.outputs.flatMap(({ file }) => (file === undefined ? [] : [clean(file)]));
  if (files.length > 0 && options.quiet !== true) {
    io.stderr.write(`${summaryLine(result)}; report in ${files.join(', ')}\n`);
  }
}

function written(
  result: AuditResult,
  { form, file }: Output,
  { verbose, all }: AuditOptions,
  io: Io,
): Text {
  return writeForm(form, result, {
    ...textLook(file, io),
    verbose: verbose === true,
    all: all === true,
  });
}
