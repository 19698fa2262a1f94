import { readFile, stat } from 'node:fs/promises';
import { readWithLibrary } from './library-settings.ts';
import { askOpenSsh } from './openssh-settings.ts';
import {
  type Directives,
  type OwnAccount,
  type ReadSshSettings,
  type SshSettings,
  type SshWish,
  settingsFrom,
} from './ssh-settings.ts';

/** Largest ssh_config file that is read, in bytes. */
export const sshConfigBytesMax = 1024 * 1024;

/** Where SSH settings are read from. */
export interface SettingsSource {
  readonly own: OwnAccount;
  /** Configuration files, the first value of a directive counts; absent: the usual two. */
  readonly configFiles?: readonly string[];
  /** False: only the library reads them, as on a machine without OpenSSH. */
  readonly openSsh?: boolean;
}

/**
 * Reads what the operator's SSH configuration says of a host: by `ssh -G`, which knows all of its
 * grammar, else with a library. The same question is asked once in a run.
 */
export function makeReadSettings(source: SettingsSource): ReadSshSettings {
  const asked = new Map<string, Promise<SshSettings>>();
  return (wish) => {
    const question = JSON.stringify([wish.host, wish.user ?? null, wish.port ?? null]);
    const begun = asked.get(question) ?? read(source, wish);
    asked.set(question, begun);
    return begun;
  };
}

async function read(source: SettingsSource, wish: SshWish): Promise<SshSettings> {
  const found = (await byOpenSsh(source, wish)) ?? (await byLibrary(source, wish));
  return settingsFrom(found, wish, source.own);
}

async function byOpenSsh(source: SettingsSource, wish: SshWish): Promise<Directives | undefined> {
  if (source.openSsh === false) return undefined;
  const [configFile, ...others] = source.configFiles ?? [];
  // `ssh -F` takes one file only.
  if (others.length > 0) return undefined;
  return askOpenSsh(wish, configFile === undefined ? {} : { configFile });
}

async function byLibrary(source: SettingsSource, wish: SshWish): Promise<Directives> {
  const files = source.configFiles ?? [`${source.own.home}/.ssh/config`, '/etc/ssh/ssh_config'];
  const texts = await Promise.all(files.map(textOf));
  try {
    return readWithLibrary(texts, wish);
  } catch {
    // A file that the library cannot read says nothing; the access and the defaults remain.
    return new Map();
  }
}

async function textOf(file: string): Promise<string> {
  try {
    const about = await stat(file);
    return about.isFile() && about.size <= sshConfigBytesMax ? await readFile(file, 'utf8') : '';
  } catch {
    return '';
  }
}
