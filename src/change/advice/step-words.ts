import type { FactValue } from '../../facts/entry.ts';
import { noPort } from '../cords.ts';
import type { ChangeStep } from '../types.ts';
import { textOf, wordOf } from './text.ts';
import type { AdviceContext } from './types.ts';
import { linkModeBefore } from './wanted.ts';

/** Systems whose ports are set on the host itself; anything else counts as a switch. */
export const hostKinds: ReadonlySet<string> = new Set(['linux', 'macos', 'freebsd', 'windows']);

/** The port of a step as a person at the node finds it, or the node where the step is of all of it. */
export function whereOf(step: ChangeStep, context: AdviceContext): string {
  if (step.port === undefined) return textOf(step.node);
  if (context.portName === undefined) return `port ${textOf(step.port)}`;
  return `port ${textOf(context.portName)} of ${textOf(step.node)}`;
}

/** The step in a sentence, for whatever has no command. */
export function stepWords(step: ChangeStep, context: AdviceContext): string {
  return setWords(step, step.to, context);
}

/** Going back in a sentence. */
export function undoWords(step: ChangeStep, context: AdviceContext): string {
  if (step.setting === 'link') return cordWords(step, { from: step.to, to: step.from });
  if (step.setting === 'node')
    return `put the old device back in the place of ${whereOf(step, context)}, with its saved settings: keep it at hand until the check has held`;
  if (step.from === undefined) {
    return `what it was before is not known: read and write down ${settingOf(step)} of ${whereOf(step, context)} before the step`;
  }
  const kept = hostKinds.has(context.systemKind ?? '');
  const words =
    step.line !== undefined && step.setting !== 'auto-negotiation'
      ? modeBeforeWords(step, context)
      : setWords(step, step.from, context);
  return kept ? `${words}; take out again what keeps the new value over a restart` : words;
}

/** Speed and duplex go back to how the port chose them, not only to what it had chosen. */
function modeBeforeWords(step: ChangeStep, context: AdviceContext): string {
  const where = whereOf(step, context);
  const { autoNegotiation, advertisedModes = [] } = context.port ?? {};
  const before = linkModeBefore(context.port);
  if (before?.negotiate === true && before.only === undefined) {
    return `let ${where} negotiate with all its modes again`;
  }
  if (autoNegotiation === true && advertisedModes.length > 0) {
    return `let ${where} offer again what it offered: ${wordOf(advertisedModes)}`;
  }
  if (before?.only !== undefined) {
    const { speedMbps, duplex } = before.only;
    return `force ${where} to ${speedMbps} Mb/s ${duplex} duplex again, negotiation off`;
  }
  return `how ${where} chose its mode before was not read: write down its negotiation, speed and duplex before the step`;
}

/** What an audit shows right after the step. */
export function checkWords(step: ChangeStep): string {
  const where = textOf(step.port ?? step.node);
  const before =
    step.from === undefined ? 'not known before' : `before: ${valueWords(step, step.from)}`;
  switch (step.setting) {
    case 'link':
      return step.to === noPort
        ? `an audit finds no link at ${where}`
        : `an audit finds the link of ${where} up, its neighbour ${wordOf(step.to)}, at a speed that is looked at${declaredWords(step)}`;
    case 'node':
      return `an audit reads ${where} anew, ${wordOf(step.to)}, with the link of every port up`;
    default:
      return `an audit reads ${settingOf(step)} of ${where} as ${valueWords(step, step.to)} (${before})`;
  }
}

/** Which speed a cord is laid for; which one comes, only its ends can tell. */
function declaredWords({ cord }: ChangeStep): string {
  const speedMbps = cord?.lays?.speedMbps;
  return speedMbps === undefined ? '' : `: declared ${speedWords(speedMbps)}`;
}

function speedWords(mbps: number): string {
  return mbps >= 1000 ? `${mbps / 1000} Gb/s` : `${mbps} Mb/s`;
}

function settingOf({ setting }: ChangeStep): string {
  if (setting === 'node') return 'the settings';
  if (setting === 'link-mode') return 'speed, duplex and negotiation';
  return setting === 'mtu' ? 'the MTU' : setting;
}

function valueWords({ setting }: ChangeStep, value: FactValue): string {
  if (setting === 'mtu') return `${wordOf(value)} bytes`;
  if (setting === 'speed' && typeof value === 'number') return speedWords(value);
  return wordOf(value);
}

function setWords(step: ChangeStep, value: FactValue, context: AdviceContext): string {
  const where = whereOf(step, context);
  const words = valueWords(step, value);
  switch (step.setting) {
    case 'mtu':
      return hostKinds.has(context.systemKind ?? '')
        ? `set the MTU of ${where} to ${words}`
        : `set the largest frame of ${where} to ${words}, as the node itself counts it; some take it for the whole device only`;
    case 'speed':
      return `let ${where} offer ${words} alone, negotiation on where it was on`;
    case 'duplex':
      return `set ${where} to ${words} duplex, and the port at the other end alike`;
    case 'auto-negotiation':
      return `switch auto-negotiation of ${where} ${words}, and at the other end alike`;
    case 'link-mode':
      return `set ${where} to ${words}, and look that the port at the other end fits`;
    case 'link':
      return cordWords(step, step);
    case 'node':
      return `put ${words} in the place of ${where}, with the settings of the old one, those kept outside its saved configuration among them`;
  }
}

/** A cord that is moved, laid or taken away, in either direction. */
function cordWords(
  { port, node, cord }: ChangeStep,
  { from, to }: { readonly from?: FactValue | undefined; readonly to?: FactValue | undefined },
): string {
  const where = textOf(port ?? node);
  const [was, is] = [from, to].map((value) => (value === noPort ? undefined : value));
  const labels = (cord?.lays ?? cord?.takes)?.run.flatMap(({ label }) => label ?? []) ?? [];
  const labelled = labels.length === 0 ? '' : ` (${labels.map(textOf).join(', ')})`;
  if (is === undefined)
    return `take the cord between ${where} and ${was === undefined ? 'its far end' : wordOf(was)}${labelled} away`;
  if (was === undefined) return `lay a cord from ${where} to ${wordOf(is)}${labelled}`;
  return `move the cord of ${where}${labelled} from ${wordOf(was)} to ${wordOf(is)}`;
}
