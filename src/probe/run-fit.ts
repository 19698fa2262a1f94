import { randomBytes } from 'node:crypto';
import type { ReadLimits, RunScript } from '../collect/types.ts';
import { fitScript } from './fit-script.ts';
import type { FitOutcome, FitRequest } from './fit-types.ts';
import { parseFitOutput } from './parse-fit-output.ts';

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
  const answer = await run(fitScript(parts), limits, signal);
  if (!answer.ok) return { ok: false, trouble: answer.trouble };
  return parseFitOutput(answer.output, parts);
}
