import { describe, expect, it } from 'vitest';
import { parseJson } from '../../src/facts/json.ts';
import { jsonReport } from '../../src/report/json-report.ts';
import { pathFragment } from '../../src/report/page/fragments.ts';
import { htmlReport } from '../../src/report/page/html-report.ts';
import { pagePast } from '../../src/report/page/past/page-past.ts';
import { reportSchema } from '../../src/report/report-schema.ts';
import { allSites } from '../report/all-sites.ts';
import { changedAt, pastOf } from '../report/page/past/past-sketch.ts';
import { sinceLastNight } from '../report/since-last-night.ts';
import { whole } from '../report/whole.ts';
import { useBrowser } from './chromium.ts';

/** An element of a drawing, as far as a test looks at it. */
interface Drawn {
  readonly dataset: Readonly<Record<string, string>>;
}

interface BrokenWords {
  readonly broken: readonly string[];
  readonly looked: number;
}

/** Words of the cells beside a finding that go on in another line, and how many were looked at. */
const brokenWords = `(() => {
  const cells = document.querySelectorAll('table.findings > * > tr > :not([role=rowheader])');
  let looked = 0;
  const broken = [];
  for (const cell of cells) {
    const texts = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
      for (const { index, 0: word } of texts.currentNode.data.matchAll(/[^\\s-]+/g)) {
        const range = document.createRange();
        range.setStart(texts.currentNode, index);
        range.setEnd(texts.currentNode, index + word.length);
        looked += 1;
        if (new Set([...range.getClientRects()].map(({ top }) => top)).size > 1) broken.push(word);
      }
    }
  }
  return { looked, broken };
})()`;

const open = useBrowser();
const page = htmlReport(sinceLastNight);

describe('the page in a browser', () => {
  for (const [name, result] of Object.entries(allSites)) {
    it(`shows ${name} without a complaint, and asks for nothing but its own file`, async () => {
      const opened = await open(htmlReport(result));
      const paths = opened.page.locator('#paths .clearance');
      expect(await paths.count()).toBe(result.site.paths.length);
      await opened.page.evaluate(
        "document.querySelectorAll('details').forEach((d) => (d.open = true))",
      );
      for (const button of await opened.page.locator('[data-facts] button').all()) {
        await button.click();
      }
      expect(opened.complaints).toEqual([]);
      expect(opened.requests).toEqual([opened.address]);
    });

    it(`draws of ${name} the numbers that JSON has`, async () => {
      const { paths } = reportSchema.parse(parseJson(whole(jsonReport(result))));
      const opened = await open(htmlReport(result));
      for (const path of paths) {
        const drawing = opened.page.locator(`[id="${pathFragment(path.id)}"]`);
        const drawn = await drawing
          .locator('[data-port]')
          .evaluateAll((all: readonly Drawn[]) =>
            all.map(({ dataset: { port, atLeast = '', atMost = '' } }) => [port, atLeast, atMost]),
          );
        const said = path.hops.map(({ port, atLeastBytes, atMostBytes }) => [
          port,
          String(atLeastBytes ?? ''),
          String(atMostBytes ?? ''),
        ]);
        // The order on the drawing is its own affair.
        expect(drawn.map(String).sort()).toEqual(said.map(String).sort());
        const load = drawing.locator('[data-declared]').first();
        expect(await load.getAttribute('data-declared')).toBe(
          String(path.facts['declaredMtuBytes']),
        );
      }
    });
  }

  it('shows its paths before anything else, without a movement of the page', async () => {
    const { page: shown } = await open(page);
    const box = await shown.locator('#paths .clearance').first().boundingBox();
    expect(box?.y).toBeLessThan(600);
  });

  for (const width of [320, 768, 1920]) {
    it(`fits ${width} px without being moved sideways`, async () => {
      const { page: shown } = await open(page, { viewport: { width, height: 800 } });
      for (const summary of await shown.locator('details.finding > summary').all()) {
        await summary.click();
      }
      expect(await shown.evaluate('document.documentElement.scrollWidth')).toBe(width);
    });
  }

  for (const width of [705, 960, 1000, 1280]) {
    it(`breaks no word of the findings at ${width} px, nor of their history`, async () => {
      const { page: shown } = await open(page, { viewport: { width, height: 800 } });
      const { looked, broken } = (await shown.evaluate(brokenWords)) as BrokenWords;
      expect(broken).toEqual([]);
      expect(looked).toBeGreaterThan(40);
    });
  }

  it('begins with tonight where a course is wider than the window', async () => {
    const nights = pastOf([20, 21, 22, 23], { changes: [changedAt(21, 9216, 1500)] });
    const html = htmlReport({ ...sinceLastNight, past: pagePast(nights, () => undefined) });
    const { page: shown } = await open(html, { viewport: { width: 320, height: 800 } });
    const ends = `[...document.querySelectorAll('.past-chart:has(>svg)')].map((chart) => {
      const [outer, inner] = [chart, chart.querySelector('svg')].map((one) => one.getBoundingClientRect());
      return [outer.width < inner.width, Math.round(outer.right - inner.right)];
    })`;
    const charts = (await shown.evaluate(ends)) as readonly unknown[];
    expect(charts.length).toBeGreaterThan(0);
    for (const chart of charts) expect(chart).toEqual([true, 0]);
  });

  it('has other colours in the dark', async () => {
    const paper = 'getComputedStyle(document.body).backgroundColor';
    const light = await open(page, { colorScheme: 'light' });
    const dark = await open(page, { colorScheme: 'dark' });
    expect(await light.page.evaluate(paper)).toBe('rgb(252, 251, 247)');
    expect(await dark.page.evaluate(paper)).toBe('rgb(20, 25, 31)');
  });

  it('opens every finding on paper, and hides what paper cannot do', async () => {
    const { page: shown } = await open(page);
    await shown.emulateMedia({ media: 'print' });
    const advice = shown.locator('details.finding:not([open]) dl').first();
    expect(await advice.isVisible()).toBe(true);
    expect(await shown.locator('#findings-filter').isVisible()).toBe(false);
    const pdf = await shown.pdf();
    expect(pdf.length).toBeGreaterThan(10_000);
  });

  it('says all that matters without script', async () => {
    const { page: shown } = await open(page, { javaScriptEnabled: false });
    expect(await shown.locator('#paths .clearance').count()).toBe(1);
    await shown.locator('details.finding > summary').first().click();
    const advice = shown.getByText('raise quay-sw:xg3, switches before hosts').first();
    expect(await advice.isVisible()).toBe(true);
    await shown.locator('#node-quay-sw > summary').click();
    expect(await shown.locator('#port-quay-sw\\~3axg3').textContent()).toMatch(/xg3.*1500/s);
    expect(await shown.locator('#findings-filter').isVisible()).toBe(false);
  });
});
