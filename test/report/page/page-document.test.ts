import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { markup } from '../../../src/report/page/markup.ts';
import { pageDocument } from '../../../src/report/page/page-document.ts';

describe('the document of a page', () => {
  const text = pageDocument({
    title: 'A <b> & B',
    styles: ['a{color:red}', 'b{color:blue}'],
    script: "'use strict';",
    body: markup`<p>hello</p>`,
  });

  // CSP Level 3, 2.3.1: the digest is of the text between the tags.
  for (const [tag, directive] of [
    ['style', 'style-src'],
    ['script', 'script-src'],
  ]) {
    it(`lets in its own ${tag} by its digest, and no other`, () => {
      const [, inside = ''] = new RegExp(`<${tag}>([^<]*)</${tag}>`).exec(text) ?? [];
      expect(inside).not.toBe('');
      const digest = createHash('sha256').update(inside).digest('base64');
      expect(text).toContain(`${directive} &#39;sha256-${digest}&#39;;`);
    });
  }

  it('lets in nothing else, and says so before anything could be loaded', () => {
    const [, policy = ''] = /Content-Security-Policy" content="([^"]*)"/.exec(text) ?? [];
    expect(policy.replaceAll('&#39;', "'").replace(/sha256-[^']*/g, 'x')).toBe(
      "default-src 'none'; style-src 'x'; script-src 'x'; base-uri 'none'; form-action 'none'",
    );
    expect(text.indexOf('Content-Security-Policy')).toBeLessThan(text.indexOf('<style'));
  });

  it('has its title as text', () => {
    expect(text).toContain('<title>A &lt;b&gt; &amp; B</title>');
  });
});
