import { describe, expect, it } from 'vitest';
import { faultLine } from '../../src/intent/fault.ts';
import { accessRows } from './fault-rows/access-rows.ts';
import { wholeFileRows, yamlRows } from './fault-rows/file-rows.ts';
import { linkRows, runRows } from './fault-rows/link-rows.ts';
import { nodeRows } from './fault-rows/node-rows.ts';
import { otherRows } from './fault-rows/other-rows.ts';
import { loadFrom } from './load.ts';

const faultRows = [
  ...wholeFileRows,
  ...yamlRows,
  ...accessRows,
  ...nodeRows,
  ...linkRows,
  ...runRows,
  ...otherRows,
];

/** `line:column` of each marker, and the text without them. */
function unmark(marked: string): { readonly text: string; readonly places: readonly string[] } {
  const places: string[] = [];
  let text = '';
  for (const character of marked) {
    const lines = text.split('\n');
    if (character === '«') places.push(`${lines.length}:${(lines.at(-1) ?? '').length + 1}`);
    else text += character;
  }
  return { text, places };
}

describe('a faulty intent file', () => {
  it.each(faultRows)('%s', async (_, marked, ...told) => {
    const { text, places } = unmark(marked);
    const loaded = await loadFrom({ 'site.yaml': text });
    const lines = loaded.ok ? [] : loaded.faults.map(faultLine);
    expect(lines).toEqual(told.map((message, i) => `site.yaml:${places[i]}: ${message}`));
  });

  it('never echoes what may be a secret', () => {
    const secret = faultRows.filter(([, text]) => text.includes('hunter2'));
    expect(secret.length).toBeGreaterThanOrEqual(5);
    for (const [, , ...told] of secret) expect(told.join()).not.toContain('hunter2');
  });
});
