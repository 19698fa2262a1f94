import sshConfig from 'ssh-config';
import type { Directives, SshWish } from './ssh-settings.ts';

/**
 * What configuration files say of a host, for machines without OpenSSH. The texts are those of the
 * user's file and the system's, in this order: the first value of a directive counts. `Include` is
 * not followed and `Match exec` never runs anything.
 */
export function readWithLibrary(texts: readonly string[], wish: SshWish): Directives {
  const found = new Map<string, string[]>();
  for (const text of texts) {
    const query = { Host: wish.host, ...(wish.user === undefined ? {} : { User: wish.user }) };
    const computed = sshConfig.parse(text).compute(query, { ignoreCase: true, matchExec: false });
    for (const [name, value] of Object.entries(computed)) {
      addValues(found, name, typeof value === 'string' ? [value] : value);
    }
  }
  return found;
}

function addValues(found: Map<string, string[]>, name: string, values: readonly string[]): void {
  const words = files.has(name) ? values.flatMap((value) => value.split(/[ \t]+/)) : values;
  const before = found.get(name);
  if (before === undefined) found.set(name, [...words]);
  // The one directive of ours that adds up over several places.
  else if (name === 'identityfile') before.push(...words);
}

const files: ReadonlySet<string> = new Set(['userknownhostsfile', 'globalknownhostsfile']);
