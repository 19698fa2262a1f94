import type { ChangeStep } from '../types.ts';
import { mediumFor, offersOne } from './bsd-media.ts';
import { unixDeviceName } from './device-name.ts';
import { layerCautions } from './layer-cautions.ts';
import { type AdviceContext, returnAfterMinutes, type SystemAdvice } from './types.ts';
import { type LinkMode, linkModeBefore, linkModeFor, mtuFrom } from './wanted.ts';

/**
 * Commands for macOS: `networksetup -setMTU DEVICE VALUE` and `-setMedia DEVICE SUBTYPE OPTION…`
 * (networksetup(8)), which set at once and are kept; a value set by ifconfig(8) would differ from
 * the one that is kept, and go with the next restart. Undefined where no command is safe or known.
 */
export function macosAdvice(step: ChangeStep, context: AdviceContext): SystemAdvice | undefined {
  const device = unixDeviceName(context.portName);
  if (device === undefined) return undefined;
  return step.setting === 'mtu'
    ? mtuAdvice(device, step, context)
    : mediaAdvice(device, step, context);
}

const keptAlready = {
  by: 'networksetup',
  lines: ['# the command above is kept over a restart'],
} as const;

const serviceCaution =
  'macOS keeps the setting with the adapter in this socket: after a new driver, a system update or a move to another socket, look again';

function mtuAdvice(device: string, step: ChangeStep, context: AdviceContext) {
  const to = mtuFrom(step.to);
  if (to === undefined) return undefined;
  const from = mtuFrom(step.from);
  const undo = from === undefined ? [] : [`networksetup -setMTU ${device} ${from}`];
  return {
    temporary: [`networksetup -setMTU ${device} ${to}`],
    persistent: [keptAlready],
    undo,
    cautions: [
      ...layerCautions(step, context),
      `"networksetup -listValidMTURange ${device}" says what the adapter takes`,
      serviceCaution,
    ],
    ...timedReturn(undo),
  };
}

function mediaAdvice(device: string, step: ChangeStep, context: AdviceContext) {
  const command = (mode: LinkMode | undefined) => {
    const words = mode === undefined ? undefined : mediaWords(mode, context);
    return words === undefined ? [] : [`networksetup -setMedia ${device} ${words}`];
  };
  const mode = linkModeFor(step.line, context.port);
  if (mode?.negotiate === true && mode.only !== undefined) return offersOne('networksetup', device);
  const lines = command(mode);
  if (lines.length === 0) return undefined;
  const undo = command(linkModeBefore(context.port));
  return {
    temporary: lines,
    persistent: [keptAlready],
    undo,
    cautions: [serviceCaution],
    ...timedReturn(undo),
  };
}

function mediaWords({ negotiate, only }: LinkMode, { port }: AdviceContext): string | undefined {
  if (only === undefined) return 'autoselect';
  if (negotiate) return undefined;
  const medium = mediumFor(only, port);
  return medium === undefined ? undefined : `${medium} ${only.duplex}-duplex`;
}

/** at(1) is switched off on macOS by default (from memory): a shell waits in the background. */
function timedReturn(undo: readonly string[]): Pick<SystemAdvice, 'timedReturn'> {
  const [command] = undo;
  if (command === undefined) return {};
  const seconds = returnAfterMinutes * 60;
  return {
    timedReturn: {
      arm: [`nohup sh -c 'sleep ${seconds}; ${command}' >/dev/null 2>&1 & echo $!`],
      cancel: 'kill NUMBER   # the number that the command printed',
    },
  };
}
