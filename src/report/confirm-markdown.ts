import type { Confirmation } from '../change/confirmation.ts';
import type { Severity } from '../judge/types.ts';
import { confirmHead } from './confirm-head.ts';
import { confirmParts } from './confirm-parts.ts';
import { plainMarkdown } from './markdown.ts';

/** A confirmed change as Markdown, short enough for a ticket. */
export function confirmMarkdown(confirmation: Confirmation, least: Severity): string {
  const { verdict, times, mind } = confirmHead(confirmation, least);
  const lines = [
    `**${plainMarkdown(verdict)}**`,
    '',
    `${plainMarkdown(confirmation.site)}: ${plainMarkdown(times)}.`,
    '',
    ...confirmParts(confirmation).flatMap(({ label, items }) =>
      items.map((item) => `- ${label}: ${plainMarkdown(item)}`),
    ),
    ...(mind === undefined ? [] : ['', `${plainMarkdown(mind)}.`]),
  ];
  return `${lines.join('\n')}\n`;
}
