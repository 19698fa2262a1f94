import { readFile } from 'node:fs/promises';
import { loadPolicies } from '../../src/judge/load-policies.ts';
import type { Policy } from '../../src/judge/policy.ts';

/** Shipped policies by name, as they are in the repository. Throws when one has faults. */
export async function loadShipped(...names: readonly string[]): Promise<readonly Policy[]> {
  const loaded = await loadPolicies(
    names.map((name) => ({ name })),
    async ({ name }) => {
      const url = new URL(`../../policies/${name}.yaml`, import.meta.url);
      return { ok: true, file: `policies/${name}.yaml`, text: await readFile(url, 'utf8') };
    },
  );
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults, null, 2));
  return loaded.value;
}
