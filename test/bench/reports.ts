import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { writeFileWhole } from '../../src/cli/write-file.ts';
import { type ReportForm, reportForms } from '../../src/report/forms.ts';
import { writeForm } from '../../src/report/write-form.ts';
import { makeReportSite } from './report-site.ts';

/** Forms that are written at this size; of large sites `hopgauge page` makes pages. */
export const writtenForms = reportForms.filter((form) => form !== 'html');

/** One report of half a million ports, made and written to a file. */
export interface ReportBench {
  readonly form: ReportForm;
  readonly ports: number;
  readonly findings: number;
  readonly seconds: number;
  /** The survey of the same ports by `JSON.stringify`, written to a file. */
  readonly referenceSeconds: number;
  readonly ratio: number;
  readonly bytes: number;
  /** Most memory that the process held until the report was written, site and findings included. */
  readonly peakBytes: number;
}

/** Makes one report of a site of half a million ports and writes it, then its survey as JSON. */
export async function benchReport(form: ReportForm): Promise<ReportBench> {
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-bench-reports-'));
  try {
    const result = await makeReportSite();
    const file = join(folder, 'report');
    const look = { width: 80, colour: false, verbose: false, all: true };
    const startedMs = performance.now();
    const written = await writeFileWhole(file, writeForm(form, result, look));
    const seconds = (performance.now() - startedMs) / 1000;
    if (!written.ok) throw new Error(written.reason);
    const peakBytes = process.resourceUsage().maxRSS * 1024;
    const referenceMs = performance.now();
    writeFileSync(join(folder, 'survey'), JSON.stringify(result.survey), { flush: true });
    const referenceSeconds = (performance.now() - referenceMs) / 1000;
    return {
      form,
      ports: result.site.ports.length,
      findings: result.judgement.findings.length,
      seconds,
      referenceSeconds,
      ratio: seconds / referenceSeconds,
      bytes: statSync(file).size,
      peakBytes,
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const form = writtenForms.find((each) => each === process.argv[2]) ?? 'text';
  process.stdout.write(`${JSON.stringify(await benchReport(form), null, 2)}\n`);
}
