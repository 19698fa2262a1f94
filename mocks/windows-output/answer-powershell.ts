import type { DescribedWindows } from './described-windows.ts';
import { renderWindows } from './render-windows.ts';
import { renderWindowsFit } from './render-windows-fit.ts';

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
  if (marker === undefined) return answerFit(host, first);
  return renderWindows(host, marker, peers.match(/[0-9A-Fa-f.:]+/g) ?? []);
}

/** What the script that tries packet sizes prints. */
function answerFit(host: DescribedWindows, first: string): string | undefined {
  const [, marker, toAddress = '', rising = '', near = '', floor = ''] =
    /^\$M='([\w.:-]+)'; \$A='([0-9A-Fa-f.:]+)'; \$sizes=@\(([0-9,]*)\); \$near=@\(([0-9,]*)\); \$floor=([0-9]+)$/.exec(
      first,
    ) ?? [];
  if (marker === undefined) return undefined;
  const numbers = (text: string) =>
    (text.match(/\d+/g) ?? []).map((size) => Number.parseInt(size, 10));
  const payloads = {
    risingBytes: numbers(rising),
    nearBytes: numbers(near),
    floorBytes: Number.parseInt(floor, 10),
  };
  return renderWindowsFit(host, { marker, toAddress, payloads });
}
