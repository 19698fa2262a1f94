import { afterEach, describe, expect, it } from 'vitest';
import { type RunningAgent, startAgent } from '../../../mocks/snmp-agent/start-agent.ts';
import type { Vice } from '../../../mocks/snmp-agent/vices.ts';
import { readSnmp } from '../../../src/collect/snmp/read-snmp.ts';
import { everyTopic } from '../../../src/facts/read-topics.ts';
import { limits, plainSwitch, quickTiming, target } from './quay-switch.ts';

let agent: RunningAgent | undefined;
afterEach(() => agent?.stop());

/** Time of one node that no agent here may use up, in milliseconds. */
const wholeMs = 4000;
const floodBytesMax = 64 * 1024;

/** The first trouble or gap that a reading of an agent with one vice has, and what it cost. */
async function firstWord(vice: Vice) {
  agent = await startAgent({ switch: plainSwitch(12), vice });
  const within = { ...limits, wholeMs, outputBytesMax: floodBytesMax };
  const startedMs = performance.now();
  const outcome = await readSnmp(
    { ...target(agent), timing: quickTiming },
    { peers: [], topics: everyTopic },
    within,
    new AbortController().signal,
  );
  const tookMs = performance.now() - startedMs;
  const port = agent.port;
  if (!outcome.ok) {
    return {
      tookMs,
      words: `${outcome.trouble.kind}: ${outcome.trouble.seen.replace(`${port}`, 'N')}`,
    };
  }
  const { ports, portGaps } = outcome.reading;
  const flood = Object.values(portGaps).find(({ words }) => words.includes('more than it may'));
  // How far it came depends on what the socket's buffer lost.
  if (flood !== undefined)
    return { tookMs, words: `cut short: ${flood.words.replace(/^\w+: /, '')}` };
  const mtus = ports.filter(({ facts }) => facts.mtuBytes === 9216).length;
  const gap =
    ports.at(-1)?.gaps?.['mtuBytes'] ?? portGaps['mtuBytes'] ?? outcome.reading.gaps['ports'];
  return { tookMs, words: `${mtus} of ${ports.length} ports${gap ? `: ${gap.words}` : ''}` };
}

describe('an agent with one vice', () => {
  it.each<[Vice, string]>([
    ['hangs', 'silent: no answer from 127.0.0.1 port N'],
    ['floods', 'cut short: sent more than it may'],
    ['cuts-replies', 'garbled: what answers at 127.0.0.1 port N does not speak SNMP'],
    [
      'lies-about-length',
      'garbled: the agent at 127.0.0.1 port N answered with other objects than were asked for',
    ],
    ['too-big-always', 'garbled: the agent at 127.0.0.1 port N answered tooBig'],
    ['drops-every-third', '12 of 12 ports'],
    ['out-of-order', '12 of 12 ports'],
    [
      'loops',
      '1 of 12 ports: ifMtu: answered with an object that does not come after the one before',
    ],
    ['empty-replies', '0 of 0 ports: ifName: answered with other objects than were asked for'],
  ])('%s costs less than its time and says: %s', async (vice, words) => {
    const seen = await firstWord(vice);
    expect(seen.words).toBe(words);
    expect(seen.tookMs).toBeLessThan(wholeMs + 500);
  });
});
