import { cleanText } from '../../facts/clean-text.ts';
import type { FactValue } from '../../facts/entry.ts';
import type { PortSurvey } from '../../facts/survey.ts';

const nameLengthMax = 64;
const namesMax = 8;

/** Text of an intent or a device for a sentence: cleaned and short. */
export function textOf(text: string): string {
  return cleanText(text, nameLengthMax);
}

/** Names of ports for a sentence: at most eight, then how many more. */
export function namesOf(ports: readonly PortSurvey[]): string {
  const names = ports.slice(0, namesMax).map(({ name }) => textOf(name));
  const more = ports.length - names.length;
  return names.join(', ') + (more > 0 ? ` and ${more} more` : '');
}

/** A value that a step sets, for a sentence: `9216`, `on`, `full`. */
export function wordOf(value: FactValue): string {
  if (typeof value === 'boolean') return value ? 'on' : 'off';
  return textOf(typeof value === 'object' ? value.map(String).join(', ') : String(value));
}
