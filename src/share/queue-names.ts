import { parseJson } from '../facts/json.ts';

/** Which nodes a queue holds: those of a site that one word says where to reach from. */
export interface QueuePlace {
  readonly site: string;
  /** Empty: may be reached from anywhere in the site. */
  readonly reach: string;
}

const prefix = 'survey ';

/** Name of the queue of a place. */
export function queueName({ site, reach }: QueuePlace): string {
  return `${prefix}${JSON.stringify([site, reach])}`;
}

/** The place that the name of a queue stands for; undefined: not a queue of surveys. */
export function queuePlace(name: string): QueuePlace | undefined {
  if (!name.startsWith(prefix)) return undefined;
  try {
    const parts = parseJson(name.slice(prefix.length));
    if (!Array.isArray(parts)) return undefined;
    const [site, reach] = parts as unknown[];
    return typeof site === 'string' && typeof reach === 'string' ? { site, reach } : undefined;
  } catch {
    return undefined;
  }
}

/** What a collector takes; empty lists stand for all. */
export interface Takes {
  readonly sites: readonly string[];
  readonly reaches: readonly string[];
}

/** Whether a queue falls to a collector. */
export function fallsTo(name: string, { sites, reaches }: Takes): boolean {
  const place = queuePlace(name);
  if (place === undefined) return false;
  const ofSite = sites.length === 0 || sites.includes(place.site);
  return ofSite && (reaches.length === 0 || reaches.includes(place.reach));
}
