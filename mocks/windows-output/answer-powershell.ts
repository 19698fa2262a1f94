import type { DescribedWindows } from './described-windows.ts';
import { renderWindows } from './render-windows.ts';

/**
 * What the described host prints when PowerShell is sent `script` on its standard input; undefined
 * where the script is not one of hopgauge's.
 */
export function answerPowershell(host: DescribedWindows, script: string): string | undefined {
  const mark = /^echo (door-[0-9a-f]+)\n$/.exec(script)?.[1];
  if (mark !== undefined) return `${mark}\r\n`;
  const first = script.split('\n', 1)[0] ?? '';
  const [, marker, peers = ''] =
    /^\$M='([\w.:-]+)'; \$P=@\(([0-9A-Fa-f.:',]*)\)$/.exec(first) ?? [];
  if (marker === undefined) return undefined;
  return renderWindows(host, marker, peers.match(/[0-9A-Fa-f.:]+/g) ?? []);
}
