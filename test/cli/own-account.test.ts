import { describe, expect, it } from 'vitest';
import { ownAccount } from '../../src/cli/own-account.ts';

const none = (): string => {
  throw new Error('uv_os_get_passwd returned ENOENT');
};

describe('the account of this process', () => {
  const entry = { home: () => '/home/sel', userName: () => 'sel', userId: 1000 };
  const missing = { home: none, userName: none, userId: 54321 };
  const rows = [
    ['of the system, whatever the environment says', { USER: 'other' }, entry, '/home/sel', 'sel'],
    ['without an entry, named by USER', { USER: 'auditor', LOGNAME: 'x' }, missing, '/', 'auditor'],
    ['without an entry, named by LOGNAME', { USER: '', LOGNAME: 'au' }, missing, '/', 'au'],
    ['without an entry or a name: its number', {}, missing, '/', '54321'],
    ['only its name missing', {}, { ...missing, home: () => '/srv' }, '/srv', '54321'],
  ] as const;
  for (const [name, env, source, home, userName] of rows) {
    it(name, () => {
      expect(ownAccount(env, source)).toEqual({ home, userName });
    });
  }
});
