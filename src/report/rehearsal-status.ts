import type { Rehearsal } from '../change/rehearsal.ts';
import { breaksMore } from '../change/state-cost.ts';
import type { Severity } from '../judge/types.ts';
import { atLeast, exitStatuses } from './exit-status.ts';

/**
 * The status of a rehearsal: 1 when something is impossible or forgotten, when it breaks a rule of
 * at least `least` that was not broken before, or when after some step more paths are cut or apart
 * than before the first; else 2 when it leaves something of at least `least` that cannot be told;
 * else 0.
 */
export function rehearsalStatus(rehearsal: Rehearsal, least: Severity): number {
  const { remarks, broken, unknown, order, start } = rehearsal;
  const counts = ({ severity }: { readonly severity: Severity }) => atLeast(severity, least);
  const refused = remarks.some(({ kind }) => kind === 'impossible' || kind === 'forgotten');
  const isWorse = (order?.costs ?? []).some((cost) => breaksMore(cost, start));
  if (refused || broken.some(counts) || isWorse) return exitStatuses.broken;
  const dark = remarks.some(({ kind }) => kind === 'unknown');
  return dark || unknown.some(counts) ? exitStatuses.undetermined : exitStatuses.met;
}
