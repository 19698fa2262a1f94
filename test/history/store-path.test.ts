import { expect, it } from 'vitest';
import { defaultStorePath } from '../../src/history/store-path.ts';

// XDG Base Directory Specification 0.8: $XDG_STATE_HOME, by default $HOME/.local/state; paths must be
// absolute, and a relative one is to be ignored.
it.each([
  ['nothing set', {}, '/home/tide/.local/state/hopgauge/history.sqlite'],
  ['set', { XDG_STATE_HOME: '/var/state' }, '/var/state/hopgauge/history.sqlite'],
  ['empty', { XDG_STATE_HOME: '' }, '/home/tide/.local/state/hopgauge/history.sqlite'],
  ['relative', { XDG_STATE_HOME: 'state' }, '/home/tide/.local/state/hopgauge/history.sqlite'],
])('the history lies in the state folder: %s', (_, env, file) => {
  expect(defaultStorePath(env, '/home/tide')).toBe(file);
});
