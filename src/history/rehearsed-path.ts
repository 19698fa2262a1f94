import { createHash } from 'node:crypto';
import { dirname, join } from 'node:path';
import { defaultStorePath } from './store-path.ts';

/**
 * Where a rehearsal is kept when nothing says otherwise: beside the history, one file for each
 * change and intent, both absolute. The name is a digest, since paths may be long or odd.
 */
export function rehearsedPath(
  env: Readonly<Record<string, string | undefined>>,
  home: string,
  { change, intent }: { readonly change: string; readonly intent: string },
): string {
  const digest = createHash('sha256')
    .update(JSON.stringify([change, intent]))
    .digest('hex');
  const folder = join(dirname(defaultStorePath(env, home)), 'rehearsed');
  return join(folder, `${digest.slice(0, 24)}.json`);
}
