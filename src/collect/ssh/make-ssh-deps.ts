import { lookup } from 'node:dns/promises';
import { setTimeout as wait } from 'node:timers/promises';
import pLimit from 'p-limit';
import type { AskSecret } from '../secrets/ask-on-terminal.ts';
import type { FindSecret, Locate } from '../types.ts';
import { createCredentialLedger } from './credential-ledger.ts';
import { createJumpPool } from './jump-pool.ts';
import { createKeyring } from './keyring.ts';
import { makeReadSettings, type SettingsSource } from './read-settings.ts';
import type { SshDeps, SystemSsh } from './ssh-deps.ts';
import type { OwnAccount, ReadSshSettings } from './ssh-settings.ts';

/** What the SSH connections of a run are made from. */
export interface SshRunOptions {
  readonly own: OwnAccount;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly findSecret: FindSecret;
  readonly askSecret?: AskSecret | undefined;
  readonly locate?: Locate | undefined;
  /** Absent: the operator's own configuration. */
  readonly settings?: Omit<SettingsSource, 'own'>;
  /** known_hosts files to trust instead of the configured ones, as the demo does. */
  readonly knownHosts?: readonly string[];
}

/** Makes what the SSH connections of one run share. Call `jumps.close()` at the end of the run. */
export function makeSshDeps(options: SshRunOptions): SshDeps {
  const { own, env, findSecret, askSecret, locate, knownHosts } = options;
  const settings = makeReadSettings({ own, ...options.settings });
  return {
    own,
    settings: knownHosts === undefined ? settings : trusting(knownHosts, settings),
    agentSocket: env['SSH_AUTH_SOCK'] || undefined,
    findSecret,
    askSecret: askSecret === undefined ? undefined : askOnce(askSecret),
    ledger: createCredentialLedger(),
    keys: createKeyring(),
    jumps: createJumpPool(),
    systemSsh: systemSshOf(options),
    locate,
    lookup: (name) => lookup(name, { all: true }),
    random: Math.random,
    pause: (ms, signal) => wait(ms, undefined, { signal }).catch(() => undefined),
  };
}

/** Processes of the system's ssh at one time: as many as one jump host is asked for at once. */
const systemSshAtOnceMax = 5;

/** What the system's ssh needs of the environment to find configuration, agent and tickets. */
const passedOn = [
  ...['PATH', 'HOME', 'USER', 'LOGNAME', 'SSH_AUTH_SOCK'],
  ...['KRB5CCNAME', 'KRB5_CONFIG', 'KRB5_CLIENT_KTNAME'],
];

function systemSshOf({ env, settings }: SshRunOptions): SystemSsh {
  const limit = pLimit(systemSshAtOnceMax);
  const own = passedOn.flatMap((name) => (env[name] === undefined ? [] : [[name, env[name]]]));
  const configFile = settings?.configFiles?.[0];
  return {
    program: 'ssh',
    env: { ...Object.fromEntries(own), LC_ALL: 'C' },
    ...(configFile === undefined ? {} : { configFile }),
    turn: (work) => limit(work),
  };
}

function trusting(files: readonly string[], settings: ReadSshSettings): ReadSshSettings {
  return async (wish) => ({
    ...(await settings(wish)),
    userKnownHosts: files,
    globalKnownHosts: [],
  });
}

/** Each question is put once in a run. */
function askOnce(ask: AskSecret): AskSecret {
  const asked = new Map<string, ReturnType<AskSecret>>();
  return (question) => {
    const begun = asked.get(question) ?? ask(question);
    asked.set(question, begun);
    return begun;
  };
}
