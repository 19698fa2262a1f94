import type { ChangeStep } from '../types.ts';
import { unixDeviceName } from './device-name.ts';
import { layerCautions } from './layer-cautions.ts';
import { keptLinkMode, keptMtu } from './linux-kept.ts';
import { type AdviceContext, returnAfterMinutes, type SystemAdvice } from './types.ts';
import { type LinkMode, linkModeBefore, linkModeFor, mtuFrom } from './wanted.ts';

/**
 * Commands for Linux: `ip link set dev NAME mtu NUMBER` (ip-link(8)), `ethtool -s NAME speed N
 * duplex D autoneg A` (ethtool(8)). Undefined where no command is safe or known.
 */
export function linuxAdvice(step: ChangeStep, context: AdviceContext): SystemAdvice | undefined {
  const device = unixDeviceName(context.portName);
  if (device === undefined) return undefined;
  return step.setting === 'mtu'
    ? mtuAdvice(device, step, context)
    : linkAdvice(device, step, context);
}

function mtuAdvice(device: string, step: ChangeStep, context: AdviceContext) {
  const to = mtuFrom(step.to);
  if (to === undefined) return undefined;
  const command = (mtu: number) => `ip link set dev ${device} mtu ${mtu}`;
  const from = mtuFrom(step.from);
  const undo = from === undefined ? [] : [command(from)];
  return {
    temporary: [command(to)],
    persistent: keptMtu(device, to, context.port),
    undo,
    cautions: layerCautions(step, context),
    ...timedReturn(`${step.setting}-${device}`, undo),
  };
}

function linkAdvice(device: string, step: ChangeStep, context: AdviceContext) {
  const mode = linkModeFor(step.line, context.port);
  if (mode === undefined) return undefined;
  const before = linkModeBefore(context.port);
  const undo = before === undefined ? [] : [ethtoolCommand(device, before)];
  return {
    temporary: [ethtoolCommand(device, mode)],
    persistent: keptLinkMode(device, mode, context.port),
    undo,
    cautions: [],
    ...timedReturn(`${step.setting}-${device}`, undo),
  };
}

function ethtoolCommand(device: string, { negotiate, only }: LinkMode): string {
  const mode = only === undefined ? '' : ` speed ${only.speedMbps} duplex ${only.duplex}`;
  return `ethtool -s ${device}${mode} autoneg ${negotiate ? 'on' : 'off'}`;
}

/**
 * `systemd-run --on-active=` starts the command once, later (systemd-run(1)); without a service
 * manager at(1) does. The command holds no quote: its parts are literals, numbers and a checked
 * name.
 */
function timedReturn(job: string, undo: readonly string[]): Pick<SystemAdvice, 'timedReturn'> {
  const [command] = undo;
  if (command === undefined) return {};
  const unit = `put-back-${job}`;
  const wait = `--on-active=${returnAfterMinutes}m`;
  return {
    timedReturn: {
      arm: [
        `systemd-run ${wait} --unit=${unit} /bin/sh -c '${command}'`,
        `# without systemd: echo '${command}' | at now + ${returnAfterMinutes} minutes; cancel it by atrm`,
      ],
      cancel: `systemctl stop ${unit}.timer`,
    },
  };
}
