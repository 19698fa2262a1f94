import { expect, it } from 'vitest';
import { forwardTrouble } from '../../../src/collect/ssh/forward-trouble.ts';

// The words are those of a real OpenSSH 9.2 server, from memory for the last two.
it.each([
  ['Connection refused', 'refused'],
  ['Connection timed out', 'no-answer'],
  ['No route to host', 'no-route'],
  ['Network is unreachable', 'no-route'],
  ['Name or service not known', 'name-unknown'],
  ['Temporary failure in name resolution', 'name-unknown'],
  ['open failed', 'jump-failed'],
  ['administratively prohibited', 'jump-failed'],
])('%s at the jump host is %s', (words, kind) => {
  const trouble = forwardTrouble('gate', 'vault', `(SSH) Channel open failure: ${words}`);
  expect(trouble).toMatchObject({
    kind,
    seen: `from jump host gate there is no connection to vault: "${words}"`,
  });
});
