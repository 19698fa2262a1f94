import { cleaned, foundOr, gap } from '../unix/draft.ts';
import type { Framed } from '../unix/frames.ts';
import { numberOf, textOf } from '../unix/json-values.ts';
import { isGap } from '../unix/linux-evidence.ts';
import { type NodePart, partOf } from '../unix/node-reading.ts';
import { wholeNumber } from '../unix/text.ts';
import { type Row, rowsOf } from './rows.ts';

const unsaid = gap('unsupported', 'the system does not say');

/** Facts of a Windows host itself. */
export function windowsNode(framed: Framed): NodePart {
  const system = rowsOf(framed, 'system');
  const version = rowsOf(framed, 'version');
  const uptime = rowsOf(framed, 'uptime');
  const name = isGap(system) ? undefined : cleaned(textOf(system[0]?.['name']));
  const number = isGap(version) ? undefined : versionOf(version[0]);
  const seconds = isGap(uptime) ? undefined : numberOf(uptime[0]?.['seconds']);
  const source = 'registry CurrentVersion';
  return partOf({
    systemKind: { value: 'windows', source: 'SSH, the script answered' },
    systemName: foundOr(name, 'COMPUTERNAME', isGap(system) ? system : unsaid),
    systemText: foundOr(
      number === undefined ? undefined : `Windows ${number}`,
      source,
      isGap(version) ? version : unsaid,
    ),
    osVersion: foundOr(number, source, isGap(version) ? version : unsaid),
    uptimeSeconds: foundOr(
      seconds,
      'Get-CimInstance Win32_OperatingSystem LastBootUpTime',
      isGap(uptime) ? uptime : unsaid,
    ),
  });
}

/** `10.0.26100.1742`: major, minor, build and the number of the last update. */
function versionOf(row: Row | undefined): string | undefined {
  const parts = [
    numberOf(row?.['CurrentMajorVersionNumber']),
    numberOf(row?.['CurrentMinorVersionNumber']),
    wholeNumber(textOf(row?.['CurrentBuildNumber'])),
    numberOf(row?.['UBR']),
  ];
  return parts.some((part) => part === undefined) ? undefined : parts.join('.');
}
