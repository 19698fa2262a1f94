import type { Trouble } from '../../facts/trouble.ts';
import type { ReadOutcome } from '../types.ts';
import { type Framed, framesOf, noMarks } from '../unix/frames.ts';
import { isGap } from '../unix/linux-evidence.ts';
import { plainText } from './plain-text.ts';
import { rowsOf } from './rows.ts';
import { windowsReading } from './windows-reading.ts';

const shellRemedy =
  'see that the account may run powershell; where the default shell of the SSH server is a POSIX shell, write ssh: { system: unix } in the intent';

/**
 * Reads what the script of `windowsScript` printed. Never throws. An answer that ends early gives
 * what came whole, with the gap `truncated` for the rest, or trouble where not even the list of
 * adapters came.
 */
export function parseWindowsOutput(output: Uint8Array, marker: string): ReadOutcome {
  const framed = framesOf(plainText(output), marker);
  if (!framed.begun) return { ok: false, trouble: noMarks(framed, shellRemedy) };
  const reading = windowsReading(framed);
  if (reading !== undefined) return { ok: true, reading };
  return { ok: false, trouble: framed.whole ? noAdapters(framed) : cutShort };
}

function noAdapters(framed: Framed): Trouble {
  const adapters = rowsOf(framed, 'adapters');
  const interfaces = rowsOf(framed, 'interfaces');
  const words = [adapters, interfaces].flatMap((rows) => (isGap(rows) ? [rows.words] : []));
  return {
    kind: 'garbled',
    seen: `no list of adapters: "${words.join('; ') || 'no words'}"`,
    remedy: 'let the account run Get-NetAdapter, or powershell in its full language mode',
  };
}

const cutShort: Trouble = {
  kind: 'truncated',
  seen: 'the answer ended before the list of adapters was whole',
  remedy: 'run the reading again; raise the time limit if the node is slow',
};
