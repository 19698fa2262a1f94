import { dictionary } from '../../facts/dictionary.ts';
import { factsText, rulesText } from '../../report/rules-text.ts';
import type { Io } from '../io.ts';
import { hasDefaultIntent, requireIntent, requirePolicies, shippedNames } from '../load-inputs.ts';
import type { RulesOptions } from '../options.ts';
import { textLook } from '../write-result.ts';

/** Prints the rules in force, or with `--facts` the dictionary of facts that rules may read. */
export async function rules(
  file: string | undefined,
  options: RulesOptions,
  io: Io,
): Promise<number> {
  const { width } = textLook(undefined, io);
  if (options.facts === true) {
    io.stdout.write(factsText(dictionary, width));
    return 0;
  }
  const named = file ?? options.intent;
  // Without an intent the shipped rules are listed, so that one can look before writing any.
  const intent =
    named === undefined && !(await hasDefaultIntent(io))
      ? { policies: (await shippedNames(io)).map((name) => ({ name })), waivers: [] }
      : await requireIntent(named, io);
  io.stdout.write(rulesText(await requirePolicies(intent, io), width));
  return 0;
}
