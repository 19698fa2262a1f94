import { describe, expect, it } from 'vitest';
import { linkFinder } from '../../../../src/report/link-rating.ts';
import { clearanceDrawing } from '../../../../src/report/page/profile/clearance-drawing.ts';
import { clearanceTable } from '../../../../src/report/page/profile/clearance-table.ts';
import { profileSites } from './profile-sites.ts';

/** Rows as the texts of their cells. */
function rowsOf(name: keyof typeof profileSites): string[][] {
  const site = profileSites[name];
  const [path] = site.paths;
  if (path === undefined) throw new Error(`${name} has no path`);
  const { text } = clearanceTable(path, linkFinder(site));
  return [...text.matchAll(/<tr>(.*?)<\/tr>/g)].map(([, row = '']) =>
    [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/g)].map(([, cell]) => cell ?? ''),
  );
}

const run =
  'cord cat6a 2 m, jack W-07, wall cat6a 21 m, panel B/12, cord cat6 2 m, module 10GBASE-T, in all 25 m';

describe('the table of a path', () => {
  it('says what the drawing shows', () => {
    expect(rowsOf('strike')).toEqual([
      ['hop', 'passes, bytes', 'state', 'speed', 'meant to be', 'duplex', 'what follows'],
      ['plot-1:desk', '9000', 'in use now', '10 Gb/s', '10 Gb/s', 'full', `then ${run} to quay-sw`],
      ['quay-sw:xg2', '9216', '', '10 Gb/s', '10 Gb/s', 'full', ''],
      [
        'quay-sw:xg3',
        '1500',
        'too small, narrowest',
        '10 Gb/s',
        '10 Gb/s',
        'full',
        `then ${run} to vault`,
      ],
      ['vault:eth4', '9000', 'in use now', '10 Gb/s', '10 Gb/s', 'full', ''],
    ]);
  });

  it('says not known, and why', () => {
    expect(rowsOf('unread')[3]?.slice(0, 4)).toEqual([
      'quay-sw:xg3',
      'not known',
      'not known: denied, noAccess: the view of this user leaves the table out',
      'not known',
    ]);
    expect(rowsOf('nothing')[1]?.slice(0, 3)).toEqual(['plot-1', 'not known', 'no port known']);
    expect(rowsOf('down')[1]?.slice(3, 5)).toEqual(['link down', '10 Gb/s']);
    expect(rowsOf('range')[2]?.slice(1, 3)).toEqual(['8988 to 9010', 'not settled']);
    expect(rowsOf('onWord')[2]?.slice(1, 3)).toEqual(['(9198)', 'on your word']);
  });

  it('heads each way beside the first', () => {
    const heads = rowsOf('blocked').filter((row) => row.length === 1);
    expect(heads).toEqual([['or, another way:']]);
    expect(rowsOf('aggregate').filter((row) => row.length === 1)).toEqual([
      ['and beside it, in the aggregate vault-up:'],
    ]);
  });

  it.each(Object.entries(profileSites))('has a row for each hop of the drawing: %s', (_, site) => {
    for (const path of site.paths) {
      const drawn = clearanceDrawing(path, 'p', linkFinder(site)).text;
      const ports = [...drawn.matchAll(/data-port="([^"]*)"/g)].map(([, port]) => port);
      const table = clearanceTable(path, linkFinder(site)).text;
      const named = [...table.matchAll(/<th scope="row">([^<]*)</g)].map(([, port]) => port);
      expect(named.filter((name) => name?.includes(':')).sort()).toEqual(ports.sort());
    }
  });
});
