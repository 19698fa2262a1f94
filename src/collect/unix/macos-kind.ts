import type { Gap } from '../../facts/gap.ts';
import { type Found, found } from './draft.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import { isGap } from './linux-evidence.ts';
import type { HostPortKind } from './linux-kind.ts';

/** Kinds that the system's names of drivers tell (common practice). */
const kindOfName: readonly (readonly [RegExp, HostPortKind])[] = [
  [/^lo\d+$/, 'loopback'],
  [/^(?:utun|gif|stf|ipsec|ppp)\d+$/, 'tunnel'],
  [/^bridge\d+$/, 'bridge'],
  [/^vlan\d+$/, 'vlan'],
  [/^bond\d+$/, 'bond'],
  [/^(?:awdl|llw|ap|anpi|feth|vmenet|vmnet|pktap|iptap)\d+$/, 'virtual'],
];

/** What kind of port this is; the gap of `hardwarePort` where only that could tell. */
export function macosKind(
  port: Ifconfig,
  hardwarePort: string | Gap | undefined,
): Found<HostPortKind> | Gap {
  const named = kindOfName.find(([pattern]) => pattern.test(port.name))?.[1];
  if (named !== undefined) return found(named, 'ifconfig name');
  if (port.vlanId !== undefined) return found('vlan', 'ifconfig vlan');
  if (port.type === 'Wi-Fi') return found('wireless', 'ifconfig -v type');
  const source = 'networksetup -listallhardwareports';
  if (hardwarePort === undefined) return found('virtual', source);
  if (isGap(hardwarePort)) return hardwarePort;
  return found(/^(?:Wi-Fi|AirPort)$/.test(hardwarePort) ? 'wireless' : 'physical', source);
}
