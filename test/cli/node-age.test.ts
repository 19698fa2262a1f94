import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { nodeAtLeast, tooOldNode } from '../../src/cli/node-age.ts';

it('the oldest Node is that of the package', () => {
  expect(readFileSync('package.json', 'utf8')).toContain(`"node": ">=${nodeAtLeast}"`);
});

it.each(['20.19.0', '20.20.2', '22.0.0', '100.1.0'])('Node %s is new enough', (running) => {
  expect(tooOldNode(running, '/usr/bin/node')).toBeUndefined();
});

it.each(['20.18.3', '18.20.8', '9.99.0'])('Node %s is too old, and told so', (running) => {
  expect(tooOldNode(running, '/usr/bin/node')).toBe(
    `hopgauge: needs Node.js 20.19 or newer, and /usr/bin/node is ${running}; install a newer one, or put its folder first in PATH`,
  );
});
