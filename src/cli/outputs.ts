import { InvalidArgumentError, Option } from 'commander';
import { type ReportForm, reportForms } from '../report/forms.ts';

/** One report that a run writes. */
export interface Output {
  readonly form: ReportForm;
  /** Absent: to stdout. */
  readonly file?: string;
}

/** What the command line says of outputs, in the order in which it says it. */
type Said = { readonly form: ReportForm } | { readonly file: string };

/** The options `--format` and `--out`, each of which may be repeated, and what they come to. */
export interface OutputChoice {
  readonly format: Option;
  readonly out: Option;
  /** Read once the command line has been parsed. */
  readonly outputs: () => readonly Output[];
}

/** Files that one run writes. */
const filesMax = 16;

/**
 * A file takes the form of the `--format` that stands before it, and of the one behind it where it
 * is the only file and none stands before. A form that no file takes goes to stdout; so does text
 * where nothing is said.
 */
export function outputChoice(): OutputChoice {
  const said: Said[] = [];
  const format = new Option(
    '--format <FORM>',
    'form of the report, for stdout or for each --out behind it (default: text)',
  )
    .choices(reportForms)
    .argParser((text: string) => {
      said.push({ form: formOf(text) });
      return text;
    });
  const out = new Option(
    '--out <FILE>',
    'write a report to FILE, whole or not at all; may be repeated',
  ).argParser((file: string) => {
    said.push({ file: newFile(file, said) });
    return file;
  });
  return { format, out, outputs: () => outputsOf(said) };
}

function formOf(text: string): ReportForm {
  const form = reportForms.find((each) => each === text);
  if (form === undefined) {
    throw new InvalidArgumentError(`Allowed choices are ${reportForms.join(', ')}.`);
  }
  return form;
}

function newFile(file: string, said: readonly Said[]): string {
  const files = said.flatMap((each) => ('file' in each ? [each.file] : []));
  if (files.includes(file)) throw new InvalidArgumentError('two reports cannot be one file');
  if (files.length >= filesMax) throw new InvalidArgumentError(`at most ${filesMax} files`);
  return file;
}

function outputsOf(said: readonly Said[]): readonly Output[] {
  const files = said.flatMap((each) => ('file' in each ? [each.file] : []));
  const forms = said.flatMap((each) => ('form' in each ? [each.form] : []));
  const last = forms.at(-1) ?? 'text';
  const [only] = files;
  if (only === undefined) return [{ form: last }];
  if (files.length === 1 && said[0] !== undefined && 'file' in said[0]) {
    return [{ form: last, file: only }];
  }
  return inOrder(said);
}

function inOrder(said: readonly Said[]): readonly Output[] {
  const outputs: Output[] = [];
  let form: ReportForm = 'text';
  let isTaken = true;
  for (const each of said) {
    if ('form' in each) {
      form = each.form;
      isTaken = false;
    } else {
      outputs.push({ form, file: each.file });
      isTaken = true;
    }
  }
  return isTaken ? outputs : [...outputs, { form }];
}
