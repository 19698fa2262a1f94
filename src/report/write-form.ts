import { changesText } from './changes-text.ts';
import { csvReport } from './csv-report.ts';
import type { ReportForm } from './forms.ts';
import { jsonReport } from './json-report.ts';
import { jsonlReport } from './jsonl-report.ts';
import { junitReport } from './junit-report.ts';
import { markdownReport } from './markdown-report.ts';
import { openmetricsReport } from './openmetrics-report.ts';
import { htmlReport } from './page/html-report.ts';
import { sarifReport } from './sarif-report.ts';
import { type TextOptions, textReport } from './text-report.ts';
import type { AuditResult } from './types.ts';

/** How the text form is to look; other forms have one look. */
export interface FormLook extends TextOptions {
  /** The whole report, also where a history would let only what moved be told. */
  readonly all: boolean;
}

const forms: Readonly<
  Record<Exclude<ReportForm, 'text'>, (result: AuditResult) => string | Iterable<string>>
> = {
  html: htmlReport,
  json: jsonReport,
  jsonl: jsonlReport,
  markdown: markdownReport,
  csv: csvReport,
  junit: junitReport,
  sarif: sarifReport,
  openmetrics: openmetricsReport,
};

/** The result of an audit in one form, in pieces: together they may be more than one text holds. */
export function writeForm(form: ReportForm, result: AuditResult, look: FormLook): Iterable<string> {
  const report = form === 'text' ? textForm(result, look) : forms[form](result);
  return typeof report === 'string' ? [report] : report;
}

function textForm(result: AuditResult, look: FormLook): string {
  if (result.moved === undefined || look.all) return textReport(result, look);
  return changesText(result, result.moved, look);
}
