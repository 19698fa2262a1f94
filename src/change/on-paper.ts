import { goodputMbps, usualStack } from '../ethernet/goodput.ts';
import type { DeclaredLink, Intent } from '../intent/types.ts';
import { buildSite } from '../site/build-site.ts';
import type { Site, SiteLink, SitePath } from '../site/types.ts';
import type { ChangeRemark } from './types.ts';

/**
 * Judges an intent by itself, with nothing read: whether runs reach what is declared over them and
 * modules agree, whether unread nodes pass the declared packet, whether paths and segments agree,
 * whether a wanted goodput is below its ceiling, and what nothing is declared of.
 */
export function onPaper(intent: Intent): readonly ChangeRemark[] {
  const site = buildSite(intent, undefined, { strict: false });
  return [
    ...site.links.flatMap(linkRemarks),
    ...site.paths.flatMap((path) => pathRemarks(site, path)),
    ...segmentRemarks(intent),
  ];
}

function linkRemarks({ declared, subject }: SiteLink): ChangeRemark[] {
  const on = declared.id;
  const { facts } = subject;
  const limit = facts['runLimitText'];
  const because = typeof limit === 'string' ? ` (${limit})` : '';
  if (facts['modulesAgree'] === false)
    return [
      impossible(on, `has modules that do not go together${because}`, 'use modules of one kind'),
    ];
  if (facts['runFits'] === false)
    return [
      impossible(
        on,
        `is declared at ${declared.speedMbps} Mb/s, and its run does not reach that${because}`,
        'replace that piece of the run, or declare a lower speed',
      ),
    ];
  const gap = subject.own?.gaps['runFits'];
  if (gap !== undefined)
    return [unknown(on, `may or may not reach ${declared.speedMbps} Mb/s: ${gap.words}`)];
  return undeclared(declared);
}

function undeclared({ id, speedMbps, run }: DeclaredLink): ChangeRemark[] {
  const lacks = [
    ...(speedMbps === undefined ? ['speed'] : []),
    ...(run.length === 0 ? ['run'] : []),
  ];
  if (lacks.length === 0) return [];
  return [
    unknown(id, `has no ${lacks.join(' and no ')} declared`, `declare its ${lacks.join(' and ')}`),
  ];
}

function pathRemarks(site: Site, path: SitePath): ChangeRemark[] {
  const { facts } = path.subject;
  const declared = facts['declaredMtuBytes'];
  const on = path.id;
  const broken = [
    ...(facts['connected'] === false
      ? [
          impossible(
            on,
            'is not joined by the declared links',
            'declare the links between its ends',
          ),
        ]
      : []),
    ...(typeof declared === 'number' ? frameRemarks(path, declared) : []),
    ...goodputRemarks(site, path),
  ];
  if (declared === undefined)
    return [...broken, unknown(on, 'has no MTU declared', 'declare mtu of its segments')];
  return broken;
}

function frameRemarks({ id, hops }: SitePath, declared: number): ChangeRemark[] {
  const small = new Map(
    hops.flatMap(({ port, clearance }) =>
      (clearance.atMostBytes ?? declared) < declared ? [[port.node, clearance.atMostBytes]] : [],
    ),
  );
  return [...small].map(([node, bytes]) =>
    impossible(
      id,
      `is declared at ${declared} bytes, and ${node} passes at most ${bytes} by its declared frame`,
      `replace ${node}, or declare ${bytes}`,
    ),
  );
}

function goodputRemarks(site: Site, { id, declared, hops, subject }: SitePath): ChangeRemark[] {
  const wanted = declared.goodputMbps;
  const bytes = subject.facts['declaredMtuBytes'];
  if (wanted === undefined) return [];
  const ids = new Set(hops.flatMap(({ linkId }) => linkId ?? []));
  const links = site.links.filter((link) => ids.has(link.declared.id));
  const speeds = links.map((link) => link.declared.speedMbps);
  const slowest = links.find(
    (link) => link.declared.speedMbps === Math.min(...speeds.map((speed) => speed ?? Infinity)),
  )?.declared;
  const ceiling =
    slowest?.speedMbps === undefined || typeof bytes !== 'number'
      ? undefined
      : goodputMbps(slowest.speedMbps, bytes, usualStack);
  if (ceiling !== undefined && ceiling < wanted)
    return [
      impossible(
        id,
        `wants ${wanted} Mb/s, and ${slowest?.id} at ${slowest?.speedMbps} Mb/s with packets of ${bytes} bytes carries at most ${Math.floor(ceiling)} Mb/s of TCP data`,
        'declare less, a faster link or larger packets',
      ),
    ];
  return speeds.includes(undefined)
    ? [
        unknown(
          id,
          `wants ${wanted} Mb/s over links without a declared speed`,
          'declare their speed',
        ),
      ]
    : [];
}

/** What is in one segment must agree; what is declared of none is only asked for. */
function segmentRemarks({ segments, paths }: Intent): ChangeRemark[] {
  return segments.flatMap(({ name, mtuBytes }) => {
    if (mtuBytes === undefined)
      return [unknown(name, 'has no MTU declared', `declare mtu of segment ${name}`)];
    return paths
      .filter((path) => path.over.includes(name) && (path.mtuBytes ?? 0) > mtuBytes)
      .map((path) =>
        impossible(
          path.name,
          `is declared at ${path.mtuBytes} bytes over segment ${name}, which is declared at ${mtuBytes}`,
          'declare the same for both',
        ),
      );
  });
}

function impossible(on: string, what: string, remedy: string): ChangeRemark {
  return { kind: 'impossible', on, what, remedy };
}

function unknown(on: string, what: string, remedy?: string): ChangeRemark {
  return { kind: 'unknown', on, what, ...(remedy === undefined ? {} : { remedy }) };
}
