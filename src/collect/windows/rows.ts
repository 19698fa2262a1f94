import type { Gap } from '../../facts/gap.ts';
import { parseJson } from '../../facts/json.ts';
import { gap } from '../unix/draft.ts';
import { type Framed, type Section, sectionKey } from '../unix/frames.ts';
import { type JsonObject, objectOf, objectsOf } from '../unix/json-values.ts';
import { missing } from '../unix/linux-evidence.ts';

/** A row of what a cmdlet gave. Untrusted. */
export type Row = JsonObject;

/**
 * The rows of a section, or why there are none. Rows that came before something failed are kept:
 * one adapter that refuses does not cost the others.
 */
export function rowsOf(
  framed: Framed,
  name: string,
  { about = '', part = 'core' }: { about?: string; part?: 'core' | 'rest' } = {},
): readonly Row[] | Gap {
  const section = framed.sections.get(sectionKey(name, about));
  if (section === undefined) return missing(framed, 'not asked', part);
  const rows = parsedRows(section);
  if (rows === undefined) return gap('unreadable', 'the answer is no JSON list');
  return rows.length === 0 && section.status !== 0 ? windowsRefusal(section) : rows;
}

/** The script prints in short lines, which are one JSON text. */
function parsedRows({ output }: Section): readonly Row[] | undefined {
  const value = parsed(output);
  if (Array.isArray(value)) return objectsOf(value);
  // PowerShell 5.1 prints some lists of one as the object, and some as an object with the list.
  const object = objectOf(value);
  const inner = object?.['value'];
  if (Array.isArray(inner)) return objectsOf(inner);
  if (object !== undefined) return [object];
  return output.trim() === '' ? [] : undefined;
}

function parsed(text: string): unknown {
  try {
    return parseJson(text.replaceAll('\n', ''));
  } catch {
    return undefined;
  }
}

/** System.Management.Automation.ErrorCategory (from memory). */
const categories = { objectNotFound: 13, permissionDenied: 18 } as const;
/** WBEM_E_ACCESS_DENIED, E_ACCESSDENIED and ERROR_ACCESS_DENIED, as identifiers carry them. */
const deniedId = /0x80041003|0x80070005|System Error 5(?!\d)|UnauthorizedAccess|SecurityException/i;
/** WBEM_E_INVALID_CLASS and WBEM_E_NOT_FOUND: the host has no such thing. */
const absentId =
  /0x80041010|0x80041002|CommandNotFound|CmdletizationQuery_NotFound|PathNotFound|ItemNotFound/i;

/** Why a section gave nothing: by numbers and identifiers, since words are translated. */
export function windowsRefusal(section: Section): Gap {
  const error = objectOf(parsed(section.words));
  const id = String(error?.['id'] ?? '');
  const category = error?.['category'];
  const said = `${error?.['message'] ?? section.words} ${id === '' ? '' : `(${id})`}`;
  const words = said.trim() === '' ? `status ${section.status} and no words` : said;
  if (category === categories.permissionDenied || deniedId.test(id)) return gap('denied', words);
  const absent = category === categories.objectNotFound || absentId.test(id);
  return gap(absent ? 'unsupported' : 'unreadable', words);
}
