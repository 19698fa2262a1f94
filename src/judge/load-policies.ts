import { placeText, quoted, sortFaults } from '../intent/fault.ts';
import type { InputFault, Loaded, PolicyRef } from '../intent/types.ts';
import { createCelEnvironment } from './cel-environment.ts';
import { loadPolicy } from './load-policy.ts';
import type { Policy } from './policy.ts';

/** The text of a policy file, or why there is none and what to do. */
export type PolicySource =
  | { readonly ok: true; readonly file: string; readonly text: string }
  | { readonly ok: false; readonly what: string; readonly remedy: string };

/** Reads the file of a policy: the I/O is the caller's. */
export type ReadPolicy = (ref: PolicyRef) => Promise<PolicySource>;

/** Policies of one run. */
export const policiesMax = 64;

/**
 * All policies in force, in the order given; one that is named twice counts once. Faults of all
 * files are told at once. Rule names are unique over all of them, since waivers name rules.
 */
export async function loadPolicies(
  refs: readonly PolicyRef[],
  read: ReadPolicy,
): Promise<Loaded<readonly Policy[]>> {
  const wanted = distinctRefs(refs);
  const [excess] = wanted.slice(policiesMax);
  if (excess !== undefined) {
    const what = `more than ${policiesMax} policies`;
    return { ok: false, faults: [refFault(excess, { what, remedy: 'join some of them' })] };
  }
  const cel = await createCelEnvironment();
  const policies: Policy[] = [];
  const faults: InputFault[] = [];
  for (const ref of wanted) {
    const source = await read(ref);
    const loaded = source.ok
      ? loadPolicy(source.text, source.file, cel)
      : ({ ok: false, faults: [refFault(ref, source)] } as const);
    if (loaded.ok) policies.push(loaded.value);
    else faults.push(...loaded.faults);
  }
  const all = [...faults, ...repeatedRules(policies)];
  return all.length > 0 ? { ok: false, faults: sortFaults(all) } : { ok: true, value: policies };
}

function distinctRefs(refs: readonly PolicyRef[]): readonly PolicyRef[] {
  return [...new Map(refs.map((ref) => [ref.file ?? `shipped ${ref.name}`, ref])).values()];
}

function refFault(ref: PolicyRef, { what, remedy }: { what: string; remedy: string }): InputFault {
  const place = ref.place ?? { file: ref.file ?? ref.name, line: 1, column: 1 };
  return { place, what: `policy ${quoted(ref.name)}: ${what}`, remedy };
}

function repeatedRules(policies: readonly Policy[]): readonly InputFault[] {
  const first = new Map<string, Policy['rules'][number]>();
  return policies.flatMap(({ rules }) =>
    rules.flatMap((rule) => {
      const before = first.get(rule.rule);
      if (before === undefined) {
        first.set(rule.rule, rule);
        return [];
      }
      const what = `the rule ${quoted(rule.rule)} is there twice`;
      const seen = `first at ${placeText(before.place)}`;
      return [{ place: rule.place, what, seen, remedy: 'rename or remove one' }];
    }),
  );
}
