import { stringify } from 'yaml';
import type { Survey } from '../../src/facts/survey.ts';
import { loadIntent } from '../../src/intent/load-intent.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import type { IntentSketch, LinkSketch, NodeSketch } from '../site/builders.ts';

/** A network as its owner describes it and as it was read. */
export interface Described {
  /** The text of an intent file. */
  readonly intent: string;
  readonly survey: Survey;
}

/** Policies of a described network: all that ship. */
export const allPolicies = ['essential', 'jumbo', 'cabling', 'signal', 'proven'] as const;

/** Loads and joins a described network as an audit does. Throws when the intent has faults. */
export async function siteOf({ intent, survey }: Described): Promise<Site> {
  const read = async () => ({ ok: true, text: intent }) as const;
  const loaded = await loadIntent('hopgauge.yaml', read, { shippedPolicies: allPolicies });
  if (!loaded.ok) throw new Error(`${intent}\n${JSON.stringify(loaded.faults, null, 2)}`);
  return buildSite(loaded.value, survey, { strict: false });
}

/** A sketch of the small sites of links and aggregates as the text of an intent file. */
export function intentText({ nodes, segments, links, paths }: IntentSketch): string {
  const entries = <T>(of: Readonly<Record<string, T>> | undefined, write: (each: T) => unknown) =>
    Object.fromEntries(Object.entries(of ?? {}).map(([name, each]) => [name, write(each)]));
  return stringify({
    intent: 1,
    nodes: Object.fromEntries(
      Object.entries(nodes).map(([name, node]) => [name, writtenNode(name, node)]),
    ),
    segments: entries(segments, ({ vlan, mtuBytes }) => ({
      ...(vlan === undefined ? {} : { vlan }),
      ...(mtuBytes === undefined ? {} : { mtu: mtuBytes }),
    })),
    links: Object.entries(links ?? {}).map(([id, link]) => writtenLink(id, link)),
    paths: entries(paths, ({ from, to, over, goodputMbps }) => ({
      from,
      to,
      over,
      ...(goodputMbps === undefined ? {} : { goodput: `${goodputMbps}M` }),
    })),
  });
}

function writtenNode(name: string, { unread, ports }: NodeSketch): unknown {
  const role = name.endsWith('-sw') ? 'switch' : 'host';
  return {
    ...(unread === undefined ? { at: `${name}.office.example`, role } : { unread }),
    ...(ports === undefined ? {} : { ports }),
  };
}

function writtenLink(
  id: string,
  { untagged, tagged, lag, speedMbps, duplex, run }: LinkSketch,
): unknown {
  return {
    ends: id.split(' - '),
    ...(untagged === undefined ? {} : { untagged }),
    ...(tagged === undefined ? {} : { tagged }),
    ...(lag === undefined ? {} : { lag }),
    ...(duplex === undefined ? {} : { duplex }),
    ...(speedMbps === undefined
      ? {}
      : { speed: speedMbps < 1000 ? `${speedMbps}M` : `${speedMbps / 1000}G` }),
    ...(run === undefined ? {} : { run: run.map(({ text, kind }) => text ?? kind) }),
  };
}
