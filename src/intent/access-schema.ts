import { z } from 'zod';
import { parseAddress } from './address.ts';
import {
  checkedText,
  patternText,
  plainText,
  secretName,
  together,
  wholeNumber,
} from './schema-parts.ts';
import {
  authProtocols,
  hostKeyPlaces,
  privacyProtocols,
  sshCarriers,
  sshSystems,
} from './types.ts';

const tcpPort = (about: string) => wholeNumber(about, 1, 65_535);

const sshSchema = z
  .strictObject({
    user: patternText(
      'User to log in as',
      /^[A-Za-z0-9_][A-Za-z0-9_.@\\-]{0,63}\$?$/,
      "must be a user name; write letters, digits and _ . - @, such as 'auditor'",
    ).exactOptional(),
    port: tcpPort('TCP port of the SSH server').exactOptional(),
    key: plainText('Private key file; ~ stands for the home folder', 1024).exactOptional(),
    passphrase: secretName.exactOptional(),
    password: secretName.exactOptional(),
    jump: checkedText(
      'Host to go through, as user@host:port',
      isJump,
      "must be a host to go through; write 'host', 'user@host' or 'user@host:port'",
    ).exactOptional(),
    system: z
      .enum(sshSystems)
      .describe(
        'windows is read by PowerShell, unix by sh; told from what the SSH server calls itself by default',
      )
      .exactOptional(),
    hostKeys: z
      .enum(hostKeyPlaces)
      .describe(
        'by-site records host keys under node and site, where sites share private addresses; by-address is the default',
      )
      .exactOptional(),
    through: z
      .enum(sshCarriers)
      .describe(
        'system logs in by the ssh of the system, for certificates, hardware keys and GSSAPI; hopgauge by default',
      )
      .exactOptional(),
  })
  .check(({ value, issues }) => {
    if (value.through !== 'system') return;
    for (const name of ['password', 'passphrase'] as const) {
      if (value[name] === undefined) continue;
      together(
        issues,
        [name],
        'cannot be given to the ssh of the system; use an agent, or remove through',
      );
    }
  })
  .describe('Log in over SSH; what is not given comes from ~/.ssh/config');

function isJump(text: string): boolean {
  const at = text.lastIndexOf('@');
  const user = at < 0 ? undefined : text.slice(0, at);
  return (
    (user === undefined || /^[A-Za-z0-9_][A-Za-z0-9_.-]{0,63}$/.test(user)) &&
    parseAddress(text.slice(at + 1)) !== undefined
  );
}

const snmpPort = tcpPort('UDP port of the SNMP agent').exactOptional();

const snmp2cSchema = z.strictObject({
  version: z.literal('2c').describe('SNMP version: 2c'),
  community: secretName.describe('Name of the secret that holds the community'),
  port: snmpPort,
});

const snmp3Schema = z
  .strictObject({
    version: z.literal([3, '3']).describe('SNMP version: 3'),
    user: plainText('User name of the USM (RFC 3414)', 32),
    auth: z
      .enum([...authProtocols, 'none'])
      .describe('Authentication protocol; none must be written out'),
    privacy: z
      .enum([...privacyProtocols, 'none'])
      .describe('Privacy protocol; none must be written out'),
    secret: z
      .strictObject({
        auth: secretName.describe('Name of the authentication secret').exactOptional(),
        privacy: secretName.describe('Name of the privacy secret').exactOptional(),
      })
      .describe('Names of the secrets, never the secrets')
      .exactOptional(),
    context: plainText('Context name (RFC 3411)', 32).exactOptional(),
    port: snmpPort,
  })
  .check(({ value, issues }) => {
    const { auth, privacy, secret = {} } = value;
    if (auth === 'none' && privacy !== 'none') {
      together(
        issues,
        ['privacy'],
        'is set without authentication (RFC 3414 has no such level); set auth, or write privacy: none',
      );
    }
    if (auth !== 'none' && secret.auth === undefined) {
      together(issues, ['auth'], 'has no secret; add secret: { auth: NAME_OF_SECRET }');
    }
    if (privacy !== 'none' && secret.privacy === undefined) {
      together(issues, ['privacy'], 'has no secret; add secret: { privacy: NAME_OF_SECRET }');
    }
    if (auth === 'none' && secret.auth !== undefined) {
      together(issues, ['secret', 'auth'], 'is named but auth is none; remove it, or set auth');
    }
    if (privacy === 'none' && secret.privacy !== undefined) {
      together(
        issues,
        ['secret', 'privacy'],
        'is named but privacy is none; remove it, or set privacy',
      );
    }
  });

/** One entry of `access:`. */
export const accessSchema = z
  .strictObject({
    ssh: sshSchema.exactOptional(),
    snmp: z
      .discriminatedUnion('version', [snmp2cSchema, snmp3Schema])
      .describe('Ask an SNMP agent')
      .exactOptional(),
  })
  .check(({ value, issues }) => {
    if (value.ssh !== undefined || value.snmp !== undefined) return;
    together(issues, [], "says no way to log in; add 'ssh: {}' or 'snmp: { ... }'");
  })
  .describe('How to log in: ssh, snmp or both');

/** An access as it is written. */
export type AccessText = z.output<typeof accessSchema>;
