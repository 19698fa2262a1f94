import { describe, expect, it } from 'vitest';
import { type Mail, type MailServer, sendMail } from '../../src/deliver/send-mail.ts';
import { mailHost, ownCertificate } from './mail-host.ts';
import { deafPort } from './receivers.ts';

const never = new AbortController().signal;
const host = 'mail.office.example';
const mail: Mail = {
  from: 'vault@office.example',
  to: 'desk@office.example',
  subject: 'hopgauge: Saltmarsh survey office: 1 new',
  text: 'Saltmarsh survey office\n\nNew\n  error: plotting: ü\n.\n',
  at: new Date('2026-11-25T02:00:09.000Z'),
};
const login = { user: 'vault', password: 'tide-table 7' };
const reach = (port: number, more: Partial<MailServer>): MailServer => ({
  host,
  address: '127.0.0.1',
  port,
  tls: 'starttls',
  ...more,
});
const words = (delivered: Awaited<ReturnType<typeof sendMail>>) =>
  delivered.ok ? 'delivered' : delivered.reason;

describe('a mail', () => {
  it('goes out behind STARTTLS and a login, with the heads that it must have', async () => {
    const { key, cert } = ownCertificate(host);
    const server = await mailHost({ key, cert, authOptional: false });
    const to = reach(server.port, { authorities: cert, login });
    expect(words(await sendMail(mail, to, never))).toBe('delivered');
    const [taken] = server.taken;
    expect(taken).toMatchObject({
      from: 'vault@office.example',
      to: ['desk@office.example'],
      secure: true,
      user: 'vault',
    });
    const [heads = '', body = ''] = (taken?.text ?? '').split(/\r\n\r\n(.*)/s);
    const lines = heads.replaceAll(/\r\n[ \t]+/g, ' ').split('\r\n');
    // RFC 5322 section 3.6: Date and From are required, Message-ID should be there.
    expect(lines).toContain('Date: Wed, 25 Nov 2026 02:00:09 +0000');
    expect(lines).toContain('From: vault@office.example');
    expect(lines).toContain('To: desk@office.example');
    expect(lines).toContain('Subject: hopgauge: Saltmarsh survey office: 1 new');
    expect(lines.join('\n')).toMatch(/^Message-ID: <[0-9a-f-]{36}@office\.example>$/m);
    // RFC 3834 section 5.
    expect(lines).toContain('Auto-Submitted: auto-generated');
    expect(lines).toContain('Content-Type: text/plain; charset=utf-8');
    expect(body).toContain('=C3=BC');
    expect(taken?.text).not.toContain('tide-table');
  });

  it('goes out within TLS', async () => {
    const { key, cert } = ownCertificate(host);
    const server = await mailHost({ key, cert, secure: true });
    const to = reach(server.port, { tls: 'always', authorities: cert });
    expect(words(await sendMail(mail, to, never))).toBe('delivered');
    expect(server.taken[0]?.secure).toBe(true);
  });

  it('goes out as it is on this machine, whatever TLS is offered there', async () => {
    const server = await mailHost({});
    const to = reach(server.port, { host: 'localhost', tls: 'none' });
    expect(words(await sendMail(mail, to, never))).toBe('delivered');
    expect(server.taken[0]?.secure).toBe(false);
  });
});

describe('a mail does not go out', () => {
  it('where no STARTTLS is offered, nor does the login', async () => {
    const server = await mailHost({
      hideSTARTTLS: true,
      disabledCommands: ['STARTTLS'],
      allowInsecureAuth: true,
    });
    expect(words(await sendMail(mail, reach(server.port, { login }), never))).toBe(
      'the server offers no STARTTLS, and no mail goes out in clear text',
    );
    expect([server.taken, server.tries]).toEqual([[], []]);
  });

  const certificates = [
    ['of nobody we know', host, false, /self-signed certificate/],
    ['of another name', 'other.office.example', true, /does not match certificate/],
  ] as const;
  for (const [name, subject, trusted, said] of certificates) {
    it(`to a server with a certificate ${name}`, async () => {
      const { key, cert } = ownCertificate(subject);
      const server = await mailHost({ key, cert });
      const to = reach(server.port, { login, ...(trusted ? { authorities: cert } : {}) });
      expect(words(await sendMail(mail, to, never))).toMatch(said);
      expect([server.taken, server.tries]).toEqual([[], []]);
    });
  }

  it('with a wrong password, which no message shows even if the server does', async () => {
    const { key, cert } = ownCertificate(host);
    const server = await mailHost({ key, cert });
    const wrong = { user: 'vault', password: 'neap-table 8' };
    const to = reach(server.port, { authorities: cert, login: wrong });
    const said = words(await sendMail(mail, to, never));
    expect(said).toContain('535 no such login: vault with [secret]');
    expect(said).not.toContain('neap-table');
    expect(server.tries).toEqual(['vault']);
  });

  it('where nothing listens', async () => {
    const to = reach(await deafPort(), {});
    expect(words(await sendMail(mail, to, never))).toMatch(/ECONNREFUSED/);
  });

  it('once the time of the run is over', async () => {
    const said = words(await sendMail(mail, reach(await deafPort(), {}), AbortSignal.abort()));
    expect(said).toBe('the time of the run is over');
  });
});
