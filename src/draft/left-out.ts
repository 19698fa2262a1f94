import { cleanText } from '../facts/clean-text.ts';
import { endText, takesACord } from './ends.ts';
import type { Crowd } from './forwarding-links.ts';
import type { DraftSubject, FoundLink, Machine } from './types.ts';

/** Ports of a machine that are named in a question, at most. */
const shownMax = 4;
/** Longest text of what was seen, and of what to do. */
const wordsMax = 240;

/** Who could not be read, why, and what to do about it; its name is where it was looked for. */
export function notReadWords({ survey, at }: DraftSubject): string {
  const troubles = survey.readings.flatMap(({ trouble }) => trouble ?? []);
  const each = troubles.map(
    ({ seen, remedy }) => `${cleanText(seen, wordsMax)}; ${cleanText(remedy, wordsMax)}`,
  );
  const why = each.length === 0 ? 'no access to it was given' : [...new Set(each)].join('; ');
  return `${cleanText(at ?? survey.node, 80)} was not read, so nothing of it is drafted: ${why}`;
}

/** Machines without any link, each as a question: an audit of them would judge next to nothing. */
export function linklessQuestions(
  machines: readonly Machine[],
  links: readonly FoundLink[],
  crowds: readonly Crowd[],
): readonly string[] {
  const ends = [
    ...links.flatMap((link) => link.ends),
    ...crowds.flatMap(({ at, known }) => [at, ...known]),
  ];
  const placed = new Set(ends.map(({ machine }) => machine));
  return machines.filter((machine) => !placed.has(machine)).map(linklessQuestion);
}

function linklessQuestion(machine: Machine): string {
  const ports = machine.survey.ports.filter(takesACord);
  if (ports.length === 0) {
    return `${machine.name} has no port that takes a cord (wireless, a guest or a container?), so no link of it was looked for: add by hand what it hangs on`;
  }
  const up = ports.filter(({ facts }) => facts.operUp === true).slice(0, shownMax);
  const where = up.map((port) => cleanText(endText({ machine, port }), 80)).join(', ');
  const live = where === '' ? 'none of its ports is known to be up' : `up are ${where}`;
  return `what is ${machine.name} plugged into? no link of it was seen (${live}): read what it is plugged into, or add the link by hand`;
}
