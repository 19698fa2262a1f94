import type { Trouble } from '../facts/trouble.ts';
import type { SecretName, SnmpAccess } from '../intent/types.ts';
import { type SnmpTarget, type SnmpTiming, snmpPortDefault } from './snmp/target.ts';
import type { FindSecret, Secret } from './types.ts';

export interface TargetParts {
  readonly access: SnmpAccess;
  readonly place: {
    readonly address: string;
    /** Of the node's `at`; rules over the port of the access. */
    readonly port?: number;
    readonly timing?: SnmpTiming;
  };
  readonly findSecret: FindSecret;
}

/** An agent with its secrets looked up; the trouble when a secret is nowhere to be found. */
export async function snmpTarget(parts: TargetParts): Promise<SnmpTarget | Trouble> {
  const { access } = parts;
  const place = { ...parts.place, port: parts.place.port ?? access.port ?? snmpPortDefault };
  const secrets = await findAll(
    [access.community, access.secret?.auth, access.secret?.privacy],
    parts.findSecret,
  );
  if ('kind' in secrets) return secrets;
  const [community, auth, privacy] = secrets.found;
  if (access.version === '2c') {
    if (community === undefined) return incomplete(access, 'community');
    return { version: '2c', ...place, community };
  }
  if (access.user === undefined) return incomplete(access, 'user');
  return {
    version: '3',
    ...place,
    user: access.user,
    ...(access.auth === undefined || auth === undefined
      ? {}
      : { auth: { protocol: access.auth, secret: auth } }),
    ...(access.privacy === undefined || privacy === undefined
      ? {}
      : { privacy: { protocol: access.privacy, secret: privacy } }),
    ...(access.context === undefined ? {} : { context: access.context }),
  };
}

async function findAll(
  names: readonly (SecretName | undefined)[],
  findSecret: FindSecret,
): Promise<{ readonly found: readonly (Secret | undefined)[] } | Trouble> {
  const found: (Secret | undefined)[] = [];
  for (const name of names) {
    const secret = name === undefined ? undefined : await findSecret(name);
    if (name !== undefined && secret === undefined) return missing(name);
    found.push(secret);
  }
  return { found };
}

function missing(name: SecretName): Trouble {
  return {
    kind: 'secret-missing',
    seen: `the secret ${name} is neither in the environment nor in the secrets file`,
    remedy: `set ${name} in the environment, or put ${name}=... into the secrets file (mode 0600)`,
  };
}

function incomplete(access: SnmpAccess, key: string): Trouble {
  return {
    kind: 'secret-missing',
    seen: `the access ${access.name} has no ${key}`,
    remedy: `add ${key} to the access in the intent`,
  };
}
