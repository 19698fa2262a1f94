import { describe, expect, it } from 'vitest';
import { htmlReport } from '../../src/report/page/html-report.ts';
import { sayingEverywhere } from '../report/saying-everywhere.ts';
import { useBrowser } from './chromium.ts';

const open = useBrowser();

const names = [
  '<script>document.title = "taken"</script>',
  '"><img src=x onerror="document.title = \'taken\'">',
  "'><svg onload=alert(1)>",
  '</title></style></script></textarea><b id=forged>',
  ']]> --> &lt;b&gt; &#60;b&#62;',
  'javascript:alert(1)',
  'quay\u202ews-\u2066sw\u2069\u200b\ufeff',
  '\u0000\u001b[2J\u0085\u2028\ud800',
  `{"a":1}\t=1\t?2`,
  'x'.repeat(10_000),
  '<b>'.repeat(3334),
];

/** Elements that the page never has, and whatever a name would have brought in. */
const strangers =
  'img, iframe, object, embed, form, link, #forged, main b:not(.mark), [onload], [onerror], script[src], a:not([href^="#"])';

describe('hostile names', () => {
  for (const name of names) {
    it(`stay text: ${JSON.stringify(name.slice(0, 50))}`, async () => {
      const opened = await open(htmlReport(sayingEverywhere(name)));
      const { page } = opened;
      await page.evaluate("document.querySelectorAll('details').forEach((d) => (d.open = true))");
      for (const button of await page.locator('[data-facts] button').all()) {
        if (await button.isVisible()) await button.click();
      }
      expect(await page.locator(strangers).count()).toBe(0);
      expect(await page.locator('script').count()).toBe(2);
      expect(await page.title()).not.toBe('taken');
      expect(opened.complaints).toEqual([]);
      expect(opened.requests).toEqual([opened.address]);
      const unsafe = await page.evaluate(
        String.raw`/[\u0000-\u0008\u000b-\u001f\u0080-\u009f\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]/.test(document.documentElement.textContent)`,
      );
      expect(unsafe).toBe(false);
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      const heading = await page.locator('h1').textContent();
      expect(heading?.slice(0, 9)).toBe(readable(name).slice(0, 9));
    });
  }
});

/** What may be shown of a name: what moves or hides is a blank. */
function readable(name: string): string {
  const kept = name.replace(/[^\u0021-\u007e]+/g, ' ');
  return kept.trim();
}
