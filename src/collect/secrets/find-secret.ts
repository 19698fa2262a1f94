import type { FindSecret, Secret } from '../types.ts';
import type { AskSecret } from './ask-on-terminal.ts';
import { makeSecret } from './secret.ts';
import { readSecretsFile } from './secrets-file.ts';

/** Where secrets are looked for, in this order. */
export interface SecretPlaces {
  readonly env: Readonly<Record<string, string | undefined>>;
  /** Path of the secrets file; see defaultSecretsPath. */
  readonly file: string;
  /** Numeric user id that must own the file. */
  readonly ownerId: number;
  /** Absent where there is no terminal to ask on. */
  readonly ask?: AskSecret | undefined;
  /** Told once, in words for the operator, when the file exists and is not to be trusted. */
  readonly onRefusal: (refusal: string) => void;
}

/**
 * Looks secrets up by name: in the environment, then in the secrets file, then by asking. Each
 * name is looked up, and so asked for, at most once in a run; an empty value is no secret.
 */
export function makeFindSecret(places: SecretPlaces): FindSecret {
  const found = new Map<string, Promise<Secret | undefined>>();
  let file: Promise<ReadonlyMap<string, Secret>> | undefined;
  const look = async (name: string): Promise<Secret | undefined> => {
    const value = places.env[name];
    if (value !== undefined && value !== '') return makeSecret(value);
    file ??= readOnce(places);
    return (await file).get(name) ?? (await places.ask?.(`secret ${name} (not shown)`));
  };
  return (name) => {
    const begun = found.get(name) ?? look(name);
    found.set(name, begun);
    return begun;
  };
}

async function readOnce(places: SecretPlaces): Promise<ReadonlyMap<string, Secret>> {
  const read = await readSecretsFile(places.file, places.ownerId);
  if (read.ok) return read.secrets;
  places.onRefusal(read.refusal);
  return new Map();
}
