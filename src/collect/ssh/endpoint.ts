import type { Trouble } from '../../facts/trouble.ts';
import type { SshAccess } from '../../intent/types.ts';
import type { Locate } from '../types.ts';
import type { SshDeps } from './ssh-deps.ts';
import { expandPath, isSafeHost, isSafeUser, portOf } from './ssh-settings.ts';
import type { Endpoint, SshTarget } from './ssh-target.ts';
import { quoted, troubleOf, whereText } from './trouble.ts';

/** Where to connect and as whom, or why that is not known. */
export type EndpointOutcome =
  | { readonly ok: true; readonly endpoint: Endpoint }
  | { readonly ok: false; readonly trouble: Trouble };

/** Joins access and SSH configuration: what the access says outranks it. */
export async function endpointOf(target: SshTarget, deps: SshDeps): Promise<EndpointOutcome> {
  const { at, access } = target;
  const fault = faultIn(target);
  if (fault !== undefined) return { ok: false, trouble: fault };
  const port = target.atPort ?? access.port;
  const settings = await deps.settings({ host: at, user: access.user, port });
  const located = await locate(at, deps);
  if (located === 'unknown') return { ok: false, trouble: nowhere(at) };
  const moved = located !== undefined && located.address !== at;
  const host = moved ? located.address : settings.hostName;
  const atPort = located?.port ?? settings.port;
  if (!isSafeHost(host)) return { ok: false, trouble: badName(host) };
  const jumpText = access.jump ?? (moved ? undefined : settings.proxyJump);
  const jump = jumpText === undefined ? undefined : jumpTarget(jumpText, access);
  if (jump === 'faulty') return { ok: false, trouble: badJump(jumpText ?? '') };
  if (jump === undefined && settings.proxyCommand) return { ok: false, trouble: noCommand(at) };
  const agent = settings.identityAgent ?? deps.agentSocket;
  const { home } = deps.own;
  const name = access.knownAs ?? (moved ? undefined : settings.hostKeyAlias);
  return {
    ok: true,
    endpoint: {
      host,
      port: atPort,
      keyName: name === undefined ? { host, port: atPort } : { host: name, port: 22 },
      user: settings.user,
      where: whereText(at, moved ? 22 : atPort),
      access,
      ...(access.key === undefined ? {} : { keyFile: expandPath(access.key, {}, home) }),
      identityFiles: settings.identityFiles,
      identitiesOnly: settings.identitiesOnly,
      ...(agent === undefined || agent === 'none' ? {} : { agentSocket: agent }),
      userKnownHosts: settings.userKnownHosts,
      globalKnownHosts: settings.globalKnownHosts,
      ...(target.hostKey === undefined ? {} : { hostKey: target.hostKey }),
      ...(jump === undefined ? {} : { jump }),
    },
  };
}

type Located = Awaited<ReturnType<Locate>>;

async function locate(at: string, deps: SshDeps): Promise<Located | 'unknown' | undefined> {
  try {
    return await deps.locate?.(at, 'ssh');
  } catch {
    return 'unknown';
  }
}

function nowhere(at: string): Trouble {
  const seen = `nobody knows where ${at} is`;
  return troubleOf('name-unknown', seen, 'correct at: of the node');
}

function faultIn({ at, access }: SshTarget): Trouble | undefined {
  if (!isSafeHost(at)) return badName(at);
  if (access.user === undefined || isSafeUser(access.user)) return undefined;
  const seen = `${quoted(access.user)} cannot be the name of an account`;
  return troubleOf('login-refused', seen, 'correct user: of the access');
}

function badName(host: string): Trouble {
  const seen = `${quoted(host)} is not a host name or address`;
  return troubleOf('name-unknown', seen, 'correct at: of the node');
}

function badJump(text: string): Trouble {
  const seen = `${quoted(text)} is not a host to go through`;
  return troubleOf('jump-failed', seen, 'write jump: as user@host:port');
}

function noCommand(at: string): Trouble {
  const seen = `the SSH configuration reaches ${at} by a ProxyCommand, which is not followed`;
  return troubleOf('jump-failed', seen, 'write a ProxyJump instead, or jump: in the access');
}

/** Hops of one chain of jumps, at most. */
export const jumpHopsMax = 4;

/**
 * `user@host:port`, several apart by commas: the last is the one next to the target. The key and
 * the secrets of the access are not offered to a jump host: it has those of the configuration.
 */
export function jumpTarget(text: string, access: SshAccess): SshTarget | 'faulty' {
  const hops = text.split(',').map((hop) => hop.trim().replace(/^ssh:\/\//, ''));
  if (hops.length > jumpHopsMax) return 'faulty';
  const [, user, v6, host, portText] =
    /^(?:([^@]+)@)?(?:\[([^\]]+)\]|([^:[\]]+))(?::([0-9]+))?$/.exec(hops.pop() ?? '') ?? [];
  const at = v6 ?? host;
  const port = portOf(portText);
  if (at === undefined || !isSafeHost(at)) return 'faulty';
  if ((user !== undefined && !isSafeUser(user)) || (portText !== undefined && port === undefined)) {
    return 'faulty';
  }
  return {
    at,
    ...(port === undefined ? {} : { atPort: port }),
    access: {
      via: 'ssh',
      name: `${access.name} jump`,
      ...(user === undefined ? {} : { user }),
      ...(hops.length > 0 ? { jump: hops.join(',') } : {}),
    },
  };
}
