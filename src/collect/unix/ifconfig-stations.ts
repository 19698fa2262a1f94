import { type Station, stationsMax } from './forwarding.ts';
import { macText, textLines, wholeNumber } from './text.ts';

// `02:00:5e:00:00:05 Vlan1 ix0 1187 flags=0<>`
const row =
  /^\s*((?:[0-9a-f]{1,2}:){5}[0-9a-f]{1,2}) Vlan(\d{1,4}) (\S+) \d+ flags=[0-9a-f]+<(.*)>$/i;

/**
 * Reads `ifconfig BRIDGE addr` of FreeBSD: the stations that it has learnt. It writes 1 for frames
 * without a tag, whatever VLAN that is, so that 0 and 1 name none.
 */
export function parseBridgeStations(output: string): readonly Station[] {
  const stations: Station[] = [];
  for (const line of textLines(output)) {
    const [, address = '', number, port = '', flags = ''] = row.exec(line) ?? [];
    const mac = macText(address.replace(/\b[0-9a-f]\b/gi, '0$&'));
    if (mac === undefined || flags.split(',').includes('STATIC')) continue;
    const vlan = wholeNumber(number) ?? 0;
    stations.push({ mac, port, ...(vlan > 1 && vlan < 4095 ? { vlan } : {}) });
    if (stations.length >= stationsMax) break;
  }
  return stations;
}
