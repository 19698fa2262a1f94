import { routesPerNodeMax } from '../types.ts';
import { checkedAddress, checkedMarker } from '../unix/literal.ts';
import { windowsScriptBody } from './script-text.ts';

/**
 * The read-only PowerShell script for one host: one generated line of validated literals, then a
 * constant. It is meant for the standard input of `powershell -Command -`.
 *
 * @param parts.marker what begins the lines between which the output stands; new for every run
 * @param parts.peers literal IP addresses to ask routes for; those beyond `routesPerNodeMax` are
 *   left out
 * @throws on a marker or peer that may not stand in a script: a bug of the caller
 */
export function windowsScript(parts: { marker: string; peers: readonly string[] }): string {
  const marker = checkedMarker(parts.marker);
  const peers = parts.peers.slice(0, routesPerNodeMax).map(checkedAddress);
  const list = peers.map((address) => `'${address}'`).join(',');
  return `$M='${marker}'; $P=@(${list})\n${windowsScriptBody}`;
}
