import { homedir, userInfo } from 'node:os';
import type { OwnAccount } from '../collect/ssh/ssh-settings.ts';

/** What the system says of the user that this process runs as; each throws where it has no entry. */
export interface AccountSource {
  readonly home: () => string;
  readonly userName: () => string;
  /** Numeric user; absent where the system has none. */
  readonly userId?: number | undefined;
}

const system: AccountSource = {
  home: homedir,
  userName: () => userInfo().username,
  userId: process.getuid?.(),
};

/**
 * The account of this process, to log in from. A user without an entry in the system's list, as in
 * a container, goes by USER or LOGNAME, else by its number, as `ls -l` shows it; its home is then
 * the root folder. Never throws.
 */
export function ownAccount(
  env: Readonly<Record<string, string | undefined>>,
  source: AccountSource = system,
): OwnAccount {
  const named = env['USER'] || env['LOGNAME'];
  return {
    home: told(source.home) ?? '/',
    userName: told(source.userName) ?? (named || `${source.userId ?? 'unknown'}`),
  };
}

function told(ask: () => string): string | undefined {
  try {
    return ask();
  } catch {
    return undefined;
  }
}
