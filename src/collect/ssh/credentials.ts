import type { BaseAgent, ParsedKey } from 'ssh2';
import { cleanText } from '../../facts/clean-text.ts';
import type { Trouble } from '../../facts/trouble.ts';
import type { SshAccess } from '../../intent/types.ts';
import type { AskSecret } from '../secrets/ask-on-terminal.ts';
import type { FindSecret, Secret } from '../types.ts';
import type { AgentKey } from './agent.ts';
import type { KeyFile } from './key-file.ts';
import type { Keyring } from './keyring.ts';
import { fingerprintOf } from './known-hosts.ts';
import { defaultKeyNames } from './ssh-settings.ts';
import { troubleOf } from './trouble.ts';

/** Keys of an agent offered to one node, at most: a server counts each against its limit. */
export const agentKeysOfferedMax = 3;

/** A credential that can be offered to a server now. */
export interface Offer {
  /** For messages: what it is, never its value. */
  readonly label: string;
  /** Names it in the ledger. */
  readonly id: string;
  readonly by:
    | { readonly use: 'key'; readonly key: ParsedKey }
    | { readonly use: 'agent'; readonly agent: BaseAgent }
    | { readonly use: 'password'; readonly password: Secret };
}

/** `absent`: a usual place where there is nothing, which is not worth a word. */
export type Prepared =
  | { readonly is: 'ready'; readonly offer: Offer }
  | { readonly is: 'absent' }
  | { readonly is: 'unusable'; readonly trouble: Trouble };

/** A credential that may be offered; it is loaded, or asked for, when its turn comes. */
export interface Candidate {
  readonly method: 'publickey' | 'password';
  readonly prepare: () => Promise<Prepared>;
}

/** Everything that a credential can come from. */
export interface CredentialSource {
  readonly user: string;
  /** The node, for the question put to a person. */
  readonly where: string;
  readonly access: SshAccess;
  /** From the SSH configuration. */
  readonly identityFiles: readonly string[];
  readonly identitiesOnly: boolean;
  /** Absent: no agent. */
  readonly agentSocket?: string | undefined;
  /** Absolute path of the key that the access names. */
  readonly keyFile?: string | undefined;
  readonly home: string;
  readonly findSecret: FindSecret;
  readonly askSecret?: AskSecret | undefined;
  readonly keys: Keyring;
}

/**
 * What to offer to a node, in order. An access that names a key, a password or both means just
 * those; else the configured keys, the agent's and those of the usual names, then a password
 * where there is a person to ask.
 */
export async function planCredentials(source: CredentialSource): Promise<readonly Candidate[]> {
  const held = await agentKeys(source);
  const { access } = source;
  const password = passwordCandidate(source);
  if (source.keyFile !== undefined || access.password !== undefined) {
    const key = source.keyFile === undefined ? [] : [keyCandidate(source, source.keyFile, held)];
    return [...key, ...(access.password === undefined ? [] : password)];
  }
  const configured = source.identityFiles.map((path) => keyCandidate(source, path, held));
  const offered = source.identitiesOnly ? [] : held.slice(0, agentKeysOfferedMax);
  const usual =
    source.identityFiles.length > 0
      ? []
      : defaultKeyNames.map((name) =>
          keyCandidate(source, `${source.home}/.ssh/${name}`, held, 'usual'),
        );
  return [
    ...configured,
    ...offered.map((key) => agentCandidate(source, key)),
    ...usual,
    ...password,
  ];
}

async function agentKeys(source: CredentialSource): Promise<readonly AgentKey[]> {
  if (source.agentSocket === undefined) return [];
  const listed = await source.keys.agent(source.agentSocket);
  return listed.ok ? listed.keys : [];
}

function agentCandidate(source: CredentialSource, key: AgentKey): Candidate {
  const offer = agentOffer(source, key);
  return { method: 'publickey', prepare: async () => ({ is: 'ready', offer }) };
}

function agentOffer(source: CredentialSource, key: AgentKey): Offer {
  const print = fingerprintOf(key.publicKey);
  const name = key.comment === '' ? print : cleanText(key.comment, 60);
  const by = { use: 'agent', agent: key.agent } as const;
  return { label: `agent key ${name}`, id: `${source.user} ${print}`, by };
}

