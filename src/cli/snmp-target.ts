import type { SnmpTarget } from '../collect/snmp/target.ts';
import type { FindSecret, Secret } from '../collect/types.ts';
import type { Trouble } from '../facts/trouble.ts';
import type { SnmpAccess } from '../intent/types.ts';

/** An agent that can be asked, or why it cannot. */
export type TargetOutcome =
  | { readonly ok: true; readonly target: SnmpTarget }
  | { readonly ok: false; readonly trouble: Trouble };

/** Where an agent is: a literal address, and its UDP port where that is not the usual one. */
export interface AgentPlace {
  readonly address: string;
  readonly port?: number;
}

/** An agent with the secrets that its access names; a secret that nobody has is trouble. */
export async function snmpTarget(
  access: SnmpAccess,
  place: AgentPlace,
  findSecret: FindSecret,
): Promise<TargetOutcome> {
  if (access.version === '2c') {
    const community = await findSecret(access.community ?? '');
    if (community === undefined) return missing(access.community);
    return { ok: true, target: { ...place, version: '2c', community } };
  }
  const names = { auth: access.secret?.auth, privacy: access.secret?.privacy };
  const auth = access.auth && (await secretOf(names.auth, findSecret));
  if (access.auth !== undefined && auth === undefined) return missing(names.auth);
  const privacy = access.privacy && (await secretOf(names.privacy, findSecret));
  if (access.privacy !== undefined && privacy === undefined) return missing(names.privacy);
  const target: SnmpTarget = {
    ...place,
    version: '3',
    user: access.user ?? '',
    ...(access.auth && auth ? { auth: { protocol: access.auth, secret: auth } } : {}),
    ...(access.privacy && privacy
      ? { privacy: { protocol: access.privacy, secret: privacy } }
      : {}),
    ...(access.context === undefined ? {} : { context: access.context }),
  };
  return { ok: true, target };
}

async function secretOf(
  name: string | undefined,
  findSecret: FindSecret,
): Promise<Secret | undefined> {
  return name === undefined ? undefined : findSecret(name);
}

function missing(name: string | undefined): TargetOutcome {
  const seen = name === undefined ? 'the access names no secret' : `nobody has the secret ${name}`;
  const remedy =
    name === undefined
      ? 'name it in the intent under access'
      : `set ${name} in the environment, or put ${name}=... into ~/.config/hopgauge/secrets (mode 0600)`;
  return { ok: false, trouble: { kind: 'secret-missing', seen, remedy } };
}
