import { explainFigure } from '../../diagnose/explain-figure.ts';
import type { FigureGiven } from '../../diagnose/explanation.ts';
import { parseFigure } from '../../diagnose/measured-figure.ts';
import { pathGiven, placeFigure } from '../../diagnose/place-figure.ts';
import { ceilingOf } from '../../ethernet/ceiling.ts';
import { standardPacketBytes } from '../../ethernet/frame-size.ts';
import { nearestWord } from '../../intent/nearest.ts';
import { ceilingJson } from '../../report/ceiling-json.ts';
import { type CeilingResult, ceilingText, type MeasuredPart } from '../../report/ceiling-text.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { clean } from '../../report/layout.ts';
import { buildSite } from '../../site/build-site.ts';
import type { Site, SitePath } from '../../site/types.ts';
import type { Io } from '../io.ts';
import { requireIntent } from '../load-inputs.ts';
import type { CeilingOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { savedSurvey } from '../take-survey.ts';
import { textLook } from '../write-result.ts';

/**
 * Prints the TCP goodput that a line allows and what explains a measured figure. It only reckons:
 * it judges no rule, so its status is 0 whatever the figure.
 */
export async function ceiling(options: CeilingOptions, io: Io): Promise<number> {
  const site = await namedSite(options, io);
  const paths = site === undefined ? [] : pathsOf(site, options.path);
  const given = givenOf(options, paths[0]);
  const measured = measuredOf(options, given);
  if (given.rateMbps === undefined && measured === undefined) throw nothingGiven(paths[0]);
  const result: CeilingResult = {
    ...lineOf(given),
    ...(options.rtt === undefined ? {} : { rttMs: options.rtt }),
    ...(options.seconds === undefined ? {} : { seconds: options.seconds }),
    ...(measured === undefined ? {} : { measured }),
    places: measured === undefined || site === undefined ? [] : placesOf(paths, site, measured),
  };
  io.stdout.write(
    options.format === 'json' ? ceilingJson(result) : ceilingText(result, textLook(undefined, io)),
  );
  return exitStatuses.met;
}

/** The site, only where one is asked for: the arithmetic needs no intent. */
async function namedSite(options: CeilingOptions, io: Io): Promise<Site | undefined> {
  const { intent: file, survey, path } = options;
  if (file === undefined && survey === undefined && path === undefined) return undefined;
  const intent = await requireIntent(file, io);
  const saved = survey === undefined ? undefined : await savedSurvey(survey, io);
  return buildSite(intent, saved, { strict: false });
}

function pathsOf(site: Site, name: string | undefined): readonly SitePath[] {
  const names = [...new Set(site.paths.map(({ declared }) => declared.name))];
  if (name === undefined && names.length <= 1) return site.paths;
  const found = site.paths.filter(({ id, declared }) => id === name || declared.name === name);
  if (found.length > 0) return found;
  const near = name === undefined ? undefined : nearestWord(name, names);
  const seen = name === undefined ? 'several paths' : `no path '${clean(name).slice(0, 80)}'`;
  const remedy =
    near === undefined ? `name one with --path: ${names.join(', ')}` : `write '${near}'`;
  throw usage(clean(`${seen} in the intent; ${remedy}`));
}

function givenOf(options: CeilingOptions, path: SitePath | undefined): FigureGiven {
  const declared = path === undefined ? {} : pathGiven(path);
  const rateMbps = options.rate ?? declared.rateMbps;
  const packetBytes = options.mtu ?? declared.packetBytes;
  return {
    ...(rateMbps === undefined ? {} : { rateMbps }),
    ...(packetBytes === undefined ? {} : { packetBytes }),
    ...(options.rtt === undefined ? {} : { rttMs: options.rtt }),
    stack: {
      ipVersion: options.ipv6 === true ? 6 : 4,
      timestamps: options.timestamps,
      tags: options.vlan === true ? 1 : (options.vlan ?? 0),
    },
  };
}

function lineOf({ rateMbps, packetBytes, stack }: FigureGiven): Pick<CeilingResult, 'ceiling'> {
  if (rateMbps === undefined) return {};
  return {
    ceiling: ceilingOf({ rateMbps, packetBytes: packetBytes ?? standardPacketBytes, stack }),
  };
}

function measuredOf(options: CeilingOptions, given: FigureGiven): MeasuredPart | undefined {
  const { measured: text, seconds } = options;
  if (text === undefined) return undefined;
  const figure = parseFigure(text, seconds);
  if (figure !== undefined) {
    return { text, figure, given, diagnosis: explainFigure(figure, given) };
  }
  const shown = clean(text).slice(0, 80);
  throw usage(
    `--measured: '${shown}' is no throughput; write 9.41G, 941M, 117MB/s or 112MiB/s, or bytes such as 23.1GiB with --seconds`,
  );
}

function placesOf(paths: readonly SitePath[], site: Site, measured: MeasuredPart) {
  const [first] = measured.diagnosis.explanations;
  const { directions } = site;
  return paths.map((path) => placeFigure(path, first, { given: measured.given, directions }));
}

function nothingGiven(path: SitePath | undefined): RunFault {
  return usage(
    path === undefined
      ? 'neither a rate nor a figure is given; write --rate 10G, or --measured 9.41G'
      : clean(`no speed of the path ${path.id} is declared or read; write --rate 10G`),
  );
}

function usage(line: string): RunFault {
  return new RunFault(exitStatuses.usage, [line]);
}
