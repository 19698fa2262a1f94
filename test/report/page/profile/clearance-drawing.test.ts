import { describe, expect, it } from 'vitest';
import { linkFinder } from '../../../../src/report/link-rating.ts';
import { clearanceDrawing } from '../../../../src/report/page/profile/clearance-drawing.ts';
import { clearanceStyle } from '../../../../src/report/page/profile/clearance-style.ts';
import { allSites } from '../../all-sites.ts';
import { hop, path } from '../../samples.ts';
import { profileSites } from './profile-sites.ts';

const ten = { speed: 10_000, duplex: 'full' };
const hops = [
  hop({ port: 'plot-1:desk', least: 9000, most: 9000, ...ten, distance: 0 }),
  hop({ port: 'quay-sw:xg2', least: 1500, most: 1500, ...ten, distance: 1, narrowest: true }),
  hop({ port: 'loft-sw:xg1', least: 9194, most: 9216, ...ten, distance: 2 }),
  hop({ port: '"><script>x</script>', distance: 3 }),
];
const odd = path('plotting', hops, { declaredMtuBytes: 9000 });
const drawn = clearanceDrawing(odd, 'p1', () => undefined).text;

function draw(name: keyof typeof profileSites): string {
  const site = profileSites[name];
  const [first] = site.paths;
  if (first === undefined) throw new Error(`${name} has no path`);
  return clearanceDrawing(first, 'p', linkFinder(site)).text;
}

/** The words of all text elements and their classes, in drawing order. */
function wordsIn(svg: string): string[] {
  return [...svg.matchAll(/<(?:text|tspan)[^>]*>([^<]+)</g)].map(([, words]) => words ?? '');
}

