import { cleanText } from '../../facts/clean-text.ts';
import type { Gaps } from '../../facts/gap.ts';
import type { MountReading } from '../../facts/survey.ts';
import type { NodeReading } from '../types.ts';
import { cleaned, gap, type PortDraft } from '../unix/draft.ts';
import type { Framed } from '../unix/frames.ts';
import { textOf } from '../unix/json-values.ts';
import { isGap, missing } from '../unix/linux-evidence.ts';
import { shareProvenance } from '../unix/share-provenance.ts';
import { firstGroup } from '../unix/text.ts';
import { rowsOf } from './rows.ts';
import { windowsNode } from './windows-node.ts';
import { windowsPort } from './windows-port.ts';
import { type HolderOf, windowsRoutes, windowsRouteTable } from './windows-routes.ts';
import { windowsEvidence, windowsSections } from './windows-sections.ts';

const mountsMax = 256;

/** The reading of a Windows host; undefined where the list of its ports is not whole. */
export function windowsReading(framed: Framed): NodeReading | undefined {
  const sections = windowsSections(framed);
  const { adapters, interfaces } = sections;
  if ([adapters, interfaces].some((rows) => isGap(rows) && rows.reason === 'truncated')) {
    return undefined;
  }
  const drafts = new Map<string, PortDraft>();
  for (const [printed, evidence] of windowsEvidence(sections)) {
    const name = cleaned(printed);
    if (name !== undefined && !drafts.has(name)) drafts.set(name, windowsPort(evidence));
  }
  if (drafts.size === 0) return undefined;
  const node = windowsNode(framed);
  const routeTable = windowsRouteTable(framed);
  return {
    ...node,
    gaps: { ...node.gaps, ...listGaps(framed) },
    ...shareProvenance(drafts),
    routes: windowsRoutes(framed, holders(drafts)),
    ...(routeTable === undefined ? {} : { routeTable }),
    sessions: [],
    mounts: mountsOf(framed),
  };
}

function holders(drafts: ReadonlyMap<string, PortDraft>): HolderOf {
  const byAddress = new Map<string, string>();
  for (const [name, { addresses }] of drafts) {
    if (addresses === undefined || !('value' in addresses)) continue;
    for (const text of addresses.value) byAddress.set(text.replace(/\/\d+$/, ''), name);
  }
  return (address) => byAddress.get(address);
}

/** A mapping of `\\server\share`; one without a letter is named by what it stands for. */
function mountsOf(framed: Framed): readonly MountReading[] {
  const rows = rowsOf(framed, 'mounts');
  if (isGap(rows)) return [];
  return rows.slice(0, mountsMax).flatMap((row) => {
    const remote = textOf(row['RemotePath']) ?? '';
    const server = cleanText(firstGroup(remote.slice(0, 1024), /^\\\\([^\\]+)\\/) ?? '');
    if (server === '') return [];
    return [{ server, kind: 'smb' as const, at: cleanText(textOf(row['LocalPath']) ?? remote) }];
  });
}

function listGaps(framed: Framed): Gaps {
  const mounts = rowsOf(framed, 'mounts');
  const gaps: Record<string, ReturnType<typeof gap>> = {
    sessions: gap('unsupported', 'Windows does not print the segment size of a session'),
  };
  if (isGap(mounts)) gaps['mounts'] = mounts;
  if (!framed.core) gaps['routes'] = missing(framed, '');
  return gaps;
}
