import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, onTestFinished } from 'vitest';

/** Where Debian's package has it. */
export const chromiumProgram = '/usr/bin/chromium';

/** A page that is open, and all that went on behind it. */
export interface OpenPage {
  readonly page: Page;
  /** What the console said and what was thrown; empty: nothing. */
  readonly complaints: readonly string[];
  /** Every address that was asked for, the page's own first. */
  readonly requests: readonly string[];
  readonly address: string;
}

/** How a page is to be opened, beyond what the browser can be told. */
export interface Opening extends BrowserContextOptions {
  readonly fragment?: string;
}

/**
 * One browser for the tests of a file. Each page is opened from a file, in a context of its own, as
 * somebody would who was sent it by mail.
 */
export function useBrowser(): (html: string, opening?: Opening) => Promise<OpenPage> {
  let browser: Browser | undefined;
  let folder = '';
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'hopgauge-page-'));
    browser = await chromium.launch({ executablePath: chromiumProgram, args: ['--no-sandbox'] });
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true });
  });
  let count = 0;
  return async (html, { fragment, ...options } = {}) => {
    if (browser === undefined) throw new Error('the browser was not started');
    count += 1;
    const file = join(folder, `page-${count}.html`);
    writeFileSync(file, html);
    const context = await browser.newContext({
      viewport: { width: 1280, height: 800 },
      ...options,
    });
    onTestFinished(() => context.close());
    const page = await context.newPage();
    const complaints: string[] = [];
    const requests: string[] = [];
    page.on('console', (message) => complaints.push(`${message.type()}: ${message.text()}`));
    page.on('pageerror', (error) => complaints.push(`thrown: ${error.message}`));
    page.on('request', (request) => requests.push(request.url()));
    const address = pathToFileURL(file).href;
    await page.goto(fragment === undefined ? address : `${address}#${fragment}`);
    return { page, complaints, requests, address };
  };
}