function hopOf(svg: string, port: string): string {
  const found = svg.split('<g class="hop').find((part) => part.includes(`data-port="${port}"`));
  if (found === undefined) throw new Error(`no hop ${port} is drawn`);
  return found.split(/<text class="packet"|<g class="(?:node|run|edge|bar)|<\/svg>/)[0] ?? '';
}

const everySite = [
  ...Object.entries(profileSites),
  ...Object.entries(allSites).map(([name, { site }]) => [name, site] as const),
];

describe('a path as a clearance profile', () => {
  it('keeps to its elements whatever a port is called', () => {
    const opened = [...drawn.matchAll(/<([a-z]+)[ >]/g)].map(([, name]) => name ?? '');
    expect(new Set(opened)).toEqual(
      new Set(
        ['figure', 'figcaption', 'div', 'svg', 'title', 'desc', 'g', 'rect', 'text', 'path'].filter(
          (name) => drawn.includes(`<${name}`),
        ),
      ),
    );
    expect(drawn).not.toContain('<script');
    expect(drawn).toContain('&lt;script&gt;');
  });

  it('says first what passes, then each node with its hops in words', () => {
    expect(drawn).toContain('<figcaption id="p1-says">whether the declared 9000 bytes pass');
    expect(drawn).toContain(
      '<desc>quay-sw:xg2 1500 bytes, too small, narrowest, 10 Gb/s, full duplex; what lies between here and loft-sw is not declared</desc>',
    );
  });

  it('names what is too small, fills and crosses it, and flags the narrowest', () => {
    const strike = draw('strike');
    expect(strike.match(/class="struck"/g)).toHaveLength(1);
    expect(strike.match(/class="cross"/g)).toHaveLength(1);
    expect(hopOf(strike, 'quay-sw:xg3')).toMatch(/narrowest<.*too small<.*1500<.*too small</);
    expect(strike.match(/class="flag"/g)).toHaveLength(1);
    const nearly = draw('nearly');
    // Each says so in its flag and below its opening.
    expect(nearly.match(/>too small</g)).toHaveLength(4);
    expect(nearly.match(/>narrowest</g)).toHaveLength(1);
  });

  it('flags nothing where the declared packet passes everywhere', () => {
    expect(draw('allMet')).not.toMatch(/class="(flag|struck|range|unread)"/);
  });

  it('draws unread as unread, with the reason in few words', () => {
    const unread = hopOf(draw('unread'), 'quay-sw:xg3');
    expect(unread).toMatch(/class="unread"[^>]*>\?</);
    expect(unread).not.toMatch(/class="(lintel|wall)"/);
    expect(unread).not.toContain('data-at-');
    expect(wordsIn(unread)).toEqual([
      '?',
      'xg3',
      '?',
      'not known:',
      'denied',
      '?',
      'speed not',
      'known',
      'of 10 Gb/s',
      'full duplex',
    ]);
    expect(draw('unread')).toContain('noAccess: the view of this user leaves the table out');
    expect(wordsIn(hopOf(draw('silent'), 'quay-sw:xg2'))).toContain('not read');
  });

  it('draws a range between two lintels, hatched', () => {
    const range = hopOf(draw('range'), 'quay-sw:xg2');
    expect(range).toMatch(/class="lintel".*class="range".*class="certain"/);
    expect(wordsIn(range)).toEqual(expect.arrayContaining(['8988 to 9010', 'not settled']));
  });

  it('marks what only the owner says', () => {
    const word = hopOf(draw('onWord'), 'quay-sw:xg2');
    expect(word).toMatch(/^ passes on-word"/);
    expect(wordsIn(word)).toEqual(expect.arrayContaining(['(9198)', 'on your word']));
  });

  it('says what keeps a way from being used, and cuts it', () => {
    expect(draw('down')).toMatch(/class="way down".*>no link</s);
    expect(draw('blocked')).toMatch(/class="way idle".*>blocked</s);
    expect(draw('leftOut')).toMatch(/class="way idle".*>left out</s);
    expect(wordsIn(hopOf(draw('down'), 'plot-1:desk'))).toContain('link down');
  });

  it('parts ways into rows that are named, joined to their nodes by stems', () => {
    const aggregate = draw('aggregate');
    expect(wordsIn(aggregate)).toEqual(
      expect.arrayContaining(['and beside it, in the', 'aggregate vault-up:']),
    );
    expect(aggregate.match(/class="stem"/g)).toHaveLength(2);
    expect(wordsIn(draw('ring'))).toContain('or, another way:');
    expect(draw('allMet')).not.toMatch(/class="(stem|label)"/);
  });

  it('tells a router from a switch by its words and its shape', () => {
    expect(wordsIn(draw('routed'))).toContain('gate (router)');
    expect(draw('allMet')).not.toContain('router');
  });

  it('names media, length, modules and labels between two nodes', () => {
    expect(draw('allMet')).toMatch(
      />cat6a, cat6<\/text>.*>25 m<\/text>.*>10GBASE-T<\/text>.*>W-07, B\/12<\/text>/,
    );
    expect(draw('allMet')).toContain(
      'then cord cat6a 2 m, jack W-07, wall cat6a 21 m, panel B/12, cord cat6 2 m, module 10GBASE-T, in all 25 m to quay-sw',
    );
    expect(wordsIn(draw('undeclared'))).toEqual(expect.arrayContaining(['not declared']));
  });

  it('shows speed against what is meant, half duplex in words, the slowest marked', () => {
    const half = hopOf(draw('halfDuplex'), 'plot-1:desk');
    expect(half).toMatch(
      /^ passes below" data-port="plot-1:desk".* data-speed="100" data-rated="10000"/,
    );
    expect(wordsIn(half).slice(-5)).toEqual([
      '100 Mb/s',
      'of 10 Gb/s',
      'half duplex,',
      'not full',
      'slowest',
    ]);
    expect(half).toMatch(/class="missing".*class="speed".*class="speed-empty".*class="rated"/);
    expect(draw('allMet')).not.toMatch(/speed-empty|missing|slowest/);
  });

  it('cuts long names, with the whole name in a title', () => {
    const long = draw('longRow');
    expect(wordsIn(long)).not.toContain('quay-hall-1-distribution-row-sw');
    expect(long).toContain('<title>quay-hall-1-distribution-row-sw</title>');
    expect(wordsIn(long)).toEqual(expect.arrayContaining(['ten-gigabit-1…']));
    expect(long).toContain(
      '<title>quay-hall-1-distribution-row-sw:ten-gigabit-1/0/47-uplink-north',
    );
  });

  it('draws an end of which no port is known', () => {
    expect(wordsIn(draw('nothing')).filter((words) => words === 'no port known')).toHaveLength(2);
  });

  it.each(everySite)(
    'has no style, script or id twice, and every class is in the style: %s',
    (_, site) => {
      const all = site.paths
        .map((each, at) => clearanceDrawing(each, `p${at}`, linkFinder(site)).text)
        .join('');
      expect(all).toContain('<figure');
      expect(all).not.toMatch(/ style=| on\w+=|<style|<script|NaN|undefined|Infinity/);
      const ids = [...all.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
      expect(new Set(ids).size).toBe(ids.length);
      const silent = new Set(['hop', 'passes', 'no-demand', 'open']);
      const classes = new Set(
        [...all.matchAll(/ class="([^"]*)"/g)].flatMap(([, names]) => names?.split(' ') ?? []),
      );
      for (const name of silent) classes.delete(name);
      expect([...classes].filter((name) => !clearanceStyle.includes(`.${name}`))).toEqual([]);
    },
  );
});
