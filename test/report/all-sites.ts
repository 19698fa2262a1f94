import { samples } from './saltmarsh.ts';
import { sinceLastNight } from './since-last-night.ts';

/** Every state of the Saltmarsh office, also that with a history. */
export const allSites = { ...samples, sinceLastNight } as const;
