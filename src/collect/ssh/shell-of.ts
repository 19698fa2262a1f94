import type { SshAccess } from '../../intent/types.ts';
import type { ShellKind } from '../types.ts';

/** Software version of the SSH server that Windows ships, as its identification line says it. */
const windowsServer = /(?:^|\n)SSH-[\d.]+-OpenSSH_for_Windows_/;

/**
 * What runs a script on a host: what the access declares, else what the server calls itself in its
 * identification string (RFC 4253 section 4.2), which it sends before anything is asked of it.
 *
 * @param greeting what the server said first, lines before its identification included
 */
export function shellOf({ system }: Pick<SshAccess, 'system'>, greeting: string): ShellKind {
  if (system !== undefined) return system === 'windows' ? 'powershell' : 'sh';
  return windowsServer.test(greeting) ? 'powershell' : 'sh';
}
