import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { htmlReport } from '../../src/report/page/html-report.ts';
import { sinceLastNight } from '../report/since-last-night.ts';
import { useBrowser } from './chromium.ts';

const open = useBrowser();
const page = htmlReport(sinceLastNight);

/** The rules of the findings that are shown, in their order. */
const rules = (shown: Page): Promise<string[]> =>
  shown.locator('table.findings > tbody > tr:visible > td:nth-child(5)').allTextContents();

describe('the findings', () => {
  const filters = [
    ['severity', 'warning', ['port-errors', 'duplex-full']],
    ['state', 'waived', ['duplex-full']],
    ['state', 'not seen', ['port-errors']],
    ['node', 'vault', ['port-errors']],
    ['rule', 'port-carries-mtu', ['port-carries-mtu']],
    ['life', 'worse', ['port-carries-mtu']],
    ['life', 'new', ['path-clearance']],
  ] as const;
  for (const [by, value, expected] of filters) {
    it(`are ${expected.join(' and ')} where ${by} is ${value}`, async () => {
      const { page: shown } = await open(page);
      await shown.getByRole('search', { name: 'findings' }).getByLabel(by).selectOption(value);
      expect(await rules(shown)).toEqual(expected);
      expect(await shown.getByRole('status').first().textContent()).toBe(
        `${expected.length} of 4 findings`,
      );
      await shown.getByRole('button', { name: 'Show all' }).click();
      expect((await rules(shown)).length).toBe(4);
    });
  }

  it('are found by a word of theirs, also of what is not open', async () => {
    const { page: shown } = await open(page);
    const search = shown.getByRole('search', { name: 'findings' }).getByLabel('search');
    await search.fill('LABEL PRINTER');
    expect(await rules(shown)).toEqual(['duplex-full']);
    await search.fill('nothing says this');
    expect(await rules(shown)).toEqual([]);
    expect(await shown.getByRole('status').first().textContent()).toBe('0 of 4 findings');
  });

  const orders = [
    ['rule', ['duplex-full', 'path-clearance', 'port-carries-mtu', 'port-errors']],
    ['severity', ['path-clearance', 'port-carries-mtu', 'port-errors', 'duplex-full']],
    ['life', ['path-clearance', 'duplex-full', 'port-errors', 'port-carries-mtu']],
  ] as const;
  for (const [by, up] of orders) {
    it(`are sorted by ${by}, up and down, and say so`, async () => {
      const { page: shown } = await open(page);
      const head = shown.getByRole('columnheader', { name: by, exact: true });
      await head.getByRole('button').click();
      expect(await rules(shown)).toEqual(up);
      expect(await head.getAttribute('aria-sort')).toBe('ascending');
      await head.getByRole('button').click();
      expect(await head.getAttribute('aria-sort')).toBe('descending');
      expect((await rules(shown))[0]).toBe(by === 'severity' ? 'port-errors' : up.at(-1));
    });
  }
});

describe('the keyboard', () => {
  it('reaches a finding, opens it, and goes on to what it is about', async () => {
    const { page: shown } = await open(page);
    await shown.keyboard.press('Tab');
    expect(await shown.evaluate('document.activeElement.textContent')).toBe('to the paths');
    await tabUntil(shown, 'details.finding > summary');
    await shown.keyboard.press('Enter');
    expect(await shown.locator('details.finding[open]').count()).toBe(1);
    await tabUntil(shown, 'details.finding[open] a');
    await shown.keyboard.press('Enter');
    expect(await shown.evaluate('location.hash')).toBe('#path-plotting');
    await shown.waitForFunction('document.activeElement.id === "path-plotting"');
  });

  it('opens every fact of a port', async () => {
    const { page: shown } = await open(page);
    await tabUntil(shown, '#node-quay-sw > summary');
    await shown.keyboard.press('Enter');
    await tabUntil(shown, '#port-quay-sw~3axg3 button');
    await shown.keyboard.press('Space');
    const facts = shown.getByRole('table', { name: 'Every fact of quay-sw:xg3' });
    const mtu = facts.getByRole('row', { name: /^MTU / });
    expect(await mtu.textContent()).toMatch(/^MTU1500 bytesIF-MIB ifMtu$/);
    await shown.keyboard.press('Space');
    expect(await facts.isVisible()).toBe(false);
  });

  it('sees where it is', async () => {
    const { page: shown } = await open(page);
    await shown.keyboard.press('Tab');
    const outline = 'getComputedStyle(document.activeElement).outlineStyle';
    expect(await shown.evaluate(outline)).toBe('solid');
  });
});

/** Presses Tab until the focus is on what `selector` names; bounded. */
async function tabUntil(shown: Page, selector: string): Promise<void> {
  for (let press = 0; press < 80; press += 1) {
    await shown.keyboard.press('Tab');
    const there = `document.activeElement.matches(${JSON.stringify(selector.replaceAll('~', '\\~'))})`;
    if (await shown.evaluate(there)) return;
  }
  throw new Error(`the keyboard does not reach ${selector}`);
}

describe('a fragment', () => {
  const rows = [
    ['finding-2a0c2d3e4b', 'details#finding-2a0c2d3e4b[open]'],
    ['node-vault', 'details#node-vault[open]'],
    ['path-plotting', '#path-plotting'],
    ['port-quay-sw~3axg3', '#node-quay-sw[open] #port-quay-sw\\~3axg3 + tr table'],
  ] as const;
  for (const [fragment, selector] of rows) {
    for (const how of ['at first', 'later'] as const) {
      it(`${fragment} opens what it names, ${how}, and gives it the focus`, async () => {
        const { page: shown } = await open(page, how === 'at first' ? { fragment } : {});
        if (how === 'later') await shown.evaluate(`location.hash = '#${fragment}'`);
        await shown.locator(selector).waitFor({ state: 'visible' });
        await shown.waitForFunction(
          `document.getElementById('${fragment}').contains(document.activeElement)`,
        );
        const top = `document.getElementById('${fragment}').getBoundingClientRect().top`;
        expect(await shown.evaluate(`${top} >= 0 && ${top} < innerHeight`)).toBe(true);
      });
    }
  }

  it('shows a finding that is filtered out', async () => {
    const { page: shown } = await open(page);
    const filter = shown.getByRole('search', { name: 'findings' });
    await filter.getByLabel('state').selectOption('waived');
    await shown.locator('#paths a[href="#finding-1f0c2d3e4b"]').click();
    await shown.locator('#finding-1f0c2d3e4b[open]').waitFor({ state: 'visible' });
    expect(await filter.getByLabel('state').inputValue()).toBe('');
  });

  it('that names nothing is no trouble', async () => {
    const opened = await open(page, { fragment: 'finding-%00"><b>' });
    expect(opened.complaints).toEqual([]);
  });
});

describe('the search for ports', () => {
  it('opens the nodes that have what is looked for, and hides the others', async () => {
    const { page: shown } = await open(page);
    await shown.getByRole('search', { name: 'ports' }).getByLabel('search ports').fill('xg3');
    expect(await shown.locator('#ports-count').textContent()).toBe('1 port');
    expect(await shown.locator('#port-quay-sw\\~3axg3').isVisible()).toBe(true);
    expect(await shown.locator('#port-quay-sw\\~3axg2').isVisible()).toBe(false);
    expect(await shown.locator('#node-vault').isVisible()).toBe(false);
    await shown.evaluate(`location.hash = '#port-vault~3aeth4'`);
    await shown.locator('#port-vault\\~3aeth4').waitFor({ state: 'visible' });
  });
});
