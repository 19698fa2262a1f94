import { exitStatuses } from '../report/exit-status.ts';
import type { AuditInputs } from './audit-inputs.ts';
import type { Io } from './io.ts';
import { requireIntent, requirePolicies } from './load-inputs.ts';
import { RunFault } from './run-fault.ts';

/** A site and what its audit begins with. */
export interface LoadedSite {
  readonly site: string;
  readonly inputs: Omit<AuditInputs, 'job'>;
}

/** All intents before anything is read; all their faults at once. */
export async function loadSites(files: readonly string[], io: Io): Promise<readonly LoadedSite[]> {
  const loaded: LoadedSite[] = [];
  const lines: string[] = [];
  const first = new Map<string, string>();
  for (const file of files) {
    try {
      const intent = await requireIntent(file, io);
      const policies = await requirePolicies(intent, io);
      const before = first.get(intent.site);
      if (before === undefined) first.set(intent.site, file);
      else
        lines.push(
          `${file}: the site '${intent.site}' is that of ${before}, too, and the history keeps sites apart by name; give each its own`,
        );
      loaded.push({ site: intent.site, inputs: { intent, policies } });
    } catch (error) {
      if (!(error instanceof RunFault)) throw error;
      lines.push(...error.lines);
    }
  }
  const words = new Map<string, string>();
  for (const { site } of loaded) {
    const same = words.get(fileWord(site));
    if (same !== undefined && same !== site)
      lines.push(`the sites '${same}' and '${site}' would write the same files; rename one`);
    words.set(fileWord(site), site);
  }
  if (lines.length > 0) throw new RunFault(exitStatuses.input, lines);
  return loaded;
}

/** The name of a site as part of the name of a file. */
export function fileWord(site: string): string {
  return site.replace(/[^\p{L}\p{N}._-]+/gu, '-').replace(/^\.+/, '-');
}
