import type { NodeSurvey, PortSurvey, Survey } from '../facts/survey.ts';
import { wasRead } from '../facts/was-read.ts';
import { gapWords, speedWords } from './fact-words.ts';
import { clean, wrap } from './layout.ts';
import type { DrawOptions } from './measure.ts';
import { paintFor } from './paint.ts';
import { sessionLines } from './session-words.ts';
import { timeWords } from './summary-line.ts';
import type { TextOptions } from './text-report.ts';

/** A survey below this width breaks its lines anyway. */
const widthMin = 40;
const widthMax = 120;

/**
 * What was read, node by node: ports that carry something, the way to file servers that are
 * mounted, and what live sessions agreed on. Only says; judges nothing.
 */
export function surveyText(survey: Survey, options: TextOptions): string {
  const drawing: DrawOptions = {
    width: Math.min(widthMax, Math.max(widthMin, options.width)),
    verbose: options.verbose,
    paint: paintFor(options.colour),
  };
  const parts = survey.nodes.map((node) => nodeLines(node, drawing).join('\n'));
  const read = survey.nodes.filter(wasRead).length;
  const all = read === survey.nodes.length ? '' : ` of ${survey.nodes.length}`;
  const nodes = read === 1 && all === '' ? '1 node' : `${read}${all} nodes`;
  return `${[...parts, `${nodes} read ${timeWords(survey.endedAt)}`].join('\n\n')}\n`;
}

function nodeLines(node: NodeSurvey, options: DrawOptions): string[] {
  const { width, paint } = options;
  const troubles = node.readings.flatMap(({ by, at, trouble }) =>
    trouble === undefined
      ? []
      : [
          ...wrap('  not read  ', clean(`${by} ${at}: ${trouble.seen}`), width),
          ...wrap('    then    ', clean(trouble.remedy), width),
        ],
  );
  if (!wasRead(node)) return [paint.strong(clean(node.node)), ...troubles];
  const shown = options.verbose ? node.ports : node.ports.filter(isTelling);
  const left = node.ports.length - shown.length;
  return [
    ...wrap('', nodeHeading(node), width).map(paint.strong),
    ...troubles,
    ...shown.flatMap((port) => wrap('  ', portWords(port, node), width)),
    ...(left === 0 ? [] : wrap('  ', leftWords(left, shown.length), width)),
    ...mountLines(node, options),
    ...sessionLines(node, options),
  ];
}

function nodeHeading({ node, facts }: NodeSurvey): string {
  const name = facts.systemName === undefined || facts.systemName === node ? '' : facts.systemName;
  const told = [name, facts.systemText ?? facts.systemKind ?? ''].filter((text) => text !== '');
  return clean(told.length === 0 ? node : `${node}: ${told.join(', ')}`);
}

/** A port that carries traffic, or may be a layer of one that does. */
function isTelling({ facts }: PortSurvey): boolean {
  return facts.kind !== 'loopback' && facts.operUp !== false && facts.adminUp !== false;
}

function leftWords(left: number, shown: number): string {
  const ports = left === 1 ? 'port' : 'ports';
  return `${shown === 0 ? '' : 'and '}${left} ${ports} down or internal; --verbose shows all`;
}

/** `eth4: 9000 bytes, 10 Gb/s full` */
export function portWords(port: PortSurvey, node: NodeSurvey): string {
  const { facts } = port;
  const rate = [
    facts.speedMbps === undefined ? '' : speedWords(facts.speedMbps),
    facts.speedMbps === undefined ? '' : (facts.duplex ?? ''),
  ].filter((text) => text !== '');
  const words = [
    facts.mtuBytes === undefined ? `MTU not known${why(port, node)}` : `${facts.mtuBytes} bytes`,
    ...(rate.length === 0 ? [] : [rate.join(' ')]),
    ...(facts.operUp === false ? ['link down'] : []),
    ...(facts.kind === undefined || facts.kind === 'physical' ? [] : [facts.kind]),
    ...(facts.lowerPorts?.length ? [`built on ${facts.lowerPorts.join(' and ')}`] : []),
    ...(facts.addresses ?? []),
  ];
  return clean(`${port.name}: ${words.join(', ')}`);
}

function why(port: PortSurvey, node: NodeSurvey): string {
  const gap = port.gaps?.['mtuBytes'] ?? node.portGaps['mtuBytes'];
  if (gap === undefined) return '';
  return ` (${clean(gap.words) || gapWords[gap.reason]})`;
}

function mountLines(node: NodeSurvey, { width }: DrawOptions): string[] {
  return node.mounts.flatMap(({ server, kind, at }) => {
    const route = node.routes.find(({ to, device }) => to === server && device !== undefined);
    const port = node.ports.find(({ name }) => name === route?.device);
    const by = route?.device === undefined ? '' : `, reached by ${route.device}`;
    const size = port?.facts.mtuBytes === undefined ? '' : ` (${port.facts.mtuBytes} bytes)`;
    const own = route?.mtuBytes === undefined ? '' : `; the route itself says ${route.mtuBytes}`;
    return wrap('  ', clean(`${at}: ${kind} from ${server}${by}${size}${own}`), width);
  });
}
