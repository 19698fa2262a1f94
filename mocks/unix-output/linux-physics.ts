import type { DescribedPort } from './described-host.ts';
import type { Printed } from './framed.ts';

const refused = {
  words: 'netlink error: Operation not supported',
  status: 1,
} as const;

/** What the further questions about the line of a port print, except that about its module. */
export function lineSections(port: DescribedPort): readonly Printed[] {
  return [
    pause(port),
    eee(port),
    port.fecText === undefined
      ? { section: `ethtool-fec ${port.name}`, ...refused }
      : {
          section: `ethtool-fec ${port.name}`,
          output: [
            `FEC parameters for ${port.name}:`,
            'Supported/Configured FEC encodings: Auto RS BaseR',
            `Active FEC encoding: ${port.fecText}`,
          ].join('\n'),
        },
    counters(port),
  ];
}

function pause(port: DescribedPort): Printed {
  const section = `ethtool-pause ${port.name}`;
  const { pauseRx, pauseTx, rxPauseFrames, txPauseFrames } = port;
  if (pauseRx === undefined || pauseTx === undefined) return { section, ...refused };
  const rx = pauseRx ? 'on' : 'off';
  const tx = pauseTx ? 'on' : 'off';
  const lines = [
    `Pause parameters for ${port.name}:`,
    'Autonegotiate:\ton',
    'RX:\t\ton',
    'TX:\t\ton',
    `RX negotiated: ${rx}`,
    `TX negotiated: ${tx}`,
    ...(rxPauseFrames === undefined || txPauseFrames === undefined
      ? []
      : [
          'Statistics:',
          `  tx_pause_frames: ${txPauseFrames}`,
          `  rx_pause_frames: ${rxPauseFrames}`,
        ]),
  ];
  return { section, output: lines.join('\n') };
}

function eee(port: DescribedPort): Printed {
  const section = `ethtool-eee ${port.name}`;
  if (port.eeeEnabled === undefined) return { section, ...refused };
  const active = port.eeeActive ? 'active' : 'inactive';
  const status = port.eeeEnabled ? `enabled - ${active}` : 'disabled';
  return {
    section,
    output: `EEE settings for ${port.name}:\n\tEEE status: ${status}\n\tTx LPI: 17 (us)`,
  };
}

function counters({ name, lateCollisions, rxSymbolErrors }: DescribedPort): Printed {
  const lines = [
    ...(lateCollisions === undefined ? [] : [`     tx_late_collisions: ${lateCollisions}`]),
    ...(rxSymbolErrors === undefined ? [] : [`     rx_symbol_errors: ${rxSymbolErrors}`]),
  ];
  const status = lines.length > 0 ? 0 : 1;
  return { section: `ethtool-counters ${name}`, output: lines.join('\n'), status };
}

/** What `ethtool -m` prints of the module in a port, as of an SFP with monitors. */
export function moduleSection(port: DescribedPort): Printed {
  const section = `ethtool-module ${port.name}`;
  if (port.moduleText === undefined) return { section, ...refused };
  const lines = [
    row('Identifier', '0x03 (SFP)'),
    ...port.moduleText.split('; ').map((type) => row('Transceiver type', type)),
    ...light('Laser output power', port.txPowerDbm),
    ...light('Receiver signal average optical power', port.rxPowerDbm),
    ...(port.moduleTemperatureCelsius === undefined
      ? []
      : [row('Module temperature', temperature(port.moduleTemperatureCelsius))]),
    ...light('Laser output power high warning threshold', port.txPowerHighDbm),
    ...light('Laser output power low warning threshold', port.txPowerLowDbm),
    ...light('Laser rx power high warning threshold', port.rxPowerHighDbm),
    ...light('Laser rx power low warning threshold', port.rxPowerLowDbm),
  ];
  return { section, output: lines.join('\n') };
}

function row(title: string, value: string): string {
  return `\t${title.padEnd(41)} : ${value}`;
}

function light(title: string, dbm: number | undefined): readonly string[] {
  if (dbm === undefined) return [];
  return [row(title, `${(10 ** (dbm / 10)).toFixed(4)} mW / ${dbm.toFixed(2)} dBm`)];
}

function temperature(celsius: number): string {
  return `${celsius.toFixed(2)} degrees C / ${((celsius * 9) / 5 + 32).toFixed(2)} degrees F`;
}
