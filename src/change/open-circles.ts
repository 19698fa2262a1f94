import { byName } from '../facts/order.ts';
import type { SiteIndex } from '../site/site-index.ts';
import { cordSetting, noPort } from './cords.ts';
import { cordsInTheWay } from './impossible.ts';
import { makeStep } from './make-step.ts';
import type { ChangeStep } from './types.ts';

/**
 * Steps of which no cords wait for each other in a circle: of each circle the first cord by its id
 * is taken out by a step of its own, and laid in its new place by a later one, as a person would.
 */
export function openCircles(index: SiteIndex, steps: readonly ChangeStep[]): readonly ChangeStep[] {
  let opened = steps;
  // Each round takes one cord apart, and one that is apart is in no circle.
  for (const _ of steps) {
    const first = inCircles(index, opened).toSorted((a, b) => byName(a.id, b.id))[0];
    if (first === undefined) return opened;
    const parts = apart(index, first);
    opened = opened.flatMap((step) => (step === first ? parts : [step]));
  }
  return opened;
}

/** Moved cords that wait, over others, for themselves. */
function inCircles(index: SiteIndex, steps: readonly ChangeStep[]): readonly ChangeStep[] {
  const cords = steps.filter(({ cord }) => cord !== undefined);
  const waits = new Map(cords.map((step) => [step.id, cordsInTheWay(index, step, cords)]));
  return cords.filter(({ id, cord }) => {
    if (cord?.takes === undefined || cord.lays === undefined) return false;
    const seen = new Set<string>();
    const next = [...(waits.get(id) ?? [])];
    for (let at = next.pop(); at !== undefined; at = next.pop()) {
      if (at === id) return true;
      if (seen.has(at)) continue;
      seen.add(at);
      next.push(...(waits.get(at) ?? []));
    }
    return false;
  });
}

/** A moved cord as two steps: taken out, and laid in its new place. */
function apart(index: SiteIndex, step: ChangeStep): ChangeStep[] {
  const { takes, lays, leaving = [] } = step.cord ?? {};
  if (takes === undefined || lays === undefined) return [step];
  // Both are told from the end at which the cord stays.
  const at = { ...cordSetting({ takes, lays, leaving }, step.place) };
  const { from: _, ...unplaced } = at;
  const out = makeStep(index, { ...at, to: noPort, cord: { takes, leaving } }, new Map());
  const into = makeStep(index, { ...unplaced, cord: { lays, leaving } }, new Map());
  return [
    { ...out, id: `${out.id} taken out` },
    { ...into, from: noPort },
  ];
}
