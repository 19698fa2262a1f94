import { goodputMbps, usualStack } from '../../ethernet/goodput.ts';
import type { DeclaredLink } from '../../intent/types.ts';
import type { SitePath } from '../../site/types.ts';
import type { ChangeRemark } from '../types.ts';
import { joins } from './joins.ts';
import { impossible, unknown } from './remark.ts';

interface Wanting {
  readonly path: SitePath;
  readonly wantedMbps: number;
  /** IP packet. */
  readonly bytes: number;
  /** All that some way of the path crosses. */
  readonly links: readonly DeclaredLink[];
}

/**
 * Whether the goodput that a path wants is below the ceiling of its best way. One flow goes over
 * one link of an aggregate, since its frames are to stay in order (IEEE 802.1AX, from memory).
 */
export function goodputRemarks(
  path: SitePath,
  bytes: number,
  linkOf: (id: string) => DeclaredLink | undefined,
): ChangeRemark[] {
  const wantedMbps = path.declared.goodputMbps;
  const ids = new Set(path.hops.flatMap(({ linkId }) => linkId ?? []));
  const links = [...ids].flatMap((id) => linkOf(id) ?? []);
  if (wantedMbps === undefined || links.length === 0) return [];
  const wanting = { path, wantedMbps, bytes, links };
  const joinedBy = (speedOf: (link: DeclaredLink) => number | undefined) =>
    joins(
      path,
      links.filter((link) => ceiling(speedOf(link) ?? Infinity, bytes) >= wantedMbps),
    );
  if (joinedBy(({ speedMbps }) => speedMbps ?? 0)) return [];
  if (joinedBy(({ speedMbps }) => speedMbps)) return [withoutSpeed(wanting)];
  return [joinedBy(together(links)) ? onlyTogether(wanting) : tooMuch(wanting)];
}

function ceiling(speedMbps: number, bytes: number): number {
  return goodputMbps(speedMbps, bytes, usualStack);
}

/** The speed of all links of an aggregate together; of a link of none its own. */
function together(links: readonly DeclaredLink[]): (link: DeclaredLink) => number | undefined {
  const sums = new Map<string, number>();
  for (const { lag, speedMbps } of links)
    if (lag !== undefined) sums.set(lag, (sums.get(lag) ?? 0) + (speedMbps ?? Infinity));
  return ({ lag, speedMbps }) => (lag === undefined ? speedMbps : sums.get(lag));
}

function withoutSpeed({ path, wantedMbps }: Wanting): ChangeRemark {
  const what = `wants ${wantedMbps} Mb/s over links without a declared speed`;
  return unknown(path.id, what, 'declare their speed');
}

function onlyTogether(wanting: Wanting): ChangeRemark {
  return unknown(
    wanting.path.id,
    `${carriesWords(wanting)}; only several flows together may reach more`,
    'declare what one flow is to reach, or faster links',
  );
}

function tooMuch(wanting: Wanting): ChangeRemark {
  return impossible(
    wanting.path.id,
    carriesWords(wanting),
    'declare less, a faster link or larger packets',
  );
}

function carriesWords(wanting: Wanting): string {
  const { wantedMbps, bytes } = wanting;
  const { id, speedMbps, lag } = bottleneck(wanting);
  const most = Math.floor(ceiling(speedMbps, bytes));
  const member =
    lag === undefined ? '' : `, one link of aggregate ${lag}, which is all that one flow has,`;
  return `wants ${wantedMbps} Mb/s, and ${id}${member} at ${speedMbps} Mb/s with packets of ${bytes} bytes carries at most ${most} Mb/s of TCP data`;
}

type Timed = DeclaredLink & { readonly speedMbps: number };

/** The slowest link of the best way: the fastest speed without which nothing joins the ends. */
function bottleneck({ path, links }: Wanting): Timed {
  const timed = links
    .filter((link): link is Timed => link.speedMbps !== undefined)
    .toSorted((a, b) => b.speedMbps - a.speedMbps);
  const found = timed.find(({ speedMbps }) =>
    joins(
      path,
      links.filter((link) => (link.speedMbps ?? Infinity) >= speedMbps),
    ),
  );
  if (found === undefined) throw new Error('a path that links join has a slowest one');
  return found;
}
