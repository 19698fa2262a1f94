import { describe, expect, it } from 'vitest';
import { systemSshTrouble } from '../../../src/collect/ssh/system-ssh-trouble.ts';

// Lines of OpenSSH 9.2, as it prints them in the C locale at LogLevel=ERROR.

const refusal = (methods: string) =>
  `auditor@plot.lab.office.example: Permission denied (${methods}).\r\n`;

describe('a login that the ssh of the system was refused', () => {
  it.each([
    ['a host that takes tickets alone', 'gssapi-keyex,gssapi-with-mic', true],
    ['one that takes them too', 'publickey,gssapi-keyex,gssapi-with-mic,password', true],
    ['one that takes none', 'publickey,keyboard-interactive', false],
  ])('%s', (_name, methods, tickets) => {
    const trouble = systemSshTrouble(refusal(methods), 'plot.lab.office.example', 'ended');
    expect(trouble.kind).toBe('login-refused');
    expect(/klist .* kinit/.test(trouble.remedy)).toBe(tickets);
    expect(trouble.remedy).toContain('ssh -o BatchMode=yes');
  });
});
