import { describe, expect, it } from 'vitest';
import { clearanceDrawing } from '../../../src/report/page/clearance-drawing.ts';
import { hop, path } from '../samples.ts';

const ten = { speed: 10_000, duplex: 'full' };
const hops = [
  hop({ port: 'plot-1:desk', least: 9000, most: 9000, ...ten, distance: 0 }),
  hop({ port: 'quay-sw:xg2', least: 1500, most: 1500, ...ten, distance: 1 }),
  hop({ port: 'loft-sw:xg1', least: 9194, most: 9216, ...ten, distance: 2 }),
  hop({ port: '"><script>x</script>', distance: 3 }),
];
const drawn = clearanceDrawing(path('plotting', hops, { declaredMtuBytes: 9000 }), 'p1').text;

describe('a path as a clearance profile', () => {
  it('keeps to its elements whatever a port is called', () => {
    const opened = [...drawn.matchAll(/<([a-z]+)[ >]/g)].map(([, name]) => name ?? '');
    expect(new Set(opened)).toEqual(
      new Set(['svg', 'title', 'desc', 'line', 'g', 'rect', 'text', 'path']),
    );
    expect(drawn).not.toContain('<script');
    expect(drawn).toContain('&lt;script&gt;');
  });

  it('has every number of the path in it, to be read back', () => {
    const read = drawn.matchAll(/data-at-least="(\d*)" data-at-most="(\d*)"/g);
    expect([...read].map(([, least, most]) => [least, most])).toEqual([
      ['9000', '9000'],
      ['1500', '1500'],
      ['9194', '9216'],
      ['', ''],
    ]);
  });

  it('marks and names what strikes, and draws unread as unread', () => {
    expect(drawn.match(/strikes here/g)).toHaveLength(1);
    expect(drawn).toMatch(/class="hop too-small" data-port="quay-sw:xg2"/);
    expect(drawn.match(/class="unread"/g)).toHaveLength(1);
    expect(drawn.match(/class="certain"/g)).toHaveLength(1);
  });

  it('says all of it in words', () => {
    expect(drawn).toContain('quay-sw:xg2 1500 bytes, too small');
    expect(drawn).toContain('declared packet 9000 bytes; plot-1:desk 9000 bytes');
  });
});
