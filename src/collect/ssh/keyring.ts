import type { ParsedKey } from 'ssh2';
import type { Secret } from '../types.ts';
import { type AgentKeys, listAgentKeys } from './agent.ts';
import { decryptKey, type KeyFile, readKeyFile } from './key-file.ts';

/** Keys of one run: each file and agent is read once, each passphrase tried once. */
export interface Keyring {
  readonly file: (path: string) => Promise<KeyFile>;
  readonly agent: (socket: string) => Promise<AgentKeys>;
  /** Undefined when the passphrase does not open the key. */
  readonly decrypt: (path: string, text: Buffer, passphrase: Secret) => ParsedKey | undefined;
}

/** An empty keyring for one run. */
export function createKeyring(): Keyring {
  const files = new Map<string, Promise<KeyFile>>();
  const agents = new Map<string, Promise<AgentKeys>>();
  // By secret object, not by its value, which stays where it is.
  const opened = new Map<string, Map<Secret, ParsedKey | undefined>>();
  return {
    file: (path) => once(files, path, readKeyFile),
    agent: (socket) => once(agents, socket, listAgentKeys),
    decrypt: (path, text, passphrase) => {
      const known = opened.get(path) ?? new Map<Secret, ParsedKey | undefined>();
      opened.set(path, known);
      if (!known.has(passphrase)) known.set(passphrase, decryptKey(text, passphrase));
      return known.get(passphrase);
    },
  };
}

function once<T>(
  begun: Map<string, Promise<T>>,
  name: string,
  work: (name: string) => Promise<T>,
): Promise<T> {
  const known = begun.get(name) ?? work(name);
  begun.set(name, known);
  return known;
}
