import type { Finding } from '../judge/types.ts';
import type { Site } from '../site/types.ts';
import type { CauseGroup } from './cause-groups.ts';
import { clean, wrap } from './layout.ts';
import type { DrawOptions } from './measure.ts';
import { seenWords } from './seen-words.ts';

const alsoShownMax = 3;

/** One cause: what is wrong; what was seen against what is declared; what to do. */
export function findingLines(group: CauseGroup, site: Site, options: DrawOptions): string[] {
  const { lead, others } = group;
  const { width, paint, verbose } = options;
  const [first = '', ...rest] = wrap(`  ${lead.severity}: `, titleWords(lead), width);
  const also = alsoWords(others, verbose);
  return [
    paint.strong(first),
    ...rest.map(paint.strong),
    ...wrap('    seen  ', seenWords(lead, site, verbose), width),
    ...wrap('    do    ', clean(lead.advice ?? 'bring the network and the intent together'), width),
    ...(also === '' ? [] : wrap('    also  ', also, width)),
    ...(verbose ? wrap('    rule  ', ruleWords(lead), width) : []),
  ];
}

/** What is wrong, beginning with the name of what it is wrong on. */
export function titleWords({ what, subject }: Pick<Finding, 'what' | 'subject'>): string {
  const words = clean(what);
  const id = clean(subject.id);
  return words.startsWith(id) ? words : `${id}: ${words}`;
}

/** The rule behind a finding, its number and its standard. */
function ruleWords({ policy, rule, source, id }: Finding): string {
  return clean(`${rule} of policy ${policy}, after ${source}; finding ${id}`);
}

/** What else has the same cause. */
export function alsoWords(others: readonly Finding[], verbose: boolean): string {
  const named = verbose ? others : others.slice(0, alsoShownMax);
  const shown = named.map((each) => clean(`${each.rule} on ${each.subject.id}`));
  const left = others.length - shown.length;
  return [...shown, ...(left > 0 ? [`${left} more of the same cause`] : [])].join('; ');
}
