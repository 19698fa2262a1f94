import type { AuditResult } from '../../src/report/types.ts';
import { sinceLastNight } from './since-last-night.ts';

/** A site of which every name, word and reason is `text`. */
export function sayingEverywhere(text: string): AuditResult {
  const kept =
    /^(id|kind|severity|verdict|beneath|life|reason|startedAt|endedAt|since|lastAt|lastCompleteAt|seenAt|fact|until|least|policy|rule)$/;
  const put = (value: unknown, key: string): unknown => {
    if (typeof value === 'string') {
      return kept.test(key) && !value.includes(':') && value !== 'vault' ? value : text;
    }
    if (Array.isArray(value)) return value.map((each) => put(each, key));
    if (value === null || typeof value !== 'object' || value instanceof Map) return value;
    return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, put(v, k)]));
  };
  const said = put(sinceLastNight, '') as AuditResult;
  const { startedAt, endedAt, survey } = sinceLastNight;
  return { ...said, startedAt, endedAt, ...(survey === undefined ? {} : { survey }) };
}
