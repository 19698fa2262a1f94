import { join } from 'node:path';

/**
 * Where the history lies when nothing says otherwise: the state folder of the XDG Base Directory
 * Specification, `~/.local/state` by default; a relative value of the variable is ignored, as it
 * says.
 */
export function defaultStorePath(
  env: Readonly<Record<string, string | undefined>>,
  home: string,
): string {
  const state = env['XDG_STATE_HOME'];
  const folder = state?.startsWith('/') === true ? state : join(home, '.local', 'state');
  return join(folder, 'hopgauge', 'history.sqlite');
}
