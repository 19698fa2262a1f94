import { describe, expect, it } from 'vitest';
import { type Trouble, troubleKinds } from '../../src/facts/trouble.ts';
import {
  type Connected,
  keepWatching,
  mayReturn,
  type NodeEvent,
} from '../../src/probe/keep-watching.ts';
import type { LiveEnd } from '../../src/probe/live-types.ts';
import { looksAt } from './live-looks.ts';

const trouble = (kind: Trouble['kind']): Trouble => ({ kind, seen: kind, remedy: 'see' });
const lost: LiveEnd = { is: 'lost', trouble: trouble('truncated') };
const noDoor = (kind: Trouble['kind']): Connected => ({ ok: false, trouble: trouble(kind) });
/** Gives one look and then ends so. */
const looking = (end: LiveEnd): Connected => ({
  ok: true,
  watch: async (onLooks) => {
    onLooks(looksAt(0));
    return end;
  },
});

async function eventsOf(connections: readonly Connected[]) {
  const events: string[] = [];
  let attempts = 0;
  const onEvent = (event: NodeEvent) => {
    events.push(
      event.is === 'looks' ? 'looks' : `${event.trouble.kind} ${event.again ? 'again' : 'over'}`,
    );
  };
  await keepWatching({
    connect: async () => connections[attempts++] ?? looking({ is: 'over' }),
    onEvent,
    signal: new AbortController().signal,
    now: () => new Date(0),
    waitsMs: [1],
  });
  return { events, attempts };
}

describe('keepWatching', () => {
  it('tells a loss once, however often it is tried in vain, and goes on', async () => {
    const away = [noDoor('no-answer'), noDoor('no-route'), noDoor('refused')];
    expect(await eventsOf([looking(lost), ...away, looking(lost)])).toEqual({
      events: ['looks', 'truncated again', 'looks', 'truncated again', 'looks'],
      attempts: 6,
    });
  });

  it.each([
    'login-refused',
    'credential-spent',
    'host-key-changed',
    'auth-wrong',
    'no-marks',
    'secret-missing',
  ] as const)('makes no second attempt after %s', async (kind) => {
    expect(await eventsOf([noDoor(kind)])).toEqual({ events: [`${kind} over`], attempts: 1 });
    expect(await eventsOf([looking(lost), noDoor(kind)])).toEqual({
      events: ['looks', 'truncated again', `${kind} over`],
      attempts: 2,
    });
  });

  it('asks again without a word where an agent started anew', async () => {
    expect(await eventsOf([looking({ is: 'again' })])).toEqual({
      events: ['looks', 'looks'],
      attempts: 2,
    });
  });

  it('ends at once with its signal', async () => {
    const stop = new AbortController();
    const done = keepWatching({
      connect: async () => noDoor('no-answer'),
      onEvent: () => stop.abort(),
      signal: stop.signal,
      now: () => new Date(0),
      waitsMs: [1_000_000],
    });
    await expect(done).resolves.toBeUndefined();
  });
});

describe('mayReturn', () => {
  it('tries again only where a node may be off or its way unplugged', () => {
    const kinds = (Object.keys(troubleKinds) as Trouble['kind'][]).filter((kind) =>
      mayReturn(trouble(kind)),
    );
    expect(kinds.sort()).toEqual(
      [
        'asleep',
        'clock-lost',
        'name-unknown',
        'no-answer',
        'no-route',
        'refused',
        'server-busy',
        'silent',
        'time-over',
        'truncated',
      ].sort(),
    );
  });
});
