import { describe, expect, it } from 'vitest';
import { type ReportForm, reportForms } from '../../src/report/forms.ts';
import { redactResult } from '../../src/report/redact.ts';
import { writeForm } from '../../src/report/write-form.ts';
import { allSites } from './all-sites.ts';
import { expectGolden } from './golden.ts';
import { sinceLastNight } from './since-last-night.ts';
import { whole } from './whole.ts';

const look = { width: 80, colour: false, verbose: false, all: true };
const endings: Readonly<Record<Exclude<ReportForm, 'text' | 'html'>, string>> = {
  json: 'json',
  jsonl: 'jsonl',
  markdown: 'md',
  csv: 'csv',
  junit: 'junit.xml',
  sarif: 'sarif',
  openmetrics: 'openmetrics',
};

describe('every form', () => {
  for (const [name, result] of Object.entries(allSites)) {
    for (const form of reportForms) {
      // The page is held by test/report/page and test/browser: its looks change more than its words.
      if (form === 'text' || form === 'html' || (form === 'json' && name !== 'sinceLastNight'))
        continue;
      it(`says ${name} as ${form} as it is written down`, () => {
        expectGolden(`${name}.${endings[form]}`, whole(writeForm(form, result, look)));
      });
    }
  }

  it('is text where text is asked for, and what moved where that is', () => {
    expect(whole(writeForm('text', sinceLastNight, look))).toContain('plot-1 to vault');
    const told = whole(writeForm('text', sinceLastNight, { ...look, all: false }));
    expect(told).toContain('Cleared\n');
    expect(told).not.toContain('plot-1 to vault');
  });

  const telling = ['vault', 'quay-sw', 'plot-1', 'Saltmarsh', 'old-desk', 'cellar-box'];
  for (const form of reportForms) {
    it(`names nobody as ${form} with --redact`, () => {
      const shown = { ...look, verbose: true };
      const open = [true, false].map((each) =>
        whole(writeForm(form, sinceLastNight, { ...shown, all: each })),
      );
      const redacted = redactResult(sinceLastNight);
      const hidden = [true, false].map((each) =>
        whole(writeForm(form, redacted, { ...shown, all: each })),
      );
      expect(open.join()).toContain('quay-sw');
      for (const text of hidden) expect(telling.filter((each) => text.includes(each))).toEqual([]);
    });
  }
});
