import type { PortReadFacts } from '../facts/port-facts.ts';
import type { MtuChange } from '../intent/types.ts';
import type { AskedSetting } from './asked.ts';
import type { Disturbance } from './types.ts';

const byWord = { live: 'nothing', bounce: 'link-bounce', reload: 'node-reload' } as const;

/**
 * What a setting does to what runs over the port: a new MTU takes the link down for a moment with
 * many drivers and switches, and with some restarts a switch (common practice), unless the owner
 * says what it does. What has no hardware of its own has no link to lose.
 */
export function disturbanceOf(
  setting: AskedSetting['setting'],
  facts: PortReadFacts | undefined,
  word: MtuChange | undefined,
): Disturbance {
  if (setting === 'link') return 'link-moved';
  if (setting === 'node') return 'node-out';
  if (setting !== 'mtu') return 'link-bounce';
  if (word !== undefined) return byWord[word];
  const { kind } = facts ?? {};
  return kind === 'vlan' || kind === 'bridge' || kind === 'tunnel' || kind === 'virtual'
    ? 'nothing'
    : 'link-bounce';
}
