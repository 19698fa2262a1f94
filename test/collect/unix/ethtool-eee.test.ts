import { describe, expect, it } from 'vitest';
import { parseEthtoolEee } from '../../../src/collect/unix/ethtool-eee.ts';

describe('parseEthtoolEee', () => {
  it.each([
    ['EEE settings for eno1:\n\tEEE status: enabled - active\n', { enabled: true, active: true }],
    ['EEE Settings for eno1:\n\tEEE status: enabled - inactive', { enabled: true, active: false }],
    ['EEE settings for eno1:\n\tEEE status: disabled\n', { enabled: false, active: false }],
    ['EEE settings for eno1:\n\tEEE status: not supported\n', { said: 'not supported' }],
    ['EEE settings for eno1:\n\tEEE status: enabled\n', { said: 'enabled' }],
    ['EEE settings for eno1:\n\tTx LPI: 17 (us)\n', undefined],
    ['', undefined],
  ])('%j', (output, read) => {
    expect(parseEthtoolEee(output)).toEqual(read);
  });
});
