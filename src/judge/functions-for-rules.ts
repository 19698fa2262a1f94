import { wordRemedy } from '../intent/nearest.ts';

interface Forms {
  /** `size(x)` */
  readonly call?: true;
  /** `x.size()` */
  readonly method?: true;
  /** `x.all(item, condition)` */
  readonly macro?: true;
}

/**
 * The functions that rules may use: those of CEL whose cost is bounded by their operands, and
 * `speed`, which is no part of CEL.
 */
export const functionsForRules: Readonly<Record<string, Forms>> = {
  has: { call: true },
  size: { call: true, method: true },
  min: { call: true },
  max: { call: true },
  string: { call: true },
  // Ours, for texts: a speed in Mb/s as people say it.
  speed: { call: true },
  startsWith: { method: true },
  endsWith: { method: true },
  contains: { method: true },
  exists: { macro: true },
  all: { macro: true },
  exists_one: { macro: true },
  filter: { macro: true },
  map: { macro: true },
};

const remedies: Readonly<Record<string, string>> = {
  dyn: 'facts have types: name the fact itself',
  matches: 'use startsWith, endsWith or contains',
};

/** What to write instead of a function that rules may not use. */
export function functionRemedy(name: string): string {
  return remedies[name] ?? wordRemedy(name, Object.keys(functionsForRules), 'see cel.dev');
}
