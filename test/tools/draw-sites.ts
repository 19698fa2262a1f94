import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { loadSurvey } from '../../src/facts/saved-survey.ts';
import { loadIntent } from '../../src/intent/load-intent.ts';
import { judge } from '../../src/judge/judge.ts';
import { siteDrawings } from '../../src/report/page/plan/site-drawing.ts';
import { siteStyle } from '../../src/report/page/plan/site-drawing-style.ts';
import type { AuditResult } from '../../src/report/types.ts';
import { buildSite } from '../../src/site/build-site.ts';
import { subjectsOf } from '../../src/site/subjects-of.ts';
import { loadShipped } from '../judge/shipped.ts';
import {
  auditOf,
  campus,
  islands,
  mesh,
  ring,
  star,
  states,
  twoLegged,
} from '../report/page/plan/drawn-sites.ts';

// Draws sites to look at: `tsx test/tools/draw-sites.ts --out DIR [--demo DIR]`, where the second
// folder is one that `npm run demo -- --out` left.

const { values } = parseArgs({ options: { out: { type: 'string' }, demo: { type: 'string' } } });
const out = values.out ?? 'drawn';
const policies = await loadShipped('essential', 'jumbo', 'cabling', 'signal');

async function demoOf(folder: string): Promise<AuditResult> {
  const intent = await loadIntent(
    join(folder, 'intent.yaml'),
    async (file) => ({ ok: true, text: await readFile(file, 'utf8') }),
    { shippedPolicies: ['essential', 'jumbo', 'cabling', 'signal'] },
  );
  const survey = loadSurvey(await readFile(join(folder, 'survey.json'), 'utf8'), 'survey.json');
  if (!intent.ok || !survey.ok) throw new Error('no whole demo in that folder');
  const site = buildSite(intent.value, survey.survey, { strict: false });
  const { startedAt, endedAt } = survey.survey;
  const judgement = judge(subjectsOf(site), policies, {
    waivers: intent.value.waivers,
    now: endedAt,
  });
  return {
    site,
    judgement,
    startedAt,
    endedAt,
    toolVersion: '0.1.0',
    strict: false,
    least: 'warning',
  };
}

/** As if a node had heard of a link that the intent does not name. */
function withUndeclared(result: AuditResult): AuditResult {
  const nodes = result.site.nodes.map((node, at) => {
    const facts = { ...node.subject.facts, undeclaredLinks: ['quay-sw:g8 - loft-sw:g8'] };
    return at > 0 ? node : { ...node, subject: { ...node.subject, facts } };
  });
  return { ...result, site: { ...result.site, nodes } };
}

const palette = `:root{color-scheme:light dark;--paper:#fcfbf7;--ink:#1b2430;--faint:#586270;--line:#c9c5b8;--load:#1d6a86;--strike:#b3261e;--met:#2a683d;--doubt:#6748a0;--waived:#735518;--focus:#0b57d0}
@media (prefers-color-scheme:dark){:root{--paper:#14191f;--ink:#e8e6df;--faint:#a3adb8;--line:#3d4751;--load:#6cc3e0;--strike:#ff8f85;--met:#7fd19b;--doubt:#c3a8f5;--waived:#e0b96a;--focus:#8ab4ff}}
body{background:var(--paper);color:var(--ink);font-family:sans-serif;margin:24px}`;

const results: Record<string, AuditResult> = {
  ...(values.demo === undefined ? {} : { demo: await demoOf(values.demo) }),
  campus: auditOf(campus(), policies),
  ring: auditOf(ring(), policies),
  mesh: auditOf(mesh(), policies),
  star: auditOf(star(), policies),
  islands: auditOf(islands(), policies),
  legs: auditOf(twoLegged(), policies),
  states: withUndeclared(auditOf(states(), policies)),
};
await mkdir(out, { recursive: true });
for (const [name, result] of Object.entries(results)) {
  const from = performance.now();
  const drawn = siteDrawings(result);
  const took = Math.round(performance.now() - from);
  const body = drawn.map(({ title, drawing }) => `<h2>${title}</h2>${drawing.text}`).join('\n');
  const page = `<!doctype html><html lang="en"><meta charset="utf-8"><title>${name}</title><style>${palette}${siteStyle}</style><body><main><h1>${name}</h1>${body}</main></body></html>`;
  await writeFile(join(out, `${name}.html`), page);
  process.stdout.write(`${name}: ${page.length} bytes, drawn in ${took} ms\n`);
}
