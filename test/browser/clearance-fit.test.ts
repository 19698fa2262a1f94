import { describe, expect, it } from 'vitest';
import { linkFinder } from '../../src/report/link-rating.ts';
import { clearanceDrawing } from '../../src/report/page/profile/clearance-drawing.ts';
import { clearanceStyle } from '../../src/report/page/profile/clearance-style.ts';
import { clearanceTable } from '../../src/report/page/profile/clearance-table.ts';
import { allSites } from '../report/all-sites.ts';
import { profileSites } from '../report/page/profile/profile-sites.ts';
import { useBrowser } from './chromium.ts';

// In a real browser: that what is written fits where it is written, on wide and on narrow screens.

const policy = "default-src 'none'; style-src 'unsafe-inline'";
const body = [...Object.values(profileSites), ...Object.values(allSites).map(({ site }) => site)]
  .flatMap((site) => site.paths.map((path) => ({ path, linkOf: linkFinder(site) })))
  .map(
    ({ path, linkOf }, at) =>
      `${clearanceDrawing(path, `p${at}`, linkOf).text}${clearanceTable(path, linkOf).text}`,
  )
  .join('');
const html = `<!doctype html><html lang="en"><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${policy}"><title>t</title><style>body{margin:0 16px}${clearanceStyle}</style><main>${body}</main></html>`;

/** Texts of hops that are wider than a hop, and texts beyond the edges of their drawing. */
const misfits = `[...document.querySelectorAll('.profile svg')].flatMap((svg) => {
  const room = svg.viewBox.baseVal;
  return [...svg.querySelectorAll('text')].flatMap((text) => {
    const box = text.getBBox();
    const wide = text.closest('.hop') && box.width > 96;
    const beyond = box.x < -1 || box.x + box.width > room.width + 1 || box.y + box.height > room.height + 2;
    return wide || beyond ? [text.textContent + ' ' + Math.round(box.width)] : [];
  });
})`;
const tooWide = `document.documentElement.scrollWidth - document.documentElement.clientWidth`;
const counted = `document.querySelectorAll('.hop').length`;

const open = useBrowser();

describe('clearance drawings in Chromium', () => {
  it.each([1280, 320])('fit a window %i pixels wide, and ask for nothing', async (width) => {
    const { page, complaints, requests, address } = await open(html, {
      viewport: { width, height: 900 },
    });
    expect(await page.evaluate(counted)).toBeGreaterThan(100);
    expect(await page.evaluate(misfits)).toEqual([]);
    expect(await page.evaluate(tooWide)).toBe(0);
    expect([complaints, requests]).toEqual([[], [address]]);
  });

  it('can be scrolled by the keyboard where they are wider than the window', async () => {
    const { page } = await open(html, { viewport: { width: 320, height: 900 } });
    const names: unknown = await page.evaluate(
      `[...document.querySelectorAll('.profile,.sideways')].filter((e) => e.scrollWidth > e.clientWidth).map((e) => e.tabIndex + ' ' + e.getAttribute('role') + ' ' + (e.getAttribute('aria-label') ?? '').length)`,
    );
    expect(Array.isArray(names) ? names.length : 0).toBeGreaterThan(0);
    for (const name of Array.isArray(names) ? names : []) expect(name).toMatch(/^0 group [1-9]/);
  });
});
