import { expect, it } from 'vitest';
import { rehearsedPath } from '../../src/history/rehearsed-path.ts';

const named = { change: '/desk/storage.yaml', intent: '/desk/hopgauge.yaml' };

it('lies beside the history, one for each change and intent', () => {
  const path = (files: typeof named, env = {}) => rehearsedPath(env, '/home/tide', files);
  expect(path(named)).toMatch(
    /^\/home\/tide\/\.local\/state\/hopgauge\/rehearsed\/[0-9a-f]{24}\.json$/,
  );
  expect(path(named, { XDG_STATE_HOME: '/var/state' })).toMatch(
    /^\/var\/state\/hopgauge\/rehearsed\//,
  );
  expect(path({ ...named })).toBe(path(named));
  expect(path({ ...named, change: '/desk/office.yaml' })).not.toBe(path(named));
  expect(path({ ...named, intent: '/loft/hopgauge.yaml' })).not.toBe(path(named));
});
