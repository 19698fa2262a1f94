import { quoted } from '../intent/fault.ts';
import { splitEnd } from '../intent/link-schema.ts';
import { wordRemedy } from '../intent/nearest.ts';
import type { DeclaredLink } from '../intent/types.ts';
import { checkName, type Loading, placeOf } from './loading.ts';

/** Names that the intent has not, of a file that has other faults, so that all are told at once. */
export function checkNames(value: unknown, loading: Loading): void {
  const keysOf = (section: string) => {
    const entries = isRecord(value) ? value[section] : undefined;
    return isRecord(entries) ? Object.keys(entries) : [];
  };
  for (const kind of ['node', 'segment'] as const)
    for (const name of keysOf(`${kind}s`))
      checkName(loading, placeOf(loading, [`${kind}s`, name]), name, kind);
  for (const key of keysOf('ports')) {
    const end = splitEnd(key);
    if (end !== undefined) checkName(loading, placeOf(loading, ['ports', key]), end.node, 'node');
  }
  for (const key of keysOf('links')) linkOf(key, loading);
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The id of a link with its ends the other way round. */
export function turned({ ends: [a, b] }: DeclaredLink): string {
  return `${b.node}:${b.port} - ${a.node}:${a.port}`;
}

/** The link of the intent that a key names, either way round; a fault and undefined where none is. */
export function linkOf(key: string, loading: Loading): DeclaredLink | undefined {
  const { links } = loading.intent;
  const found = links.find((link) => link.id === key || turned(link) === key);
  if (found !== undefined) return found;
  const ids = links.map(({ id }) => id);
  loading.faults.push({
    place: placeOf(loading, ['links', key]),
    what: 'the intent has no such link',
    seen: quoted(key),
    remedy: wordRemedy(key, ids, 'write both ends as the intent has them'),
  });
  return undefined;
}
