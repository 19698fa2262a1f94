import { copyFile, mkdir } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { Io } from '../src/cli/io.ts';
import { processIo } from '../src/cli/process-io.ts';
import { run } from '../src/cli/run.ts';
import { siteIo } from './saltmarsh/site-io.ts';
import { startSaltmarsh } from './saltmarsh/start-site.ts';

// Starts the simulated Saltmarsh office on loopback, audits it through the real collectors and
// stops it. `--out DIR` also leaves the intent, the survey and the report in every form there.

const intent = relative(
  process.cwd(),
  fileURLToPath(new URL('./saltmarsh/intent.yaml', import.meta.url)),
);
const { values } = parseArgs({ options: { out: { type: 'string' } } });

async function leave(folder: string, io: Io): Promise<void> {
  await mkdir(folder, { recursive: true });
  const file = (name: string) => join(folder, name);
  await copyFile(intent, file('intent.yaml'));
  await run(['survey', intent, '--quiet', '--out', file('survey.json')], io);
  const saved = ['--survey', file('survey.json')];
  await run(['audit', intent, ...saved, '--out', file('report.txt')], io);
  await run(['audit', intent, ...saved, '--format', 'json', '--out', file('report.json')], io);
  await run(['audit', intent, ...saved, '--format', 'html', '--out', file('report.html')], io);
  io.stdout.write(
    `\nleft in ${folder}: intent.yaml, survey.json, report.txt, report.json, report.html\n`,
  );
}

const stop = new AbortController();
process.once('SIGINT', () => stop.abort());
const site = await startSaltmarsh();
try {
  const io = siteIo(
    site,
    processIo(stop.signal, () => {}),
  );
  // The office has a fault, so the audit ends with 1; the demo itself has then gone well.
  const status = await run(['audit', intent], io);
  process.exitCode = status === 1 ? 0 : status || 1;
  if (values.out !== undefined) await leave(values.out, io);
} finally {
  await site.stop();
}
