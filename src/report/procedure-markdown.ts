import { bullets, codeBlock, plainMarkdown } from './markdown.ts';
import { gapSentences } from './procedure-gaps.ts';
import { goingBack, signLine, stepSection } from './procedure-step.ts';
import type { ProcedureInput } from './procedure-types.ts';
import { timeWords } from './summary-line.ts';
import type { WaysInWords } from './ways-words.ts';

/** What to have looked at before the first step (common practice). */
const preChecks: readonly string[] = [
  'An audit of today is saved: MTU, speed, duplex, counters, aggregates and routes of every hop.',
  'Every device takes the new value: the largest MTU of each driver, the largest frame of each switch.',
  'Everything in the segments touched is listed: printers, cameras, gateways, wireless clients.',
  'The settings of each switch are saved, also those kept outside its saved configuration.',
  'The console of each node touched, or a second way to it, was tried and works.',
  'Copies, backups and storage sessions over these links are ended or paused.',
];

/** What to look at after the last step (common practice). */
const postChecks: readonly string[] = [
  'Every job that goes back by itself is cancelled.',
  'The largest packet passes between the ends, in both directions.',
  'Every member of each aggregate is in use.',
  'Nodes with a gateway still reach what lies beyond it, with large transfers too.',
  'No new errors after 15 minutes, and after 24 hours.',
  'One host of each kind was restarted and kept its settings.',
];

/**
 * A method of procedure in Markdown: purpose, checks before, what is cut meanwhile, each step with
 * its way back and a line to sign, checks after, back-out of the whole in reverse order. A person
 * follows it; hopgauge runs nothing of it.
 */
export function procedureMarkdown(input: ProcedureInput): string {
  const lines = [
    ...opening(input),
    ...input.ways.flatMap(waysSection),
    ...checkList('Before the first step', preChecks),
    ...openPoints(input.openPoints),
    ...section('What is cut meanwhile', meanwhile(input)),
    ...steps(input),
    ...checkList('After the last step', postChecks),
    'Read the site again and compare:',
    '',
    ...codeBlock([input.confirmCommand]),
    '',
    ...backOut(input),
    ...signOff,
  ];
  return `${lines.join('\n').trimEnd()}\n`;
}

function opening({ site, about, surveyedAt, mends }: ProcedureInput): string[] {
  const basis =
    surveyedAt === undefined
      ? 'Rehearsed on paper alone: nothing was read.'
      : `Rehearsed on what was read at ${plainMarkdown(timeWords(surveyedAt))}.`;
  return [
    `# Procedure: ${plainMarkdown(about)}`,
    '',
    `Site: ${plainMarkdown(site)}`,
    '',
    `${basis} Commands are suggestions for a person who knows the node and may administer it; none of them has been run.`,
    '',
    ...section('Purpose', [
      plainMarkdown(about),
      ...(mends.length === 0 ? [] : ['', 'It mends:', '', ...bullets(mends)]),
    ]),
  ];
}

/** What is weighed before the change is agreed on. */
function waysSection({ title, ways, unread, paths }: WaysInWords): string[] {
  const heading = plainMarkdown(title.replace(/^t/, 'T'));
  return section(
    heading,
    bullets([
      ...ways.map(({ label, words }) => `${label}: ${words}`),
      ...(unread === undefined ? [] : [`not known: ${unread}`]),
      ...paths,
    ]),
  );
}

function meanwhile({ order, start, steps: all }: ProcedureInput): string[] {
  if (all.length === 0) return ['Nothing: the change has no steps.'];
  const sentences = gapSentences(order, start);
  const cut = order.costs.some(
    ({ pathsApart, pathsCut, pathsReduced }) => pathsApart + pathsCut + pathsReduced > 0,
  );
  const whole = cut ? [] : ['Every path carries what is declared after each step.'];
  return bullets([...whole, ...sentences]);
}

function steps(input: ProcedureInput): string[] {
  const { confirmCommand } = input;
  return [
    '## Steps',
    '',
    ...input.steps.flatMap((step, at) => stepSection(step, { number: at + 1, confirmCommand })),
  ];
}

function backOut({ steps: all }: ProcedureInput): string[] {
  const reversed = all.map((each, index) => ({ ...each, number: index + 1 })).reverse();
  return [
    '## Back out of the whole',
    '',
    'In this order, from the last step that was done:',
    '',
    ...reversed.flatMap(({ step, advice, number }) => [
      `### Undo step ${number}: ${plainMarkdown(step.setting)} of ${plainMarkdown(step.port ?? step.node)}`,
      '',
      ...goingBack(advice),
      signLine,
      '',
    ]),
  ];
}

function openPoints(points: readonly string[]): string[] {
  return points.length === 0 ? [] : section('To be settled first', bullets(points));
}

function checkList(title: string, items: readonly string[]): string[] {
  return section(
    title,
    items.map((item) => `- [ ] ${plainMarkdown(item)}`),
  );
}

function section(title: string, lines: readonly string[]): string[] {
  return [`## ${title}`, '', ...lines, ''];
}

const signOff: readonly string[] = [
  '## Sign-off',
  '',
  '| role | name | time | signature |',
  '| --- | --- | --- | --- |',
  '| did it | | | |',
  '| looked on | | | |',
  '| accepted it | | | |',
];
