import type { StepAdvice } from '../change/advice/types.ts';
import { bullets, codeBlock, plainMarkdown } from './markdown.ts';
import type { ProcedureStep } from './procedure-types.ts';

/** A line for a person to fill in. */
export const signLine = 'Done by: ____________ at: ______ check held (yes / no): ______';

/**
 * One step as a section: where, what to type, what to expect, how to read it again, how to go back,
 * a line to sign.
 */
export function stepSection(
  { step, advice, where, expected }: ProcedureStep,
  { number, confirmCommand }: { readonly number: number; readonly confirmCommand: string },
) {
  const subject = plainMarkdown(step.port ?? step.node);
  return [
    `### Step ${number}: ${plainMarkdown(step.setting)} of ${subject}`,
    '',
    `- Where: ${plainMarkdown(step.node)}${where === undefined ? '' : `, ${plainMarkdown(where)}`}`,
    `- What: ${plainMarkdown(advice.words)}`,
    `- Asked for in: ${plainMarkdown(`${step.place.file}:${step.place.line}`)}`,
    '',
    ...titled('Mind before:', advice.cautions),
    ...armLines(advice),
    ...typed('Type:', advice.temporary),
    ...titled('Expected after:', [advice.check, ...expected]),
    ...typed('Read the site again:', [`${confirmCommand} --step ${number}`]),
    ...cancelLines(advice),
    ...keptLines(advice),
    ...goingBack(advice),
    signLine,
    '',
  ];
}

/** How to undo one step: a sentence, and the commands where there are any. */
export function goingBack({ undo, undoWords }: StepAdvice): string[] {
  return [`Go back: ${plainMarkdown(undoWords)}`, '', ...(undo.length > 0 ? block(undo) : [])];
}

function armLines({ timedReturn }: StepAdvice): string[] {
  if (timedReturn === undefined) return [];
  return typed(
    'First start the job that goes back by itself (needed where this is the way in):',
    timedReturn.arm,
  );
}

function cancelLines({ timedReturn }: StepAdvice): string[] {
  if (timedReturn === undefined) return [];
  return typed('Once the check has held, cancel that job:', [timedReturn.cancel]);
}

function keptLines({ persistent }: StepAdvice): string[] {
  if (persistent.length === 0) return [];
  const lead =
    persistent.length === 1
      ? 'Once the check has held, to keep it over a restart:'
      : 'Once the check has held, to keep it over a restart, in the one of these that owns the port:';
  const each = persistent.flatMap(({ by, lines }) => [
    `${plainMarkdown(by)}:`,
    '',
    ...block(lines),
  ]);
  return [lead, '', ...each];
}

function typed(lead: string, lines: readonly string[]): string[] {
  return lines.length === 0 ? [] : [lead, '', ...block(lines)];
}

function titled(lead: string, items: readonly string[]): string[] {
  return items.length === 0 ? [] : [lead, '', ...bullets(items), ''];
}

function block(lines: readonly string[]): string[] {
  return [...codeBlock(lines), ''];
}
