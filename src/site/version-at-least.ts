import type { Gap } from '../facts/gap.ts';
import { gapOf } from './provenance.ts';

/** Numbers with dots, as many as any system or driver writes. */
const dotted = /^\d{1,9}(?:\.\d{1,9}){0,7}$/;

/**
 * Whether a version is the wanted one or a later one, compared number by number, where a missing
 * number counts as 0. A gap where either is something else than numbers with dots: which of two
 * such texts is later, nobody can say.
 */
export function versionAtLeast(version: string, wanted: string): boolean | Gap {
  const odd = [version, wanted].find((text) => !dotted.test(text));
  if (odd !== undefined) {
    return gapOf('unreadable', `version "${odd}" is not made of numbers with dots`);
  }
  const [have, want] = [partsOf(version), partsOf(wanted)];
  for (let at = 0; at < Math.max(have.length, want.length); at += 1) {
    const difference = (have[at] ?? 0) - (want[at] ?? 0);
    if (difference !== 0) return difference > 0;
  }
  return true;
}

function partsOf(version: string): readonly number[] {
  return version.split('.').map(Number);
}
