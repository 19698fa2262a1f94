import { Lexer } from 'marked';
import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import type { Confirmation } from '../../src/change/confirmation.ts';
import { confirmMarkdown } from '../../src/report/confirm-markdown.ts';
import { confirmText } from '../../src/report/confirm-text.ts';
import { scene, silent, withPorts } from '../change/confirm-scene.ts';
import { loadShipped } from '../judge/shipped.ts';
import { kindsOf, plain } from './markdown-check.ts';

const policies = await loadShipped('essential', 'jumbo');
const wide = { width: 100, colour: false, least: 'warning' } as const;
const zeros = { rxCrcErrors: 0, carrierChanges: 2 };

/** Something under every label. */
function mixed(): Confirmation {
  return scene({
    policies,
    upTo: 12,
    taken: 13,
    before: withPorts({ 'vault:eth4': zeros, 'gate:em0': { rxCrcErrors: 9 } }),
    after: (survey) =>
      silent('tablet')(
        withPorts({
          'vault:eth4': { rxCrcErrors: 7, carrierChanges: 4 },
          'vault:eth5': { mtuBytes: 1500 },
          'plot-1:en7': { mtuBytes: 1500 },
          'quay-sw:xg8': { mtuBytes: 4000 },
          'quay-sw:xg2': { mtuBytes: undefined },
          'gate:em0': { rxCrcErrors: 0, duplex: 'half' },
        })(survey),
      ),
  });
}

describe('a confirmation as text', () => {
  it('leads with the verdict, and has each thing under its label', () => {
    const text = confirmText(mixed(), wide);
    expect(text).toMatch(
      /^not confirmed: storage to 9000, as far as step 12: 9 of 12 steps done, /,
    );
    const labels = [...text.matchAll(/^(\S[a-z ]{0,10}\S) {1,10}\S/gm)].map(([line]) =>
      line.slice(0, 12).trim(),
    );
    for (const label of [
      'not done',
      'otherwise',
      'cannot tell',
      'ahead',
      'done',
      'to do',
      'not read',
      'less',
      'broken',
      'as foretold',
      'errors',
      'not counted',
      'link down',
      'also moved',
    ])
      expect(labels).toContain(label);
    expect(text).toContain('errors      vault:eth4: rx crc errors 7 more\n');
    expect(text).toContain('not read    tablet: no answer within 10 s\n');
    expect(text.endsWith('let this be mended or taken back before step 13\n')).toBe(true);
  });

  it.each([1, 40, 80, 500])('keeps within a terminal of %i columns', (width) => {
    const lines = confirmText(mixed(), { ...wide, width }).split('\n');
    const most = Math.max(...lines.map((line) => stringWidth(line)));
    expect(most).toBeLessThanOrEqual(Math.min(120, Math.max(40, width)));
  });

  it('says the same with and without colour', () => {
    const plainText = confirmText(mixed(), wide);
    const coloured = confirmText(mixed(), { ...wide, colour: true });
    expect(coloured).not.toBe(plainText);
    const esc = String.fromCharCode(27);
    expect(coloured.replaceAll(new RegExp(`${esc}\\[[0-9;]*m`, 'g'), '')).toBe(plainText);
  });

  it('shows a long list in part, with the count of the rest', () => {
    const many = mixed();
    const moved = Array.from({ length: 25 }, (_, at) => ({
      kind: 'fact' as const,
      node: `plot-${at}`,
      port: 'en7',
      fact: 'duplex',
      was: 'full',
      is: 'half',
      seenAt: many.beforeAt,
    }));
    const text = confirmText({ ...many, moved }, wide);
    expect(text).toContain('plot-19:en7');
    expect(text).not.toContain('plot-20:en7');
    expect(text).toContain('\n            5 more\n');
  });

  it('says of a cord that is still there that it is to be taken away', () => {
    const text = 'links: { "quay-sw:xg8 - loft-sw:xg1": { remove: true } }';
    const after = withPorts({ 'quay-sw:xg8': { operUp: true } });
    expect(confirmText(scene({ text, after }), wide)).toContain(
      '\nnot done    step 1, quay-sw:xg8 still has a link; its cord is to be taken away\n',
    );
    const unread = withPorts({ 'quay-sw:xg8': { operUp: undefined } });
    expect(confirmText(scene({ text, after: unread }), wide)).toContain(
      '\ncannot tell step 1, quay-sw:xg8: whether its cord is taken away: whether quay-sw:xg8 has a link',
    );
  });

  it('tells apart what was never known', () => {
    const [path] = mixed().paths;
    if (path === undefined) throw new Error('no path');
    const { id } = path;
    const unknown = { id, joined: true };
    const paths = [{ ...path, verdict: 'never-known' as const, found: unknown, foretold: unknown }];
    const text = confirmText({ ...scene(), paths }, wide);
    expect(text).toContain('0 of 1 path as foretold, 1 never known');
    expect(text).toContain(`never known ${id}: neither before nor now`);
  });
});

const hostile = [
  '](http://evil.example) <img src=x> `a` # b | c\n## d',
  'FORGED\u001b[2J\u009b2J\u202e\n- done: all',
  '$(reboot); @everyone www.evil.example',
];

/** A confirmation of which every free text is `text`. */
function saying(text: string): Confirmation {
  const kept = /^(verdict|kind|what|severity|setting|rehearsedAt|beforeAt|readAt|seenAt|fact)$/;
  const put = (value: unknown, key: string): unknown => {
    if (typeof value === 'string')
      return kept.test(key) && !value.includes(':', 20) && key !== 'subject' ? value : text;
    if (Array.isArray(value)) return value.map((each) => put(each, key));
    if (value === null || typeof value !== 'object') return value;
    return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, put(v, k)]));
  };
  return { ...(put(mixed(), '') as Confirmation), rehearsedAt: mixed().rehearsedAt };
}

describe('hostile names in a confirmation', () => {
  it.each(hostile)('%j become no markup and move no cursor', (text) => {
    const confirmation = saying(text);
    const odd = kindsOf(new Lexer().lex(confirmMarkdown(confirmation, 'warning'))).filter(
      (kind) => !plain.has(kind),
    );
    // The verdict is ours, and is all that stands out.
    expect(odd).toEqual(['strong']);
    const shown = confirmText(confirmation, wide);
    const control = [...shown].filter((sign) => sign !== '\n' && /\p{Cc}|\p{Cf}/u.test(sign));
    expect(control).toEqual([]);
    const starts = shown.split('\n').filter((line) => /^(## d|- done)/.test(line));
    expect(starts).toEqual([]);
  });
});
