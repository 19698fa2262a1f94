import { randomBytes } from 'node:crypto';
import type { ReadLimits, ReadOutcome, ReadRequest, RunScript, ShellKind } from './types.ts';
import { framesOf } from './unix/frames.ts';
import { parseUnixOutput } from './unix/parse-unix-output.ts';
import { unixScript } from './unix/unix-script.ts';
import { parseWindowsOutput } from './windows/parse-windows-output.ts';
import { plainText } from './windows/plain-text.ts';
import { windowsScript } from './windows/windows-script.ts';

/**
 * Reads one host by sending it the script for its shell once. Never throws for what the host or the
 * network does. `limits` bounds time and size.
 */
export async function readHost(
  run: RunScript,
  request: ReadRequest,
  limits: ReadLimits,
  signal: AbortSignal,
): Promise<ReadOutcome> {
  const marker = `hopgauge-${randomBytes(12).toString('hex')}`;
  const parts = { marker, peers: request.peers };
  const script = (shell: ShellKind) =>
    shell === 'powershell' ? windowsScript(parts) : unixScript(parts);
  const answer = await run(script, limits, signal);
  if (answer.ok) return outcomeOf(answer, marker);
  const { trouble, came } = answer;
  // A command that hangs among the last questions costs their answers, not the node.
  const enough = came !== undefined && !signal.aborted && hasCore(came, marker);
  return enough ? outcomeOf(came, marker) : { ok: false, trouble };
}

interface Came {
  readonly output: Uint8Array;
  readonly shell?: ShellKind;
  readonly hostKey?: string;
}

function hasCore({ output, shell }: Came, marker: string): boolean {
  return framesOf(shell === 'powershell' ? plainText(output) : output, marker).core;
}

function outcomeOf(came: Came, marker: string): ReadOutcome {
  const parse = came.shell === 'powershell' ? parseWindowsOutput : parseUnixOutput;
  const outcome = parse(came.output, marker);
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
