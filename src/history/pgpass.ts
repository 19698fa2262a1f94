import { readFileSync, type Stats, statSync } from 'node:fs';
import { shellWord } from '../schedule/shell-word.ts';
import type { ServerPlace } from './server-place.ts';

/** Largest password file that is read, in bytes. */
const pgpassBytesMax = 256 * 1024;

/**
 * The password that a file in the form of libpq's `.pgpass` has for a place; undefined: none, or a
 * file that is left out, as libpq does with one that others may read: `onLeftOut` is told why, in a line.
 * Source: PostgreSQL 15, "The Password File".
 */
export function pgpassFor(
  file: string,
  place: ServerPlace,
  onLeftOut: (line: string) => void,
): string | undefined {
  let text: string;
  try {
    const refusal = refusalOf(file, statSync(file));
    if (refusal !== undefined) {
      onLeftOut(refusal);
      return undefined;
    }
    text = readFileSync(file, 'utf8');
  } catch {
    return undefined;
  }
  const host = place.host.startsWith('/') ? 'localhost' : place.host;
  const wanted = [host, String(place.port), place.database, place.user];
  for (const line of text.split(/\r?\n/)) {
    if (line.startsWith('#')) continue;
    const fields = fieldsOf(line);
    const password = fields[wanted.length];
    if (password === undefined) continue;
    if (wanted.every((value, at) => fields[at] === '*' || fields[at] === value)) return password;
  }
  return undefined;
}

function refusalOf(file: string, about: Stats): string | undefined {
  if (!about.isFile()) return `${file}: left out: not a regular file; give the path of a file`;
  if (about.size > pgpassBytesMax)
    return `${file}: left out: ${about.size} bytes; at most ${pgpassBytesMax} are read`;
  // Windows keeps rights elsewhere, and libpq does not look at them there either.
  if (process.platform === 'win32' || (about.mode & 0o077) === 0) return undefined;
  const mode = (about.mode & 0o777).toString(8).padStart(4, '0');
  return `${file}: left out: mode ${mode} lets others at the passwords; run: chmod 600 ${shellWord(file)}`;
}

/** Fields are apart by colons; a backslash takes the meaning of a colon or a backslash away. */
function fieldsOf(line: string): readonly string[] {
  const fields = line.match(/(?:\\.|[^\\:])*(?::|$)/g) ?? [];
  return fields.map((field) => field.replace(/:$/, '').replace(/\\(.)/g, '$1'));
}
