import type { ChangeRemark } from '../change/types.ts';

/** Most subjects that one line names. */
const namedMax = 5;

/** What is said of one, said of several. */
const plurals: Readonly<Record<string, string>> = {
  cannot: 'cannot',
  carries: 'each carry',
  has: 'have',
  is: 'are',
  lacks: 'each lack',
  stays: 'each stay',
  wants: 'want',
};

/**
 * Remarks of one kind that say the same of several subjects as one, where the first of them stood.
 * It names five subjects and counts the rest.
 */
export function foldRemarks(remarks: readonly ChangeRemark[]): ChangeRemark[] {
  const same = new Map<string, ChangeRemark[]>();
  for (const remark of remarks) {
    const { kind, what, remedy } = remark;
    const key = JSON.stringify(many(what) === undefined ? remark : [kind, what, remedy]);
    const before = same.get(key);
    if (before === undefined) same.set(key, [remark]);
    else before.push(remark);
  }
  return [...same.values()].flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const what = many(first.what);
    return group.length === 1 || what === undefined
      ? [first]
      : [{ ...first, on: subjects(group.map(({ on }) => on)), what }];
  });
}

function many(what: string): string | undefined {
  const [verb = ''] = what.split(' ', 1);
  const plural = plurals[verb];
  return plural === undefined ? undefined : `${plural}${what.slice(verb.length)}`;
}

function subjects(names: readonly string[]): string {
  const rest = names.length - namedMax;
  const named = rest > 0 ? [...names.slice(0, namedMax), `${rest} more`] : names;
  return `${named.slice(0, -1).join(', ')} and ${named.at(-1)}`;
}
