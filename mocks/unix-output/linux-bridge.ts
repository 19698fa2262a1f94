import type { DescribedHost, DescribedPort } from './described-host.ts';
import type { Printed } from './framed.ts';

/** What `bridge` prints of VLANs and stations; nothing is asked where there is no bridge. */
export function bridgeSections(host: DescribedHost): readonly Printed[] {
  if (!host.ports.some(({ kind }) => kind === 'bridge')) return [];
  const vlans = host.ports
    .filter(({ untaggedVlans }) => untaggedVlans !== undefined)
    .map((port) => ({ ifname: port.name, vlans: vlansOf(port) }));
  const own = host.ports.flatMap(({ name, macAddress }) =>
    macAddress === undefined ? [] : [`${macAddress} dev ${name} master br0 permanent`],
  );
  const learnt = (host.forwarding ?? []).flatMap(({ port, vlan, macs }) =>
    macs.map((mac) => `${mac} dev ${port}${vlan === undefined ? '' : ` vlan ${vlan}`} master br0`),
  );
  return [
    { section: 'bridge-vlans', output: JSON.stringify(vlans) },
    { section: 'bridge-stations', output: [...own, ...learnt].join('\n') },
  ];
}

function vlansOf(port: DescribedPort): readonly object[] {
  const untagged = (port.untaggedVlans ?? []).map((vlan) => ({
    vlan,
    flags: [...(vlan === port.untaggedVlan ? ['PVID'] : []), 'Egress Untagged'],
  }));
  return [...untagged, ...(port.taggedVlans ?? []).map((vlan) => ({ vlan }))];
}
