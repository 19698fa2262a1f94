import { cleanText } from '../facts/clean-text.ts';
import { quoted } from './fault.ts';
import { splitEnd } from './link-schema.ts';
import { type Build, checkName, namedKinds } from './names.ts';
import { wordRemedy } from './nearest.ts';
import type { Section } from './sections.ts';
import { spotAt } from './spot.ts';
import type { DeclaredLink, InputFault, Waiver } from './types.ts';
import type { WaiverText } from './waiver-schema.ts';

// Subject of one pair of ends of a path.
const pairOfPath = /^(\S+) \(\S+ to \S+\)$/;

/** Builds the waivers whose entries are valid. */
export function buildWaivers(
  section: Section<WaiverText>,
  links: { readonly built: readonly DeclaredLink[]; readonly complete: boolean },
  build: Build,
): readonly Waiver[] {
  const linkIds = new Set(links.built.map(({ id }) => id));
  return section.entries.map(({ value, spot }) => {
    const name = value.on;
    const isLink = linkIds.has(name) || (name.includes(' - ') && !links.complete);
    if (!isLink) checkSubject(build, name, spotAt(spot, ['on']).value);
    return {
      ...value,
      because: cleanText(value.because, 500),
      place: spot.value,
      rulePlace: spotAt(spot, ['rule']).value,
    };
  });
}

function checkSubject(build: Build, on: string, place: Waiver['place']): void {
  const path = pairOfPath.exec(on)?.[1];
  if (path !== undefined) checkName(build, { name: path, place }, ['path']);
  else if (isLinkForm(on, build)) {
    const remedy = 'write both ends as the link has them, in its order';
    build.faults.push({ place, what: 'no link has these ends', seen: quoted(on), remedy });
  } else {
    const end = splitEnd(on);
    if (end === undefined) checkName(build, { name: on, place }, namedKinds);
    else checkName(build, { name: end.node, place }, ['node']);
  }
}

// A port's own name may hold ` - ` too.
function isLinkForm(on: string, { names }: Build): boolean {
  const second = on.split(' - ').slice(1);
  return second.some((text) => names.kinds.has(splitEnd(text)?.node ?? ''));
}

/** A fault for each waiver whose rule is none of `rules`, the rules of all policies in force. */
export function waiverRuleFaults(
  waivers: readonly Waiver[],
  rules: readonly string[],
): readonly InputFault[] {
  const known = new Set(rules);
  return waivers
    .filter(({ rule }) => !known.has(rule))
    .map(({ rule, place, rulePlace }) => ({
      place: rulePlace ?? place,
      what: 'no rule in force has this name',
      seen: quoted(rule),
      remedy: wordRemedy(rule, rules, "see 'hopgauge rules'"),
    }));
}
