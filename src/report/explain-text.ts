import type { Cause, SeenFact } from '../diagnose/cause.ts';
import type { Explanation } from '../diagnose/explain-link.ts';
import type { TargetExplanation } from '../diagnose/explain-target.ts';
import { elementLines } from './element-lines.ts';
import { placeWords } from './fact-words.ts';
import { clean, padEnd, wrap } from './layout.ts';
import { type Paint, paintFor } from './paint.ts';

const widthMin = 40;
const widthMax = 120;
/** `likely` and two blanks. */
const certaintyColumns = 8;

/** Why a target is as it is: its elements, causes in order of strength, the next measurement. */
export function explainText(
  explained: TargetExplanation,
  look: { readonly width: number; readonly colour: boolean },
): string {
  const page: Page = {
    width: Math.min(widthMax, Math.max(widthMin, look.width)),
    paint: paintFor(look.colour),
  };
  const { parts } = explained;
  if (parts.length === 0) return `${wrap('', nothingDeclared(explained), page.width).join('\n')}\n`;
  const whole = parts.length === 1 ? parts : parts.filter(needsSpace);
  const short = parts.filter((part) => !whole.includes(part));
  const blocks = [
    ...whole.map((part) => partLines(part, page)),
    ...(short.length === 0 ? [] : [short.flatMap((part) => wrap('', headWords(part), page.width))]),
  ];
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

interface Page {
  readonly width: number;
  readonly paint: Paint;
}

/** Something is wrong, not known, or looks wrong and is not. */
function needsSpace({ standing, causes }: Explanation): boolean {
  return standing !== 'no-fault' || causes.length > 0;
}

function nothingDeclared({ kind, name }: TargetExplanation): string {
  return clean(`no link of the intent belongs to the ${kind} ${name}: nothing to explain`);
}

const standingWords = {
  fault: 'not as it should be',
  'no-fault': 'nothing wrong',
  'cannot-tell': 'cannot be told',
} as const;

function headWords({ id, says, standing, declaredAt }: Explanation): string {
  return clean(`${standingWords[standing]}: ${id} ${says} (${placeWords(declaredAt)})`);
}

function partLines(part: Explanation, page: Page): string[] {
  const { paint, width } = page;
  const head = wrap('', headWords(part), width);
  const tone = part.standing === 'fault' ? paint.wrong : paint.strong;
  return [
    ...head.map(tone),
    ...elementLines(part.elements, page),
    ...(part.causes.length === 0 ? [] : ['']),
    ...part.causes.flatMap((cause, at) => causeLines(cause, at === 0, page)),
    ...tailLines(part, page),
  ];
}

function causeLines(cause: Cause, first: boolean, { width, paint }: Page): string[] {
  const lead = padEnd(cause.certainty, certaintyColumns);
  const what = wrap(lead, clean(cause.what), width);
  const indent = ' '.repeat(certaintyColumns);
  const line = (label: string, words: string) =>
    wrap(`${indent}${padEnd(label, 'against '.length)}`, clean(words), width);
  return [
    ...(first ? what.map(paint.strong) : what),
    ...cause.for.flatMap((fact) => line('for', factWords(fact))),
    ...cause.against.flatMap((fact) => line('against', factWords(fact))),
    ...line('do', cause.remedy),
  ];
}

function factWords({ says, source }: SeenFact): string {
  return source === undefined ? says : `${says} (${source})`;
}

function tailLines(part: Explanation, { width, paint }: Page): string[] {
  const lines = (label: string, all: readonly string[]) =>
    all.flatMap((words) => wrap(padEnd(label, certaintyColumns), clean(words), width));
  const tail = [
    ...lines('unknown', part.cannotTell).map(paint.unknown),
    ...lines('next', part.next === undefined ? [] : [part.next]).map(paint.strong),
    ...lines('mind', part.cautions),
  ];
  return tail.length === 0 ? [] : ['', ...tail];
}
