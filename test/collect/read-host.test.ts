import { describe, expect, it } from 'vitest';
import { answerScript } from '../../mocks/unix-output/answer-script.ts';
import { readHost } from '../../src/collect/read-host.ts';
import { scriptFor } from '../../src/collect/script-for.ts';
import { defaultReadLimits, type HostScript, type ScriptOutcome } from '../../src/collect/types.ts';
import { everyTopic } from '../../src/facts/read-topics.ts';
import { plot1, vault } from './unix/described.ts';

const trouble = { kind: 'time-over', seen: 'plot-1 did not finish', remedy: 'wait' } as const;

/** A host whose answer ends in time over, after as much as `until` takes of it. */
async function overAt(
  host: typeof vault,
  until: (answer: string) => number,
  signal: AbortSignal = new AbortController().signal,
) {
  const run = (script: HostScript): Promise<ScriptOutcome> => {
    const answer = answerScript(host, scriptFor(script, 'sh')) ?? '';
    const output = new TextEncoder().encode(answer.slice(0, until(answer)));
    return Promise.resolve({ ok: false, trouble, came: { output, hostKey: 'SHA256:abc' } });
  };
  return readHost(run, { peers: [], topics: everyTopic }, defaultReadLimits, signal);
}

const inRest = (answer: string) => answer.indexOf(' rest\n') + 8;
const beforeRest = (answer: string) => answer.indexOf(' rest\n') - 1;

describe('a reading whose time is over', () => {
  it.each([
    ['linux', vault, 'eth4', 'pauseRx'],
    ['macos', plot1, 'en7', 'busText'],
  ])('keeps all but the last questions of %s, when they hang', async (_, host, name, fact) => {
    const outcome = await overAt(host, inRest);
    if (!outcome.ok) throw new Error(outcome.trouble.seen);
    const { ports, portGaps, facts, gaps } = outcome.reading;
    const port = ports.find((one) => one.name === name);
    expect(port?.facts).toMatchObject({ mtuBytes: 9000, speedMbps: 10_000, duplex: 'full' });
    expect(port?.facts).not.toHaveProperty(fact);
    expect({ ...portGaps, ...port?.gaps }[fact]).toEqual({
      reason: 'truncated',
      words: 'the answer ended before this',
    });
    expect(gaps['routes']).toBeUndefined();
    expect(facts.hostKey).toBe('SHA256:abc');
  });

  it('is none where it hangs earlier', async () => {
    expect(await overAt(vault, beforeRest)).toEqual({ ok: false, trouble });
    expect(await overAt(vault, () => 0)).toEqual({ ok: false, trouble });
  });

  it('is none where it was stopped from outside', async () => {
    expect(await overAt(vault, inRest, AbortSignal.abort())).toEqual({ ok: false, trouble });
  });
});
