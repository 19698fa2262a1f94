import { rateWords } from '../ethernet/run-brake.ts';
import { gapOf } from '../facts/subject.ts';
import { breakOf } from '../site/path-breaks.ts';
import type { Site, SitePath } from '../site/types.ts';
import { rankCauses } from './cause.ts';
import { pathRules } from './causes/path.ts';
import type { Explanation } from './explain-link.ts';

/**
 * Why a path is as it is, as far as no single link shows it. `links` are the explanations of its
 * links: a path is at fault with any of them.
 */
export function explainPath(
  site: Site,
  path: SitePath,
  links: readonly Explanation[],
): Explanation {
  const causes = rankCauses(Object.values(pathRules).flatMap((rule) => rule(site, path)));
  const missing = [...unknownPacket(path), ...unknownOf(site, path)];
  const unseen = missing.length > 0 || links.some(({ standing }) => standing === 'cannot-tell');
  const first = causes.find(({ fault }) => fault);
  const sick = links.filter(({ standing }) => standing === 'fault').map(({ id }) => id);
  const fault = first !== undefined || sick.length > 0;
  return {
    kind: 'path',
    id: path.id,
    declaredAt: path.declared.place,
    standing: fault ? 'fault' : unseen ? 'cannot-tell' : 'no-fault',
    says: [stateWords(path), ...(sick.length > 0 ? [`see ${sick.join(' and ')}`] : [])].join('; '),
    elements: [],
    causes,
    cannotTell: missing,
    ...(first === undefined ? {} : { next: first.settledBy }),
    cautions:
      first !== undefined
        ? ['a change of an address, a route or an MTU drops the sessions over it: plan a pause']
        : [],
  };
}

function stateWords(path: SitePath): string {
  const { subject } = path;
  const down = breakOf(path, ({ port }) => port.subject.facts['operUp'] === false);
  if (down?.spare === false) return `has no link at ${down.ports.join(', ')}`;
  const moved = breakOf(path, ({ port }) => port.subject.facts['neighbourDeclared'] === false);
  if (moved?.spare === false) return `has another cord at ${moved.ports.join(', ')}`;
  const { slowestMbps, slowestPort } = subject.facts;
  if (typeof slowestMbps !== 'number') return 'no speed on it is known';
  return `is as fast as ${String(slowestPort)}, ${rateWords(slowestMbps)}`;
}

/** By which port each end sends, where that could not be read. */
function unknownOf(site: Site, path: SitePath): readonly string[] {
  return site.directions.flatMap(({ path: of, from, to, subject }) => {
    if (of !== path.id || subject.facts['leavesByDeclaredPort'] !== undefined) return [];
    const gap = gapOf(subject, 'leavesBy');
    if (gap === undefined) return [];
    return [`by which port ${from} sends to ${to}: ${gap.words}`];
  });
}

/** Whether the declared packet passes, where that is not known. */
function unknownPacket({ subject }: SitePath): readonly string[] {
  const gap = gapOf(subject, 'carriesDeclaredMtu');
  if (gap === undefined) return [];
  return [`whether ${String(subject.facts['declaredMtuBytes'])} bytes pass: ${gap.words}`];
}
