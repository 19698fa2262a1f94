import { randomBytes } from 'node:crypto';
import type { ReadLimits, ReadOutcome, ReadRequest, RunScript } from '../types.ts';
import { framesOf } from './frames.ts';
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
  if (answer.ok) return outcomeOf(answer, marker);
  const { trouble, came } = answer;
  // A command that hangs among the last questions costs their answers, not the node.
  const enough = came !== undefined && !signal.aborted && framesOf(came.output, marker).core;
  return enough ? outcomeOf(came, marker) : { ok: false, trouble };
}

function outcomeOf(
  came: { readonly output: Uint8Array; readonly hostKey?: string },
  marker: string,
): ReadOutcome {
  const outcome = parseUnixOutput(came.output, marker);
  if (!outcome.ok || came.hostKey === undefined) return outcome;
  const { reading } = outcome;
  return {
    ok: true,
    reading: {
      ...reading,
      facts: { ...reading.facts, hostKey: came.hostKey },
      sources: { ...reading.sources, hostKey: 'SSH key exchange' },
    },
  };
}
