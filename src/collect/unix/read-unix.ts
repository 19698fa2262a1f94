import { randomBytes } from 'node:crypto';
import type { ReadLimits, ReadOutcome, ReadRequest, RunScript } from '../types.ts';
import { parseUnixOutput } from './parse-unix-output.ts';
import { unixScript } from './unix-script.ts';

/**
 * Reads one Unix host by sending it the script once. Never throws for what the host or the
 * network does. `limits` bounds time and size.
 */
export async function readUnix(
  run: RunScript,
  request: ReadRequest,
  limits: ReadLimits,
  signal: AbortSignal,
): Promise<ReadOutcome> {
  const marker = `hopgauge-${randomBytes(12).toString('hex')}`;
  const answer = await run(unixScript({ marker, peers: request.peers }), limits, signal);
  if (!answer.ok) return answer;
  const outcome = parseUnixOutput(answer.output, marker);
  if (!outcome.ok || answer.hostKey === undefined) return outcome;
  const { reading } = outcome;
  return {
    ok: true,
    reading: {
      ...reading,
      facts: { ...reading.facts, hostKey: answer.hostKey },
      sources: { ...reading.sources, hostKey: 'SSH key exchange' },
    },
  };
}
