import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { stableJson } from '../../src/facts/json.ts';
import { htmlReport } from '../../src/report/page/html-report.ts';
import { chromiumProgram } from '../browser/chromium-program.ts';
import { makePageSite } from './page-site.ts';

const rounds = 5;

export interface PageBench {
  readonly name: string;
  readonly ports: number;
  readonly links: number;
  readonly findings: number;
  readonly pageBytes: number;
  /** Median. */
  readonly seconds: number;
  /** The survey of the same site written as JSON; median. */
  readonly referenceSeconds: number;
  readonly ratio: number;
  /** From the start of loading to the first thing painted, the slowest; absent: no Chromium here. */
  readonly firstPaintMs?: number;
}

/**
 * Makes the page of 200 nodes of 50 ports, in turns with writing the same survey as JSON, and opens
 * it from a file in headless Chromium, each time in a new context.
 */
export async function benchPage(): Promise<PageBench> {
  const result = await makePageSite();
  const page = htmlReport(result);
  const times: number[] = [];
  const reference: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    times.push(secondsOf(() => htmlReport(result)));
    reference.push(secondsOf(() => stableJson(result.survey)));
  }
  const [seconds, referenceSeconds] = [median(times), median(reference)];
  const firstPaintMs = existsSync(chromiumProgram) ? await firstPaint(page) : undefined;
  return {
    name: 'the page of an audit',
    ports: result.site.nodes.reduce((sum, { survey }) => sum + (survey?.ports.length ?? 0), 0),
    links: result.site.links.length,
    findings: result.judgement.findings.length,
    pageBytes: Buffer.byteLength(page),
    seconds,
    referenceSeconds,
    ratio: seconds / referenceSeconds,
    ...(firstPaintMs === undefined ? {} : { firstPaintMs }),
  };
}

/** @throws Error when the page paints nothing within the time that the browser has */
async function firstPaint(html: string): Promise<number> {
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-bench-page-'));
  const browser = await chromium.launch({
    executablePath: chromiumProgram,
    args: ['--no-sandbox'],
  });
  try {
    const file = join(folder, 'page.html');
    writeFileSync(file, html);
    const paints: number[] = [];
    for (let round = 0; round < rounds; round += 1) {
      const context = await browser.newContext();
      const page = await context.newPage();
      await page.goto(pathToFileURL(file).href);
      paints.push(await page.evaluate(untilPainted));
      await context.close();
    }
    return Math.round(Math.max(...paints));
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true });
  }
}

/** Paint Timing (W3C): `first-contentful-paint`, in milliseconds since the page was asked for. */
const untilPainted = `new Promise((done, fail) => {
  setTimeout(() => fail(new Error('nothing was painted within 20 s')), 20000);
  new PerformanceObserver((list) => {
    const paint = list.getEntries().find(({ name }) => name === 'first-contentful-paint');
    if (paint !== undefined) done(paint.startTime);
  }).observe({ type: 'paint', buffered: true });
})`;

function secondsOf(work: () => unknown): number {
  const before = performance.now();
  work();
  return (performance.now() - before) / 1000;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.stdout.write(`${JSON.stringify(await benchPage(), null, 2)}\n`);
}
