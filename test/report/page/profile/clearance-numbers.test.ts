import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { siteIo } from '../../../../mocks/saltmarsh/site-io.ts';
import { type RunningSite, startSaltmarsh } from '../../../../mocks/saltmarsh/start-site.ts';
import { processIo } from '../../../../src/cli/process-io.ts';
import { run } from '../../../../src/cli/run.ts';
import { parseJson } from '../../../../src/facts/json.ts';
import type { Survey } from '../../../../src/facts/survey.ts';
import { jsonReport } from '../../../../src/report/json-report.ts';
import { linkFinder } from '../../../../src/report/link-rating.ts';
import { clearanceDrawing } from '../../../../src/report/page/profile/clearance-drawing.ts';
import type { JsonReport } from '../../../../src/report/report-schema.ts';
import type { Site } from '../../../../src/site/types.ts';
import { allFaults } from '../../../faults/all-faults.ts';
import { siteOf } from '../../../faults/described.ts';
import { allSites } from '../../all-sites.ts';
import { healthy } from '../../saltmarsh.ts';
import { whole } from '../../whole.ts';
import { profileSites } from './profile-sites.ts';

type Numbers = Readonly<Record<string, string | undefined>>;

const entities: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  '#39': "'",
};
const unescaped = (text: string) =>
  text.replaceAll(/&(#?\w+);/g, (whole, name: string) => entities[name] ?? whole);

/** Every hop of a drawing as its data- attributes have it. */
function drawnHops(drawing: string): Numbers[] {
  return [...drawing.matchAll(/<g class="hop[^"]*"([^>]*)>/g)].map(([, attributes = '']) =>
    Object.fromEntries(
      [...attributes.matchAll(/ data-([a-z-]+)="([^"]*)"/g)].map(([, name, value = '']) => [
        name,
        unescaped(value),
      ]),
    ),
  );
}

/** The same from the JSON form. */
function toldHops(path: JsonReport['paths'][number]): Numbers[] {
  return path.hops.map(({ port, atLeastBytes, atMostBytes, speedMbps, ratedMbps }) =>
    Object.fromEntries(
      Object.entries({
        port: port,
        'at-least': atLeastBytes,
        'at-most': atMostBytes,
        speed: speedMbps,
        rated: ratedMbps,
      }).flatMap(([name, value]) => (value === undefined ? [] : [[name, String(value)]])),
    ),
  );
}

const sorted = (hops: readonly Numbers[]) => hops.map((hop) => JSON.stringify(hop)).sort();

/** Reads the numbers of all paths of a site back; how many hops were compared. */
function compare(site: Site): number {
  const report = parseJson(whole(jsonReport({ ...healthy, site }))) as JsonReport;
  expect(report.paths).toHaveLength(site.paths.length);
  report.paths.forEach((told, at) => {
    const path = site.paths[at];
    if (path === undefined) throw new Error(`no path ${at}`);
    const drawing = clearanceDrawing(path, 'p', linkFinder(site)).text;
    expect(sorted(drawnHops(drawing))).toEqual(sorted(toldHops(told)));
    const declared = /<figure class="clearance"(?: data-declared="(\d+)")?>/.exec(drawing)?.[1];
    expect(declared).toBe(told.facts['declaredMtuBytes']?.toString());
  });
  return report.paths.reduce((count, { hops }) => count + hops.length, 0);
}

let saltmarsh: RunningSite;
beforeAll(async () => {
  saltmarsh = await startSaltmarsh();
});
afterAll(() => saltmarsh.stop());

describe('the numbers of a clearance drawing are those of the JSON form', () => {
  it.each([
    ...Object.entries(profileSites),
    ...Object.entries(allSites).map(([name, { site }]) => [name, site] as const),
  ])('%s', (name, site) => {
    expect(compare(site) > 0).toBe(name !== 'nothing');
  });

  it('in every network of a fault of the trade, sick and healthy', async () => {
    let hops = 0;
    for (const { sick, healthy: mended } of allFaults)
      for (const described of [sick, mended]) hops += compare(await siteOf(described));
    expect(hops).toBeGreaterThan(200);
  });

  it('in the demo', async () => {
    const intent = 'mocks/saltmarsh/intent.yaml';
    const files = new Map<string, string>();
    const real = processIo(new AbortController().signal, () => {});
    const quiet = { isTerminal: false, write: () => {} };
    const io = {
      ...siteIo(saltmarsh, real),
      stdout: quiet,
      stderr: quiet,
      writeFile: async (path: string, text: string | Iterable<string>) => {
        files.set(path, whole(text));
        return { ok: true as const };
      },
    };
    await run(['survey', intent, '--quiet', '--out', 'survey.json'], io);
    const text = await io.readTextFile(intent);
    if (!text.ok) throw new Error(text.reason);
    const site = await siteOf({
      intent: text.text,
      survey: parseJson(files.get('survey.json') ?? '') as Survey,
    });
    expect(compare(site)).toBe(18);
  });
});
