import { describe, expect, it } from 'vitest';
import { bullets, codeBlock, plainMarkdown } from '../../src/report/markdown.ts';

// Source: CommonMark 0.31, sections 2.4 (backslash escapes) and 4.5 (fenced code blocks).
describe('plainMarkdown', () => {
  it.each([
    ['plain words stay', 'vault:eth4 (bond), 10 Gb/s - up!', 'vault:eth4 (bond), 10 Gb/s - up!'],
    ['a link', '[x](y)', '\\[x\\](y)'],
    ['HTML', '<b>&amp;', '\\<b\\>\\&amp;'],
    ['code and emphasis', '`a` *b* _c_ ~d~', '\\`a\\` \\*b\\* \\_c\\_ \\~d\\~'],
    ['a table cell', 'a|b', 'a\\|b'],
    ['a bare link', 'see http://x.example', 'see http\\://x.example'],
    ['a bare host', 'see www.x.example', 'see www\\.x.example'],
    ['a mention', '@all', '\\@all'],
    ['a backslash', 'a\\b', 'a\\\\b'],
    ['a heading', '# a', '\\# a'],
    ['a list', '- a', '\\- a'],
    ['a numbered list', '1. a', '1\\. a'],
    ['a rule', '---', '\\---'],
    ['two lines', 'a\n\n# b', 'a \\# b'],
  ])('%s', (_name, text, markdown) => {
    expect(plainMarkdown(text)).toBe(markdown);
  });
});

describe('codeBlock', () => {
  it('keeps the blanks of each line', () => {
    expect(codeBlock(['network:', '  eth4:'])).toEqual(['```', 'network:', '  eth4:', '```']);
  });

  it('cannot be closed from inside', () => {
    expect(codeBlock(['````', 'a\n```'])).toEqual(['`````', '````', 'a ```', '`````']);
  });
});

describe('bullets', () => {
  it('escape each item', () => {
    expect(bullets(['a', '- b'])).toEqual(['- a', '- \\- b']);
  });
});
