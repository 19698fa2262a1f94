import { describe, expect, it } from 'vitest';
import { parseEthtoolFec } from '../../../src/collect/unix/ethtool-fec.ts';

const head = 'FEC parameters for eth4:\n';

describe('parseEthtoolFec', () => {
  it.each([
    [`${head}Supported/Configured FEC encodings: Auto RS BaseR\nActive FEC encoding: RS\n`, 'RS'],
    [`${head}Configured FEC encodings: Off\nActive FEC encoding: Off\n`, 'Off'],
    [`${head}Active FEC encodings: BaseR RS\n`, 'BaseR RS'],
    [`${head}Supported/Configured FEC encodings: RS\n`, undefined],
    [`${head}Active FEC encoding:\nRS\n`, undefined],
    ['', undefined],
  ])('%j', (output, read) => {
    expect(parseEthtoolFec(output)).toBe(read);
  });
});
