import { existsSync } from 'node:fs';
import { must } from '../lab/harness/command.ts';
import { chromiumProgram } from './chromium.ts';

/** Whether the pages can be tried in a browser here, and what was installed for it. */
export type Prepared =
  | { readonly ready: true; readonly installed: readonly string[] }
  | { readonly ready: false; readonly why: string };

/**
 * Makes this machine able to try pages: installs Debian's `chromium` where it is missing and no
 * other package. Never throws: a machine that cannot is told apart, with the reason.
 */
export async function prepareBrowser(): Promise<Prepared> {
  if (existsSync(chromiumProgram)) return { ready: true, installed: [] };
  if (!existsSync('/usr/bin/apt-get')) return skipped('no Chromium here, and no apt-get');
  if (process.getuid?.() !== 0) return skipped('no Chromium here, and only root can install it');
  try {
    const env = { PATH: process.env['PATH'] ?? '', DEBIAN_FRONTEND: 'noninteractive' };
    await must(['apt-get', 'update', '-q'], { env, timeoutMs: 300_000 });
    await must(['apt-get', 'install', '-q', '-y', '--no-install-recommends', 'chromium'], {
      env,
      timeoutMs: 900_000,
    });
    return { ready: true, installed: ['chromium'] };
  } catch (error) {
    return skipped(error instanceof Error ? error.message : String(error));
  }
}

function skipped(why: string): Prepared {
  return { ready: false, why };
}
