import { mkdir } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';

// Takes pictures of a page as people meet it: light, dark, 320 pixels wide, and printed.
// `tsx test/tools/page-shots.ts FILE.html FOLDER` leaves FOLDER/FILE-{light,dark,narrow,print}.png
// and FILE-print.pdf there, and says what the console of the browser had to say.

interface Shot {
  readonly name: string;
  readonly width: number;
  readonly scheme: 'light' | 'dark';
  readonly media: 'screen' | 'print';
}

/** A4 upright at 96 pixels to the inch, less margins of 15 mm. */
const paperWidth = 680;

const shots: readonly Shot[] = [
  { name: 'light', width: 1280, scheme: 'light', media: 'screen' },
  { name: 'dark', width: 1280, scheme: 'dark', media: 'screen' },
  { name: 'narrow', width: 320, scheme: 'light', media: 'screen' },
  { name: 'print', width: paperWidth, scheme: 'light', media: 'print' },
];

const [file, folder] = process.argv.slice(2);
if (file === undefined || folder === undefined)
  throw new Error('usage: tsx test/tools/page-shots.ts FILE.html FOLDER');
await mkdir(folder, { recursive: true });
const stem = join(folder, basename(file, '.html'));
const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
try {
  for (const shot of shots) await take(browser, shot);
} finally {
  await browser.close();
}

async function take(on: Browser, { name, width, scheme, media }: Shot): Promise<void> {
  const context = await on.newContext({
    viewport: { width, height: 900 },
    colorScheme: scheme,
    offline: true,
  });
  const page = await context.newPage();
  page.on('console', (message) => console.error(`${name}: console: ${message.text()}`));
  page.on('pageerror', (error) => console.error(`${name}: error: ${error.message}`));
  await page.emulateMedia({ media, colorScheme: scheme });
  await page.goto(pathToFileURL(resolve(file ?? '')).href);
  await warnOfOverflow(page, name);
  await page.screenshot({ path: `${stem}-${name}.png`, fullPage: true });
  if (media === 'print') {
    const margin = '15mm';
    const margins = { top: margin, bottom: margin, left: margin, right: margin };
    await page.pdf({ path: `${stem}-print.pdf`, format: 'A4', margin: margins });
  }
  await context.close();
  console.log(`${stem}-${name}.png`);
}

/** A page that scrolls sideways as a whole is hard to read on a telephone (WCAG 2.1, 1.4.10). */
async function warnOfOverflow(page: Page, name: string): Promise<void> {
  const wide: unknown = await page.evaluate(
    '(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth)(document.documentElement)',
  );
  if (typeof wide !== 'number' || wide > 0)
    console.error(`${name}: the page is ${String(wide)} pixels wider than its window`);
}
