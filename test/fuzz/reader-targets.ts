import { saltmarshHosts } from '../../mocks/saltmarsh/hosts.ts';
import type { DescribedHost } from '../../mocks/unix-output/described-host.ts';
import { renderFit } from '../../mocks/unix-output/render-fit.ts';
import { renderFreebsd } from '../../mocks/unix-output/render-freebsd.ts';
import { renderLinux } from '../../mocks/unix-output/render-linux.ts';
import { renderMacos } from '../../mocks/unix-output/render-macos.ts';
import { renderWindows } from '../../mocks/windows-output/render-windows.ts';
import { renderWindowsFit } from '../../mocks/windows-output/render-windows-fit.ts';
import type { ReadOutcome } from '../../src/collect/types.ts';
import { parseUnixOutput } from '../../src/collect/unix/parse-unix-output.ts';
import { parseWindowsOutput } from '../../src/collect/windows/parse-windows-output.ts';
import { surveySchema } from '../../src/facts/survey-schema.ts';
import { payloadsOf, planFor } from '../../src/probe/fit-plan.ts';
import { parseFitOutput } from '../../src/probe/parse-fit-output.ts';
import { parseWindowsFit } from '../../src/probe/parse-windows-fit.ts';
import { plot1, vault } from '../collect/unix/described.ts';
import { gate as freebsdGate } from '../collect/unix/described-freebsd.ts';
import { plot3 } from '../collect/windows/described.ts';
import { type Chance, mutateText } from './mutate.ts';
import type { FuzzTarget, Tried } from './try-target.ts';

const marker = 'm';
const peers = ['198.18.20.2', '198.18.20.11'];

const pieces = [
  ...[
    `\n${marker} open ip-link\n`,
    `\n${marker} words\n`,
    `\n${marker} close 0\n`,
    `\n${marker} end\n`,
  ],
  ...[`\n${marker} open sysfs eth4\n`, `\n${marker} open ethtool ../x\n`, `\n${marker} rest\n`],
  ...['mtu 9000', '"mtu":-1', '"ifname":"__proto__"', 'speed:65535', 'Speed: 4294967295Mb/s'],
  ...['inet 198.18.0.1/33', '"operstate":"UP"', 'media: autoselect', '1e400', '"dev":null'],
];

/** Hosts of three ports at most, which take a reader as far as many do and no more of the time. */
function fewPorts<T extends { readonly ports: readonly unknown[] }>(host: T): readonly T[] {
  const parts: T[] = [];
  for (let at = 0; at < host.ports.length; at += 3)
    parts.push({ ...host, ports: host.ports.slice(at, at + 3) });
  return parts;
}

const linux = (tools: NonNullable<DescribedHost['tools']>): readonly string[] =>
  [...fewPorts(vault), ...Object.values(saltmarshHosts)]
    .filter(({ facts }) => facts.systemKind === 'linux')
    .map((host) => renderLinux({ ...host, tools }, marker, peers));

const toAddress = '198.18.20.2';
const fitRequest = { marker, toAddress, plan: planFor(9000, toAddress) };
const fits = { marker, toAddress, payloads: payloadsOf(fitRequest.plan, toAddress) };

/** What reads the answers of hosts. */
export const readerTargets: readonly FuzzTarget[] = [
  reader('linux', linux('json'), parseUnixOutput),
  reader(
    'linux of old tools',
    [...linux('text'), ...linux('ifconfig-old'), ...linux('ifconfig-new')],
    parseUnixOutput,
  ),
  reader('busybox', linux('busybox'), parseUnixOutput),
  reader(
    'macos',
    [...fewPorts(plot1), saltmarshHosts['plot-1'] ?? plot1].map((one) =>
      renderMacos(one, marker, peers),
    ),
    parseUnixOutput,
  ),
  reader(
    'freebsd',
    fewPorts(freebsdGate).map((one) => renderFreebsd(one, marker, peers)),
    parseUnixOutput,
  ),
  reader(
    'windows',
    fewPorts(plot3).map((one) => renderWindows(one, marker, peers)),
    parseWindowsOutput,
  ),
  fitting(
    'fit',
    Object.values(saltmarshHosts).map((host) => renderFit(host, fits)),
    parseFitOutput,
  ),
  fitting('fit of windows', [renderWindowsFit(plot3, fits)], parseWindowsFit),
];

function reader(
  name: string,
  seeds: readonly string[],
  parse: (output: Uint8Array, marker: string) => ReadOutcome,
): FuzzTarget {
  return {
    name,
    tryOne: (chance) => {
      const input = mutateText(chance, seeds, pieces);
      const outcome = parse(octetsOf(chance, input), marker);
      if (outcome.ok && chance() < 1 / 16) requireSurvey(outcome);
      return { input, gave: outcome };
    },
  };
}

function fitting(
  name: string,
  seeds: readonly string[],
  parse: (output: Uint8Array, request: typeof fitRequest) => unknown,
): FuzzTarget {
  return {
    name,
    tryOne: (chance): Tried => {
      const input = mutateText(chance, seeds, pieces);
      return { input, gave: parse(octetsOf(chance, input), fitRequest) };
    },
  };
}

/** Now and then with octets that are no UTF-8. */
function octetsOf(chance: Chance, text: string): Uint8Array {
  const octets = Buffer.from(text);
  if (chance() < 0.9 || octets.length === 0) return octets;
  octets[Math.floor(chance() * octets.length)] = 0x80 + Math.floor(chance() * 128);
  return octets;
}

/** Whatever was read is what a survey may hold: no null, no number in quotes, no unknown fact. */
export function requireSurvey(outcome: ReadOutcome): void {
  if (!outcome.ok) return;
  const at = '2026-11-25T02:00:00.000Z';
  const node = { node: 'vault', readings: [], ...outcome.reading, disagreements: [] };
  const survey = { survey: 1, site: 'office', startedAt: at, endedAt: at, nodes: [node] };
  const checked = surveySchema.safeParse(survey);
  if (!checked.success) throw new Error(JSON.stringify(checked.error.issues.slice(0, 3)));
}
