import type { ChangeStep } from '../types.ts';
import { quotedAlias } from './device-name.ts';
import { layerCautions } from './layer-cautions.ts';
import { type AdviceContext, returnAfterMinutes, type SystemAdvice } from './types.ts';
import { mtuFrom } from './wanted.ts';

/**
 * Octets of the header that the driver's keyword counts; 1514 is its least value ("Keywords That
 * Can Be Edited", Windows driver documentation).
 */
const jumboHeaderBytes = 14;
const plainMtuBytes = 1500;

/**
 * Commands for Windows, in PowerShell: `Set-NetIPInterface -NlMtuBytes`, kept unless
 * `-PolicyStore ActiveStore` is given, and the driver's `*JumboPacket` by
 * `Set-NetAdapterAdvancedProperty`, which restarts the adapter (PowerShell documentation of both;
 * from memory). Undefined where no command is safe or known; speed and duplex are words there,
 * since the numbers of `*SpeedDuplex` above 1 Gb/s are each driver's own.
 */
export function windowsAdvice(step: ChangeStep, context: AdviceContext): SystemAdvice | undefined {
  const alias = quotedAlias(context.portName);
  const to = step.setting === 'mtu' ? mtuFrom(step.to) : undefined;
  if (alias === undefined || to === undefined) return undefined;
  const driver = driverLines(alias, to, context);
  const from = mtuFrom(step.from);
  const back = from === undefined ? [] : [interfaceCommand(alias, from)];
  const undo = from === undefined ? [] : [...back, ...driver.undo];
  return {
    temporary: [...driver.lines, `${interfaceCommand(alias, to)} -PolicyStore ActiveStore`],
    persistent: [{ by: 'PowerShell', lines: [interfaceCommand(alias, to)] }],
    undo,
    cautions: [...layerCautions(step, context), ...driver.cautions],
    ...timedReturn(context.portName ?? '', undo),
  };
}

function interfaceCommand(alias: string, mtu: number): string {
  return `Set-NetIPInterface -InterfaceAlias ${alias} -NlMtuBytes ${mtu}`;
}

function driverLines(alias: string, to: number, { port }: AdviceContext) {
  const now = mtuFrom(port?.driverMtuBytes);
  // A larger setting of the driver does no harm, so it is never lowered.
  if (to <= plainMtuBytes || (now !== undefined && now >= to) || hasNoDriver(port?.kind)) {
    return { lines: [], undo: [], cautions: [] };
  }
  const property = `-Name ${alias} -RegistryKeyword '*JumboPacket'`;
  const set = (mtu: number) =>
    `Set-NetAdapterAdvancedProperty ${property} -RegistryValue ${mtu + jumboHeaderBytes}`;
  return {
    lines: [set(to)],
    undo: now === undefined ? [] : [set(now)],
    cautions: [
      `the driver counts ${jumboHeaderBytes} bytes of header in its own setting, which is kept over a restart and restarts the adapter; many drivers take only values of a list, and then the next larger one: Get-NetAdapterAdvancedProperty ${property} | Format-List`,
      ...(now === undefined
        ? ["the driver's present value was not read: write it down before, to go back to it"]
        : []),
    ],
  };
}

/** A port that is known to have no hardware of its own, and so no such setting. */
function hasNoDriver(kind: string | undefined): boolean {
  return kind !== undefined && kind !== 'physical';
}

/** A task that runs once as SYSTEM (ScheduledTasks module; from memory). */
function timedReturn(alias: string, undo: readonly string[]): Pick<SystemAdvice, 'timedReturn'> {
  if (undo.length === 0) return {};
  const task = `'put back ${alias}'`;
  // A quote within single quotes is written twice; the name holds none (about_Quoting_Rules).
  const script = undo.join('; ').replaceAll("'", "''");
  return {
    timedReturn: {
      arm: [
        `$when = New-ScheduledTaskTrigger -Once -At (Get-Date).AddMinutes(${returnAfterMinutes})`,
        `$what = New-ScheduledTaskAction -Execute powershell.exe -Argument '-NoProfile -Command "${script}"'`,
        `Register-ScheduledTask -TaskName ${task} -User SYSTEM -Trigger $when -Action $what`,
      ],
      cancel: `Unregister-ScheduledTask -TaskName ${task} -Confirm:$false`,
    },
  };
}
