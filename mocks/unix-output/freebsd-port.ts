import type { DescribedHost, DescribedPort } from './described-host.ts';
import { lacpBitsOf } from './lacp-bits.ts';
import { addressLine } from './macos-port.ts';

/** What `ifconfig -a -v -m` of FreeBSD prints of a host. */
export function freebsdIfconfigText(host: DescribedHost): string {
  return host.ports.map((port) => `${blockOf(host, port).join('\n')}\n`).join('');
}

export function isFreebsdHardware(port: DescribedPort): boolean {
  return port.kind === 'physical' || port.kind === 'wireless';
}

export function freebsdIndexOf(host: DescribedHost, port: DescribedPort): number {
  return port.ifIndex ?? host.ports.indexOf(port) + 1;
}

const groups: Readonly<Partial<Record<DescribedPort['kind'], string>>> = {
  loopback: 'lo',
  vlan: 'vlan',
  bond: 'lagg',
  bridge: 'bridge',
  tunnel: 'wg',
  virtual: 'tap',
  wireless: 'wlan',
};

function blockOf(host: DescribedHost, port: DescribedPort): readonly string[] {
  const up = port.adminUp !== false;
  const active = up && port.operUp !== false;
  const flags = [...(up ? ['UP'] : []), 'BROADCAST', ...(up ? ['RUNNING'] : []), 'SIMPLEX'];
  const bySign = !hasStatus(port) && active ? ['LOWER_UP'] : [];
  const group = groups[port.kind];
  return [
    `${port.name}: flags=1008843<${[...flags, ...bySign].join(',')}> metric 0 mtu ${port.mtuBytes}`,
    ...(port.alias === undefined ? [] : [`\tdescription: ${port.alias}`]),
    '\toptions=4e53fbb<RXCSUM,TXCSUM,VLAN_MTU,VLAN_HWTAGGING,JUMBO_MTU,TSO4,TSO6>',
    ...(port.macAddress === undefined ? [] : [`\tether ${port.macAddress}`]),
    ...(port.permanentMacAddress === undefined ? [] : [`\thwaddr ${port.permanentMacAddress}`]),
    ...(port.addresses ?? []).map(addressLine),
    ...(port.kind === 'bond' ? lagLines(host, port) : []),
    ...(port.kind === 'bridge' ? bridgeLines(host, port) : []),
    ...(group === undefined ? [] : [`\tgroups: ${group}`]),
    ...(port.kind === 'vlan' ? [vlanLine(port)] : []),
    ...(port.mediaText === undefined ? [] : [`\tmedia: ${port.mediaText}`]),
    ...(hasStatus(port) ? [`\tstatus: ${statusOf(port, active)}`] : []),
    ...supported(port),
    ...moduleLines(port),
    ...(isFreebsdHardware(port) ? [`\tdrivername: ${port.name}`] : []),
    '\tnd6 options=29<PERFORMNUD,IFDISABLED,AUTO_LINKLOCAL>',
  ];
}

function hasStatus(port: DescribedPort): boolean {
  return port.mediaText !== undefined;
}

function statusOf(port: DescribedPort, active: boolean): string {
  if (active) return port.kind === 'wireless' ? 'associated' : 'active';
  return port.linkText === undefined ? 'no carrier' : `no carrier (${port.linkText})`;
}

function vlanLine({ vlanId, lowerPorts }: DescribedPort): string {
  return `\tvlan: ${vlanId} vlanproto: 802.1q vlanpcp: 0 parent interface: ${lowerPorts?.[0]}`;
}

function lagLines(host: DescribedHost, port: DescribedPort): readonly string[] {
  const lacp = port.aggregateMode === '802.3ad';
  return [
    `\tlaggproto ${lacp ? 'lacp' : port.aggregateMode} lagghash l2,l3,l4`,
    '\tlagg options:',
    '\t\tflags=90<USE_NUMA,LACP_STRICT>',
    ...members(host, port).flatMap((member) => {
      if (!lacp) return [`\tlaggport: ${member.name} flags=4<ACTIVE>`];
      const state = lacpBitsOf(member.lacpActor ?? []);
      const partner = (member.lacpPartnerSystem ?? '00:00:00:00:00:00').replaceAll(':', '-');
      return [
        `\tlaggport: ${member.name} flags=1c<ACTIVE,COLLECTING,DISTRIBUTING> state=${state.toString(16)}<ACTIVITY>`,
        `\t\t[(8000,${port.macAddress?.replaceAll(':', '-').toUpperCase()},01BB,8000,0001),`,
        `\t\t (8000,${partner.toUpperCase()},0001,8000,0003)]`,
      ];
    }),
  ];
}

function bridgeLines(host: DescribedHost, port: DescribedPort): readonly string[] {
  return [
    '\tid 02:00:5e:00:00:01 priority 32768 hellotime 2 fwddelay 15',
    ...members(host, port).flatMap((member) => {
      const spanning = member.spanningTree;
      const vlans = [
        ...(member.untaggedVlan === undefined ? [] : [` untagged ${member.untaggedVlan}`]),
        ...((member.taggedVlans ?? []).length === 0
          ? []
          : [` tagged ${member.taggedVlans?.join(',')}`]),
      ].join('');
      const port = '\t        ifmaxaddr 0 port 1 priority 128 path cost 2000';
      return [
        `\tmember: ${member.name} flags=1c7<LEARNING,DISCOVER,STP,AUTOEDGE,PTP,AUTOPTP>`,
        ...(spanning === undefined
          ? [`${port}${vlans}`]
          : [`${port} proto rstp`, `\t        role designated state ${spanning}${vlans}`]),
      ];
    }),
  ];
}

function members(host: DescribedHost, port: DescribedPort): readonly DescribedPort[] {
  return host.ports.filter(({ name }) => port.lowerPorts?.includes(name));
}

function moduleLines(port: DescribedPort): readonly string[] {
  if (port.moduleText === undefined) return [];
  return [
    `\tplugged: ${port.moduleText}`,
    '\tvendor: EXAMPLE PN: EX-10G SN: EX0001 DATE: 2024-01-01',
    ...(port.moduleTemperatureCelsius === undefined
      ? []
      : [
          `\tmodule temperature: ${port.moduleTemperatureCelsius.toFixed(2)} C voltage: 3.30 Volts`,
        ]),
    ...(port.rxPowerDbm === undefined
      ? []
      : [`\tlane 1: RX power: 0.50 mW (${port.rxPowerDbm.toFixed(2)} dBm) TX bias: 6.00 mA`]),
  ];
}

function supported(port: DescribedPort): readonly string[] {
  if (port.supportedModes === undefined) return [];
  return [
    '\tsupported media:',
    '\t\tmedia autoselect',
    ...port.supportedModes.map((mode) => `\t\tmedia ${mode.replaceAll(' ', ' mediaopt ')}`),
  ];
}