function keyCandidate(
  source: CredentialSource,
  path: string,
  held: readonly AgentKey[],
  how: 'named' | 'usual' = 'named',
): Candidate {
  return {
    method: 'publickey',
    prepare: async () => {
      const file = await source.keys.file(path);
      if (file.is === 'missing' && how === 'usual') return { is: 'absent' };
      const inAgent = held.find((key) => publicKeyOf(file)?.equals(key.publicKey));
      if (inAgent !== undefined) {
        return { is: 'ready', offer: agentOffer(source, inAgent) };
      }
      return keyOffer(source, path, file);
    },
  };
}

function publicKeyOf(file: KeyFile): Buffer | undefined {
  if (file.is === 'plain') return file.key.getPublicSSH();
  return file.is === 'encrypted' || file.is === 'public' ? file.publicKey : undefined;
}

async function keyOffer(source: CredentialSource, path: string, file: KeyFile): Promise<Prepared> {
  switch (file.is) {
    case 'plain':
      return ready(source, path, file.key);
    case 'encrypted':
      return decrypted(source, path, file.text);
    case 'missing':
      return unusable(`key file ${path} does not exist`, 'make the key, or correct its path');
    case 'public':
      return unusable(
        `only the public half of ${path} is here, and no SSH agent holds the key`,
        `run: ssh-add ${path}, or give the path of the private key`,
      );
    case 'unusable':
      return unusable(file.why, file.remedy);
  }
}

async function decrypted(source: CredentialSource, path: string, text: Buffer): Promise<Prepared> {
  const name = source.access.passphrase;
  const passphrase =
    name === undefined
      ? await source.askSecret?.(`passphrase of ${path} (not shown)`)
      : await source.findSecret(name);
  if (passphrase === undefined) {
    if (name !== undefined) return secretMissing(name, `the passphrase of ${path}`);
    return unusable(
      `key ${path} is encrypted, and no passphrase is at hand`,
      `run: ssh-add ${path}, or name its passphrase in the access: passphrase: NAME`,
    );
  }
  const key = source.keys.decrypt(path, text, passphrase);
  if (key !== undefined) return ready(source, path, key);
  return unusable(
    `the passphrase${name === undefined ? '' : ` ${name}`} does not open key ${path}`,
    name === undefined ? 'run it again with the right passphrase' : `correct the secret ${name}`,
  );
}

function ready(source: CredentialSource, path: string, key: ParsedKey): Prepared {
  const id = `${source.user} ${fingerprintOf(key.getPublicSSH())}`;
  return { is: 'ready', offer: { label: `key ${path}`, id, by: { use: 'key', key } } };
}

function unusable(seen: string, remedy: string): Prepared {
  return { is: 'unusable', trouble: troubleOf('key-unusable', seen, remedy) };
}

function secretMissing(name: string, what: string): Prepared {
  const seen = `secret ${name}, ${what}, is neither in the environment nor in the secrets file`;
  const remedy = `put a line ${name}=... into ~/.config/hopgauge/secrets (mode 0600), or set it in the environment`;
  return { is: 'unusable', trouble: troubleOf('secret-missing', seen, remedy) };
}

function passwordCandidate(source: CredentialSource): readonly Candidate[] {
  const { access, user, where, findSecret, askSecret } = source;
  const name = access.password;
  if (name === undefined && askSecret === undefined) return [];
  const prepare = async (): Promise<Prepared> => {
    if (name !== undefined) {
      const password = await findSecret(name);
      if (password === undefined) return secretMissing(name, `the password of ${user}`);
      return passwordOffer(`password ${name}`, `${user} password ${name}`, password);
    }
    const password = await askSecret?.(`password of ${user} on ${where} (not shown)`);
    if (password === undefined) return { is: 'absent' };
    return passwordOffer('the password typed', `${user} password typed for ${where}`, password);
  };
  return [{ method: 'password', prepare }];
}

function passwordOffer(label: string, id: string, password: Secret): Prepared {
  return { is: 'ready', offer: { label, id, by: { use: 'password', password } } };
}
