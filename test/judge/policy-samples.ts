import { createCelEnvironment } from '../../src/judge/cel-environment.ts';
import { loadPolicy } from '../../src/judge/load-policy.ts';
import type { Policy } from '../../src/judge/policy.ts';

const cel = await createCelEnvironment();

/** The file that `policyOf` pretends to read. */
export const sampleFile = 'own.yaml';

/** A policy from the lines of its rules. Throws when it has faults. */
export function policyOf(...rules: readonly string[]): Policy {
  const text = `policy: own\nabout: Samples.\nrules:\n${rules.join('')}`;
  const loaded = loadPolicy(text, sampleFile, cel);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults, null, 2));
  return loaded.value;
}

/** Lines of a rule; keys given replace the defaults. */
export function ruleLines(keys: Readonly<Record<string, string>>): string {
  const all = {
    rule: 'sample',
    judges: 'port',
    holds: 'port.operUp',
    severity: 'error',
    says: 'is not so',
    source: 'common practice',
    ...keys,
  };
  const lines = Object.entries(all).map(([key, value]) => `    ${key}: ${JSON.stringify(value)}\n`);
  return lines.join('').replace(/^ {3}/, '  -');
}
