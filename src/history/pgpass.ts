import { readFileSync, statSync } from 'node:fs';
import type { ServerPlace } from './server-place.ts';

/** Largest password file that is read, in bytes. */
const pgpassBytesMax = 256 * 1024;

/**
 * The password that a file in the form of libpq's `.pgpass` has for a place; undefined: none, or a
 * file that others may read, which libpq leaves out as well. Source: PostgreSQL 15, "The Password File".
 */
export function pgpassFor(file: string, place: ServerPlace): string | undefined {
  let text: string;
  try {
    const about = statSync(file);
    if (!about.isFile() || about.size > pgpassBytesMax || (about.mode & 0o077) !== 0)
      return undefined;
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

/** Fields are apart by colons; a backslash takes the meaning of a colon or a backslash away. */
function fieldsOf(line: string): readonly string[] {
  const fields = line.match(/(?:\\.|[^\\:])*(?::|$)/g) ?? [];
  return fields.map((field) => field.replace(/:$/, '').replace(/\\(.)/g, '$1'));
}
