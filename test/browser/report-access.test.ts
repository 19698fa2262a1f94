import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { htmlReport } from '../../src/report/page/html-report.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { allSites } from '../report/all-sites.ts';
import { middleSmall } from '../report/saltmarsh.ts';
import { sinceLastNight } from '../report/since-last-night.ts';
import { useBrowser } from './chromium.ts';

const open = useBrowser();
const axe = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** Of axe: what it finds fault with, and how many rules it could try. */
interface Looked {
  readonly violations: readonly { readonly id: string; readonly targets: readonly string[] }[];
  readonly passes: number;
}

const look = `axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'best-practice'] })
  .then(({ violations, passes }) => ({
    violations: violations.map(({ id, nodes }) => ({
      id, targets: nodes.map(({ target, failureSummary }) => target.join(' ') + ': ' + failureSummary),
    })),
    passes: passes.length,
  }))`;

describe('axe finds nothing', () => {
  const ways = [
    ['in light', { colorScheme: 'light' }],
    ['in the dark', { colorScheme: 'dark' }],
    ['at 320 px', { viewport: { width: 320, height: 800 } }],
  ] as const;
  const sites = { ...allSites, nothingFound: { ...middleSmall, judgement: withoutFindings() } };
  for (const [name, result] of Object.entries(sites)) {
    // Every look of the site with most to show; of the others one.
    for (const [way, options] of name === 'sinceLastNight' ? ways : ways.slice(0, 1)) {
      it(`on the page of ${name}, ${way}, with all of it open`, async () => {
        // The policy of the page keeps axe out as it keeps out everything.
        const { page } = await open(htmlReport(result), { ...options, bypassCSP: true });
        await page.evaluate("document.querySelectorAll('details').forEach((d) => (d.open = true))");
        const first = page.locator('table[data-facts] button').first();
        if ((await first.count()) > 0) {
          await first.click();
          await page.locator('table.evidence caption').last().waitFor();
        }
        await page.addScriptTag({ path: axe });
        const { violations, passes }: Looked = await page.evaluate(look);
        expect(violations).toEqual([]);
        expect(passes).toBeGreaterThan(20);
      });
    }
  }

  it('where there is nothing to find only: it tells a fault', async () => {
    const faulty = htmlReport(sinceLastNight).replace('<html lang="en">', '<html>');
    const { page } = await open(faulty, { bypassCSP: true });
    await page.addScriptTag({ path: axe });
    const { violations }: Looked = await page.evaluate(look);
    expect(violations.map(({ id }) => id)).toEqual(['html-has-lang']);
  });
});

function withoutFindings(): AuditResult['judgement'] {
  return { ...middleSmall.judgement, findings: [] };
}
