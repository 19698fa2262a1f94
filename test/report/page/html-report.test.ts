import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/judge/types.ts';
import { jsonReport } from '../../../src/report/json-report.ts';
import { htmlReport } from '../../../src/report/page/html-report.ts';
import { pagePast } from '../../../src/report/page/past/page-past.ts';
import { redactResult } from '../../../src/report/redact.ts';
import { summaryLine } from '../../../src/report/summary-line.ts';
import type { AuditResult } from '../../../src/report/types.ts';
import { buildSite } from '../../../src/site/build-site.ts';
import { makeIntent, makeSurvey } from '../../site/builders.ts';
import { allSites } from '../all-sites.ts';
import { endsOnly, healthy, middleSmall, onWord } from '../saltmarsh.ts';
import { sinceLastNight } from '../since-last-night.ts';
import { whole } from '../whole.ts';
import { pastOf } from './past/past-sketch.ts';
import { factsAt, unpack } from './read-page.ts';

/** Everything of a page, what is packed among it. */
function wholeOf(page: string): string {
  const { later, facts } = unpack(page);
  return [page, ...Object.values(later), JSON.stringify(facts)].join('\n');
}

const idsIn = (text: string) => [...text.matchAll(/\sid="?([\w.~-]+)/g)].map(([, id = '']) => id);

describe('the page of an audit', () => {
  for (const [name, result] of Object.entries(allSites)) {
    const page = htmlReport(result);
    it(`of ${name} has every name once, and whatever a link names`, () => {
      const ids = idsIn(page);
      expect(ids.length).toBeGreaterThan(8);
      expect(ids.filter((id, at) => ids.indexOf(id) !== at)).toEqual([]);
      const named = [...page.matchAll(/href="#([^"]*)"/g)].map(([, id = '']) => id);
      expect(named.length).toBeGreaterThan(3);
      expect(named.filter((id) => !ids.includes(id))).toEqual([]);
      const described = [...page.matchAll(/aria-(?:labelledby|controls)="([^"]*)"/g)];
      const missing = described.flatMap(([, list = '']) =>
        list.split(' ').filter((id) => !ids.includes(id)),
      );
      expect(missing).toEqual([]);
    });

    it(`of ${name} has no style, no handler and no address in its markup`, () => {
      const body = page.slice(page.indexOf('<body>'), page.lastIndexOf('<script>'));
      expect(body).not.toMatch(/\sstyle=|\son\w+=|https?:|<(link|img|iframe|object|embed|form)\b/i);
      expect(body).toContain('<svg');
    });

    it(`of ${name} says what the text report counts, and every finding`, () => {
      expect(page).toContain(`<p class="sum">${summaryLine(result)}</p>`);
      for (const { id } of result.judgement.findings) {
        expect(page.split(`id="finding-${id}"`).length).toBe(2);
      }
    });
  }

  it('says of a finding that had cleared that it came back', () => {
    const [finding] = sinceLastNight.judgement.findings;
    if (finding === undefined) throw new Error('the sample has a finding');
    const [since, clearedAt] = ['2026-11-20T02:00:00.000Z', '2026-11-22T02:00:00.000Z'];
    const life = { ...finding, since, clearedAt, lastAt: since, nights: 1 };
    const past = pagePast(pastOf([20, 22, 24], { lives: [life] }), () => undefined);
    const words = 'came back; it had cleared 2026-11-22 02:00 UTC';
    expect(htmlReport({ ...sinceLastNight, past })).toContain(`data-key="back">${words}`);
    expect(htmlReport(sinceLastNight)).not.toContain('came back');
  });

  it('is the same for the same audit', () => {
    expect(htmlReport(sinceLastNight)).toBe(htmlReport(sinceLastNight));
  });

  it('begins with the worst path, and names its findings there', () => {
    const [path] = middleSmall.site.paths;
    const [fine] = healthy.site.paths;
    if (path === undefined || fine === undefined) throw new Error('the samples have a path');
    const well = { ...fine, id: 'a-fine-one', declared: { ...fine.declared, name: 'a-fine-one' } };
    const site = { ...middleSmall.site, paths: [well, path] };
    const page = htmlReport({ ...middleSmall, site });
    expect(page.indexOf('id="path-plotting"')).toBeLessThan(page.indexOf('id="path-a-fine-one"'));
    const section = page.slice(page.indexOf('id="path-plotting"'), page.indexOf('</section>'));
    expect(section).toContain('<b class="mark strike">does not pass</b>');
    expect(section).toContain('href="#finding-1f0c2d3e4b"');
  });

  it('says of a path, before it is drawn, what breaks on it, and what to do first', () => {
    const [path] = middleSmall.site.paths;
    const [onPath, onPort] = middleSmall.judgement.findings;
    if (path === undefined || onPath === undefined || onPort === undefined)
      throw new Error('the sample has all three');
    const said = (findings: readonly Finding[]) => {
      const judgement = { ...middleSmall.judgement, findings };
      return /<\/figcaption>\s*(<dl.*)/.exec(htmlReport({ ...middleSmall, judgement }))?.[1];
    };
    const breaks = '<dt>breaks</dt><dd>Both ways: transfers stall while small packets pass</dd>';
    expect(said([onPath, onPort])).toBe(
      `<dl class="said">${breaks}<dt>do</dt><dd>${onPath.advice}</dd></dl>`,
    );
    // Advice on a port does not say where.
    expect(said([{ ...onPort, advice: 'reseat it' }])).toBe(
      `<dl class="said">${breaks}<dt>do</dt><dd>quay-sw:xg3: reseat it</dd></dl>`,
    );
    expect(said([{ ...onPath, severity: 'notice' }])).toBe(`<dl class="said">${breaks}</dl>`);
    expect(said([{ ...onPath, verdict: 'waived' }])).toBe(`<dl class="said">${breaks}</dl>`);
  });

  it('does not say that a path passes of which nobody read a hop, or declared what lies between', () => {
    const marks = (result: AuditResult) =>
      /<b class="mark \w+">(?:passes|not|does|both)[^<]*<\/b>/.exec(htmlReport(result))?.[0];
    const [path] = onWord.site.paths;
    if (path === undefined) throw new Error('the sample has a path');
    const hops = path.hops.filter(({ clearance }) => clearance.onWord);
    const unread = { ...onWord, site: { ...onWord.site, paths: [{ ...path, hops }] } };
    expect(hops.length).toBe(2);
    expect(marks(onWord)).toBe('<b class="mark met">passes</b>');
    expect(marks(unread)).toBe('<b class="mark faint">passes on your word</b>');
    expect(marks(endsOnly)).toBe('<b class="mark faint">both ends pass</b>');
  });

  it('counts the findings of a node as the table of findings names it', () => {
    for (const result of Object.values(allSites)) {
      const page = htmlReport(result);
      const named = [...page.matchAll(/<span>([^<]*)<\/span> (?=<span>|<\/td>)/g)].map(
        ([, name]) => name,
      );
      const listed = [
        ...page.matchAll(
          /<summary><span>([^<]*)<\/span> <b[^>]*>[^<]*<\/b>[^<]*, (\d+) findings?</g,
        ),
      ];
      expect(listed.length).toBe(result.site.nodes.length);
      for (const [, name, count] of listed)
        expect(named.filter((each) => each === name).length).toBe(Number(count));
    }
  });

  it('says of each finding what happened to it since the audit before', () => {
    const page = htmlReport(sinceLastNight);
    const lives = [...page.matchAll(/data-key="(\w+)">([^<]*)<\/td><\/tr>/g)].map(
      ([, word, words]) => `${word}: ${words}`,
    );
    expect(lives.toSorted()).toEqual([
      'new: new',
      'open: open since 2026-11-24 02:00 UTC',
      'waiting: seen since 2026-11-25 02:00 UTC, waits for another audit',
      'worse: worse than before, open since 2026-11-24 02:00 UTC',
    ]);
    expect(page).toContain('until 2027-03-31 (hopgauge.yaml:44): label printer is half duplex');
    expect(page).toContain('hopgauge.yaml:31');
    expect(htmlReport(middleSmall)).not.toContain('>life<');
  });

  it('names nobody with --redact, in what is packed neither', () => {
    // A cord of an undeclared port moved to the last of them, which no report for people tells.
    const shown = ['vault', 'quay-sw', 'plot-1', 'Saltmarsh', 'old-desk'];
    const telling = [...shown, 'cellar-box'];
    const open = wholeOf(htmlReport(sinceLastNight));
    expect(telling.filter((each) => open.includes(each))).toEqual(shown);
    const hidden = wholeOf(htmlReport(redactResult(sinceLastNight)));
    expect(telling.filter((each) => hidden.includes(each))).toEqual([]);
  });
});

describe('what the page carries packed', () => {
  const survey = makeSurvey({
    'quay-sw': {
      portGaps: { autoNegotiation: { reason: 'denied', words: 'not in the view' } },
      portSources: { mtuBytes: 'IF-MIB ifMtu' },
      portOwnGaps: { xg3: { autoNegotiation: { reason: 'unreadable', words: 'perhaps' } } },
      ports: { xg2: { mtuBytes: 9216 }, xg3: { mtuBytes: 1500 }, 'spare 1': {} },
    },
    vault: { ports: { eth4: { mtuBytes: 9000 } } },
  });
  const intent = makeIntent({
    nodes: { 'quay-sw': {}, vault: {} },
    links: { 'quay-sw:xg3 - vault:eth4': { speedMbps: 10_000 } },
  });
  const result: AuditResult = {
    ...healthy,
    site: buildSite(intent, survey, { strict: false }),
    survey,
  };
  const page = htmlReport(result);
  const unpacked = unpack(page);
  const rows = idsIn(page).filter((id) => id.startsWith('port-'));

  it('is every port that was judged or read, in the order of the table', () => {
    expect(rows).toEqual([
      'port-quay-sw~3aspare~201',
      'port-quay-sw~3axg2',
      'port-quay-sw~3axg3',
      'port-vault~3aeth4',
    ]);
  });

  it('is every fact with its source, and every gap with its reason and words', () => {
    const small = factsAt(unpacked, 'ports', rows.indexOf('port-quay-sw~3axg3'));
    expect(small).toContain('MTU: =1500 bytes | IF-MIB ifMtu');
    expect(small).toContain('auto negotiation: ?the answer could not be understood (perhaps) | ');
    expect(small).toContain('link identifier: =quay-sw:xg3 - vault:eth4 | ');
    const spare = factsAt(unpacked, 'ports', rows.indexOf('port-quay-sw~3aspare~201'));
    expect(spare).toContain('MTU: =1500 bytes | IF-MIB ifMtu');
    expect(spare).toContain('auto negotiation: ?the node would not tell (not in the view) | ');
    expect(spare.filter((each) => each.startsWith('link identifier'))).toEqual([]);
  });

  it('leaves out no fact that the port has', () => {
    for (const { subject } of result.site.ports) {
      const had = Object.values(subject.facts).filter((value) => value !== undefined).length;
      const at = rows.indexOf(`port-${subject.id.replace(':', '~3a')}`);
      const shown = factsAt(unpacked, 'ports', at).filter((each) => / ?: =/.test(each));
      expect(shown.length).toBe(had - Number(subject.facts['id'] !== undefined));
    }
  });

  it('is as JSON has it for the clearances that are drawn', () => {
    expect(whole(jsonReport(middleSmall))).toContain('"atMostBytes": 1500');
    expect(htmlReport(middleSmall)).toMatch(/data-port="quay-sw:xg3"[^>]*data-at-most="1500"/);
  });
});
