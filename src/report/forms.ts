/** The forms of an audit report, as `--format` names them. */
export const reportForms = [
  'text',
  'html',
  'json',
  'jsonl',
  'markdown',
  'csv',
  'junit',
  'sarif',
  'openmetrics',
] as const;

/** A form of an audit report. */
export type ReportForm = (typeof reportForms)[number];
