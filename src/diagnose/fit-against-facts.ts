import type { Site, SitePath } from '../site/types.ts';
import { crossedHops } from './fit-hops.ts';
import type { FitReason, FitSeen, LossSeen } from './fit-seen.ts';
import { silenceReason } from './fit-silence.ts';
import { toldReason } from './fit-told.ts';

/**
 * Confronts what a fit has shown with what was read of the hops: which hop explains what is lost,
 * and whose word does not agree with what came back.
 */
export function fitAgainstFacts(
  site: Site,
  path: SitePath,
  directions: readonly FitSeen[],
): readonly FitReason[] {
  const told = directions.flatMap((seen): readonly FitReason[] => {
    const found = lost(seen) ? toldReason(seen, site, path) : undefined;
    return found === undefined ? [] : [found];
  });
  const reasons = [...told, ...silenceOf(path, directions, told.length > 0)];
  return [...reasons, ...tooModest(path, directions)];
}

function lost(seen: FitSeen): seen is FitSeen & { readonly loss: LossSeen } {
  return seen.loss !== undefined;
}

/** Silence is explained once for both directions, and not where an end has said why. */
function silenceOf(
  path: SitePath,
  directions: readonly FitSeen[],
  told: boolean,
): readonly FitReason[] {
  const silent = directions.filter(({ loss }) => loss?.by === 'silence');
  if (silent.length === 0 || told) return [];
  const lostBytes = Math.min(...silent.map(({ loss }) => loss?.bytes ?? Number.POSITIVE_INFINITY));
  const proven = silent.flatMap(({ provenBytes }) =>
    provenBytes === undefined ? [] : [provenBytes],
  );
  const came = proven.length === 0 ? {} : { provenBytes: Math.max(...proven) };
  const wantedBytes = Math.max(...silent.map((seen) => seen.wantedBytes));
  return [silenceReason(path, { lostBytes, wantedBytes, ...came })];
}

/**
 * Hops that are said to pass less than what came through them both ways: one way is not enough,
 * since many ports take in more than they send.
 */
function tooModest(path: SitePath, directions: readonly FitSeen[]): readonly FitReason[] {
  const proven = directions.map(({ provenBytes }) => provenBytes);
  if (proven.length === 0 || proven.some((bytes) => bytes === undefined)) return [];
  const bytes = Math.min(...proven.filter((one) => one !== undefined));
  return crossedHops(path)
    .filter(({ clearance: { atMostBytes: most } }) => most !== undefined && most < bytes)
    .map(({ port, clearance }) => ({
      kind: 'contradicts',
      at: [port.id],
      says: `${port.id} is said to pass at most ${clearance.atMostBytes} bytes, and ${bytes} came through`,
      remedy: clearance.onWord
        ? 'correct its frame in the intent'
        : 'read it anew; if it says the same, its number counts less than is thought, or is not the one in use: see mtuCounts',
    }));
}
