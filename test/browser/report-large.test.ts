import { describe, expect, it } from 'vitest';
import { findingFragment, linkFragment, pathFragment } from '../../src/report/page/fragments.ts';
import { htmlReport } from '../../src/report/page/html-report.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { middleSmall } from '../report/saltmarsh.ts';
import { sample } from '../report/samples.ts';
import { useBrowser } from './chromium.ts';

const open = useBrowser();

const [worst] = middleSmall.site.paths;
const [broken] = middleSmall.judgement.findings;
if (worst === undefined || broken === undefined) throw new Error('the sample has both');

const linkOf = (at: number) => `sw-${at}:up - core-sw:p${at}`;
const idOf = (at: number) => `${at}`.padStart(10, '0');

/** More of everything than the page shows openly. */
const large: AuditResult = sample({
  nodes: [{ name: 'quay-sw', role: 'switch' }],
  paths: Array.from({ length: 40 }, (_, at) => ({
    ...worst,
    id: `way-${at}`,
    declared: { ...worst.declared, name: `way-${at}` },
  })),
  links: Array.from({ length: 500 }, (_, at) => ({ id: linkOf(at) })),
  findings: Array.from({ length: 300 }, (_, at) => ({
    ...broken,
    id: idOf(at),
    subject: { kind: 'link', id: linkOf(at) },
    cause: `link ${linkOf(at)}`,
    what: `${linkOf(at)}: the cord is too long`,
    advice: `shorten cord ${at}`,
  })),
});
const page = htmlReport(large);

describe('a large page', () => {
  it('keeps the details of most for later', async () => {
    const { page: shown } = await open(page);
    expect(await shown.locator('#paths .clearance').count()).toBe(24);
    expect(await shown.locator('table.findings > tbody > tr').count()).toBe(300);
    expect(await shown.locator('#links tr').count()).toBe(0);
    expect(page).not.toContain('shorten cord 299');
  });

  const rows = [
    ['a finding', findingFragment(idOf(299)), 'shorten cord 299'],
    ['a path', pathFragment('way-39'), 'only 1500 of the declared 9000 bytes pass'],
    ['a link', linkFragment(linkOf(499)), 'sw-499:up - core-sw:p499'],
  ] as const;
  for (const [name, fragment, words] of rows) {
    it(`shows ${name} that was kept for later once a fragment names it`, async () => {
      const opened = await open(page, { fragment });
      const target = opened.page.locator(`[id="${fragment}"]`);
      await target.getByText(words).first().waitFor({ state: 'visible' });
      await opened.page.waitForFunction(
        `document.getElementById(${JSON.stringify(fragment)}).contains(document.activeElement)`,
      );
      expect(opened.complaints).toEqual([]);
    });
  }

  it('finds a finding of which the details are kept for later by its title', async () => {
    const { page: shown } = await open(page);
    await shown.getByRole('search', { name: 'findings' }).getByLabel('search').fill('sw-299:up');
    expect(await shown.locator('#findings-count').textContent()).toBe('1 of 300 findings');
  });

  it('says without script where what is kept for later can be read', async () => {
    const { page: shown } = await open(page, { javaScriptEnabled: false });
    const last = shown.locator('details.finding').last();
    await last.locator('summary').click();
    expect(await last.textContent()).toContain('without it, see hopgauge audit --verbose');
  });
});
