import { describe, expect, it } from 'vitest';
import { loadShipped } from '../judge/shipped.ts';
import { scene } from './confirm-scene.ts';

// A smaller declaration moves no packet: TCP agrees on what both ends are set to (RFC 9293 3.7.1).
describe('ends that stay larger than a switch passes', () => {
  const sketch = { hosts: 9000, switches: 1522, declared: 9000 };
  const text = 'segments: { storage: { mtu: 1500 } }';

  it('are not mended by declaring less, and are by being set', async () => {
    const policies = await loadShipped('jumbo');
    const on = (taken: number | undefined) => {
      const set = taken === undefined ? {} : { taken };
      const { findings } = scene({ text, sketch, policies, ...set });
      const rules = (list: typeof findings.mended) =>
        list.flatMap(({ rule, subject }) => (subject.id === 'plotting' ? [rule] : []));
      return [rules(findings.mended), rules(findings.broken)];
    };
    expect(on(0)).toEqual([[], ['passes-what-is-sent']]);
    expect(on(undefined)).toEqual([['path-clearance'], []]);
  });
});
