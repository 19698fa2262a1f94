import type { ChangeStep } from '../types.ts';
import { mediumFor, offersOne } from './bsd-media.ts';
import { unixDeviceName } from './device-name.ts';
import { layerCautions } from './layer-cautions.ts';
import { type AdviceContext, returnAfterMinutes, type SystemAdvice } from './types.ts';
import { type LinkMode, linkModeBefore, linkModeFor, mtuFrom } from './wanted.ts';

/**
 * Commands for FreeBSD: `ifconfig NAME mtu N`, `ifconfig NAME media TYPE mediaopt OPTION`
 * (ifconfig(8)); kept in `ifconfig_NAME` of rc.conf(5). Undefined where no command is safe or
 * known.
 */
export function freebsdAdvice(step: ChangeStep, context: AdviceContext): SystemAdvice | undefined {
  const device = unixDeviceName(context.portName);
  if (device === undefined) return undefined;
  const { port } = context;
  const mtu = step.setting === 'mtu';
  const mode = mtu ? undefined : linkModeFor(step.line, port);
  if (mode?.negotiate === true && mode.only !== undefined) return offersOne('ifconfig', device);
  const words = mtu ? mtuWords(step.to) : mediaWords(mode, port);
  if (words === undefined) return undefined;
  const before = mtu ? mtuWords(step.from) : mediaWords(linkModeBefore(port), port);
  const undo = before === undefined ? [] : [`ifconfig ${device} ${before}`];
  return {
    temporary: [`ifconfig ${device} ${words}`],
    persistent: [{ by: 'rc.conf', lines: keptLines(device, words) }],
    undo,
    cautions: mtu ? layerCautions(step, context) : [],
    ...timedReturn(undo),
  };
}

function mtuWords(value: ChangeStep['from']): string | undefined {
  const mtu = mtuFrom(value);
  return mtu === undefined ? undefined : `mtu ${mtu}`;
}

function mediaWords(mode: LinkMode | undefined, port: AdviceContext['port']): string | undefined {
  if (mode === undefined) return undefined;
  if (mode.only === undefined) return 'media autoselect';
  if (mode.negotiate) return undefined;
  const medium = mediumFor(mode.only, port);
  const option = mode.only.duplex === 'full' ? ' mediaopt full-duplex' : ' -mediaopt full-duplex';
  return medium === undefined ? undefined : `media ${medium}${option}`;
}

/** rc.conf(5): `.`, `-`, `/` and `+` of a name become `_` in its variable (from memory). */
function keptLines(device: string, words: string): string[] {
  const variable = `ifconfig_${device.replace(/[.-]/g, '_')}`;
  return [
    `# "sysrc ${variable}" shows the line as it is; keep it and add at its end, in place of an older one:`,
    `${variable}="<as it is> ${words}"`,
  ];
}

/** at(1); its jobs are looked for every five minutes (atrun(8); from memory). */
function timedReturn(undo: readonly string[]): Pick<SystemAdvice, 'timedReturn'> {
  const [command] = undo;
  if (command === undefined) return {};
  return {
    timedReturn: {
      arm: [`echo '${command}' | at now + ${returnAfterMinutes} minutes`],
      cancel: 'atrm JOB   # the number that "at" printed; "atq" lists it',
    },
  };
}
