import { createHash } from 'node:crypto';
import ssh2 from 'ssh2';

/** The public half of a private key, as known_hosts and people write it. */
export function hostKeyOf(privateKey: string): {
  readonly type: string;
  readonly base64: string;
  readonly fingerprint: string;
} {
  const key = ssh2.utils.parseKey(privateKey);
  if (key instanceof Error) throw key;
  const wire = key.getPublicSSH();
  const digest = createHash('sha256').update(wire).digest('base64').replace(/=+$/, '');
  return { type: key.type, base64: wire.toString('base64'), fingerprint: `SHA256:${digest}` };
}
