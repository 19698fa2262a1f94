import { randomBytes } from 'node:crypto';
import {
  defaultReadLimits,
  type ReadLimits,
  type RunScript,
  type ShellKind,
} from '../collect/types.ts';
import { fitScript } from './fit-script.ts';
import { type FitOutcome, type FitRequest, fitPacketsMax } from './fit-types.ts';
import { parseFitOutput } from './parse-fit-output.ts';
import { parseWindowsFit } from './parse-windows-fit.ts';
import { windowsFitScript } from './windows-fit-script.ts';

/** As a reading, but with time for each packet to be lost: the ping6 of macOS waits ten seconds. */
export const fitLimits: ReadLimits = {
  ...defaultReadLimits,
  wholeMs: defaultReadLimits.wholeMs + fitPacketsMax * 10_000,
};

/**
 * Sends a few pings with "don't fragment" set from one host to one address. It is the only
 * reading that sends packets of its own, so nothing calls it unasked.
 *
 * @throws on an address or size that may not stand in a script: a bug of the caller
 */
export async function runFit(
  run: RunScript,
  request: FitRequest,
  limits: ReadLimits,
  signal: AbortSignal,
): Promise<FitOutcome> {
  const marker = `hopgauge-${randomBytes(12).toString('hex')}`;
  const parts = { ...request, marker };
  const script = (shell: ShellKind) =>
    shell === 'powershell' ? windowsFitScript(parts) : fitScript(parts);
  const answer = await run(script, limits, signal);
  if (!answer.ok) return { ok: false, trouble: answer.trouble };
  const parse = answer.shell === 'powershell' ? parseWindowsFit : parseFitOutput;
  return parse(answer.output, parts);
}
