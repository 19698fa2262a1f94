import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { markup } from '../../../src/report/page/markup.ts';

describe('markup', () => {
  it('takes text as text, and markup as it is', () => {
    const name = '"><script>alert(1)</script>';
    expect(markup`<b title="${name}">${name}</b>`.text).toBe(
      '<b title="&quot;&gt;&lt;script&gt;alert(1)&lt;/script&gt;">&quot;&gt;&lt;script&gt;alert(1)&lt;/script&gt;</b>',
    );
    expect(
      markup`<ul>${[1, 'a&b'].map((each) => markup`<li>${each}</li>`)}${undefined}</ul>`.text,
    ).toBe('<ul><li>1</li><li>a&amp;b</li></ul>');
  });

  it('lets no text of a device end an attribute, begin an element, or turn a line', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        const { text: made } = markup`${text}`;
        expect(made).not.toMatch(/[<>"']/);
        expect(made).not.toMatch(/[\u0000-\u001f\u202a-\u202e\u2066-\u2069]/);
        expect(made.replaceAll(/&(amp|lt|gt|quot|#39);/g, '')).not.toContain('&');
      }),
    );
  });
});
