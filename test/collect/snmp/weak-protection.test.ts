import { describe, expect, it } from 'vitest';
import { weakProtection } from '../../../src/collect/snmp/weak-protection.ts';
import { authProtocols, privacyProtocols, type SnmpAccess } from '../../../src/intent/types.ts';

const v3 = (over: Partial<SnmpAccess>): SnmpAccess => ({
  via: 'snmp',
  name: 'x',
  version: '3',
  ...over,
});

describe('weakProtection', () => {
  it('names what is weak, for every pair of protocols', () => {
    const named = authProtocols.flatMap((auth) =>
      privacyProtocols.map(
        (privacy) => [auth, privacy, weakProtection(v3({ auth, privacy }))] as const,
      ),
    );
    for (const [auth, privacy, words] of named) {
      const weak = auth === 'md5' || auth === 'sha' || privacy === 'des';
      expect(words === undefined, `${auth} ${privacy}`).toBe(!weak);
      if (auth === 'md5') expect(words).toContain('MD5');
      if (auth === 'sha') expect(words).toContain('SHA-1');
      if (privacy === 'des') expect(words).toContain('DES');
    }
    expect(named).toHaveLength(24);
  });

  it.each([
    ['a community', v3({ version: '2c' }), /clear text; use SNMPv3$/],
    ['no privacy', v3({ auth: 'sha256' }), /^weak: all that is read .* set privacy$/],
    ['nothing at all', v3({}), /anybody may answer.*set auth; all that is read/],
  ])('%s', (_, access, words) => {
    expect(weakProtection(access)).toMatch(words);
  });
});
