import { createHash } from 'node:crypto';
import type { DescribedPort } from '../unix-output/described-host.ts';
import type { DescribedWindows } from './described-windows.ts';

/** Numbers of IANAifType by kind of port. */
const types = { loopback: 24, wireless: 71, tunnel: 131 } as const;

function typeOf({ kind }: DescribedPort): number {
  return kind in types ? types[kind as keyof typeof types] : 6;
}

function guidOf(name: string): string {
  const hex = createHash('sha256').update(name).digest('hex').toUpperCase();
  return `{${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20, 32)}}`;
}

function bitsOf(speedMbps: number | undefined): number {
  return (speedMbps ?? 0) * 1_000_000;
}

function compact(mac: string | undefined): string {
  return (mac ?? '').replaceAll(':', '').toUpperCase();
}

/** Get-NetAdapter lists no loopback. */
export function adapterRows({ ports }: DescribedWindows): readonly object[] {
  return ports
    .filter(({ kind }) => kind !== 'loopback')
    .map((port) => ({
      Name: port.name,
      InterfaceDescription: port.alias,
      InterfaceGuid: guidOf(port.name),
      InterfaceIndex: port.ifIndex,
      InterfaceType: typeOf(port),
      NdisPhysicalMedium: port.kind === 'wireless' ? 9 : 14,
      HardwareInterface: port.kind === 'physical' || port.kind === 'wireless',
      Virtual: port.kind === 'virtual',
      InterfaceOperationalStatus: port.operUp === false ? 2 : 1,
      InterfaceAdminStatus: port.adminUp === false ? 2 : 1,
      MediaConnectState: port.operUp === false ? 2 : 1,
      ReceiveLinkSpeed: bitsOf(port.speedMbps),
      TransmitLinkSpeed: bitsOf(port.speedMbps),
      FullDuplex: port.duplex === 'full',
      MediaDuplexState: port.duplex === undefined ? 0 : port.duplex === 'full' ? 2 : 1,
      DriverName:
        port.driver === undefined ? null : `\\SystemRoot\\System32\\drivers\\${port.driver}.sys`,
      DriverVersionString: port.driverVersion,
      VlanID: port.vlanId ?? 0,
      MacAddress: (port.macAddress ?? '').replaceAll(':', '-').toUpperCase(),
      PermanentAddress: compact(port.permanentMacAddress),
    }));
}

/** What .NET lists: interfaces that IP is bound to. */
export function interfaceRows({ ports }: DescribedWindows): readonly object[] {
  return ports
    .filter(({ addresses, mtuBytes, kind }) => kind === 'loopback' || (addresses && mtuBytes))
    .map((port) => ({
      Name: port.name,
      Description: port.alias,
      Id: guidOf(port.name),
      Type: typeOf(port),
      Status: port.operUp === false ? 2 : 1,
      Speed: port.speedMbps === undefined ? -1 : bitsOf(port.speedMbps),
      Mac: compact(port.macAddress),
      Index: port.ifIndex,
      Mtu: port.mtuBytes ?? -1,
      Addresses: [...(port.addresses ?? []), 'fe80::1234:5678%12/64'],
      BytesReceived: port.rxOctets,
      BytesSent: port.txOctets,
      UnicastReceived: port.rxFrames === undefined ? undefined : port.rxFrames - 9,
      OtherReceived: 9,
      UnicastSent: port.txFrames === undefined ? undefined : port.txFrames - 7,
      OtherSent: 7,
      ReceivedErrors: port.rxErrors,
      ReceivedDiscards: port.rxDropped,
      SentErrors: port.txErrors,
      SentDiscards: port.txDropped,
    }));
}

/** The number that the driver's setting has for a packet: 14 bytes more than it. */
function jumboOf({ driverMtuBytes }: DescribedPort): string | undefined {
  return driverMtuBytes === undefined ? undefined : String(driverMtuBytes + 14);
}

function speedDuplexOf({ autoNegotiation }: DescribedPort): string | undefined {
  return autoNegotiation === undefined ? undefined : autoNegotiation ? '0' : '6';
}

function eeeOf({ eeeEnabled }: DescribedPort): string | undefined {
  return eeeEnabled === undefined ? undefined : eeeEnabled ? '1' : '0';
}

export function registryRows({ ports }: DescribedWindows): readonly object[] {
  return ports
    .filter(({ kind }) => kind !== 'loopback')
    .map((port) => ({
      NetCfgInstanceId: guidOf(port.name),
      Characteristics: port.kind === 'physical' || port.kind === 'wireless' ? 0x84 : 0x1,
      DriverVersion: port.driverVersion,
      VlanID: port.vlanId === undefined ? null : String(port.vlanId),
      JumboPacket: jumboOf(port) ?? null,
      SpeedDuplex: speedDuplexOf(port) ?? null,
      Eee: eeeOf(port) ?? null,
    }));
}

/** Get-NetAdapterAdvancedProperty gives a row for each setting that a driver has. */
export function propertyRows({ ports }: DescribedWindows): readonly object[] {
  return ports.flatMap((port) => {
    const most = port.mtuMaxBytes === undefined ? [] : ['1514', String(port.mtuMaxBytes + 14)];
    const values = [
      ['*JumboPacket', jumboOf(port), most],
      ['*SpeedDuplex', speedDuplexOf(port), ['0', '4', '6']],
      ['*EEE', eeeOf(port), ['0', '1']],
    ] as const;
    return values.flatMap(([RegistryKeyword, value, ValidRegistryValues]) =>
      value === undefined
        ? []
        : [{ Name: port.name, RegistryKeyword, RegistryValue: [value], ValidRegistryValues }],
    );
  });
}

/** IP of each family; the loopback has no limit, which is 2^32 - 1. */
export function ipRows({ ports }: DescribedWindows): readonly object[] {
  return ports
    .filter(({ addresses }) => addresses !== undefined)
    .flatMap((port) =>
      [2, 23].map((AddressFamily) => ({
        InterfaceIndex: port.ifIndex,
        InterfaceAlias: port.name,
        AddressFamily,
        NlMtu: port.mtuBytes ?? 4_294_967_295,
      })),
    );
}

export function addressRows({ ports }: DescribedWindows): readonly object[] {
  return ports.flatMap((port) =>
    (port.addresses ?? []).map((text) => {
      const [IPAddress = '', length = ''] = text.split('/');
      return { InterfaceIndex: port.ifIndex, IPAddress, PrefixLength: Number.parseInt(length, 10) };
    }),
  );
}

export function teamRows({ ports }: DescribedWindows): readonly object[] {
  return ports
    .filter(({ kind }) => kind === 'bond')
    .map(({ name, lowerPorts }) => ({ Name: name, Members: lowerPorts, TeamNics: name }));
}

export function statisticsRows({ ports }: DescribedWindows): readonly object[] {
  return ports
    .filter(({ kind }) => kind !== 'loopback')
    .map((port) => ({
      Name: port.name,
      ReceivedBytes: port.rxOctets,
      ReceivedUnicastPackets: port.rxFrames === undefined ? undefined : port.rxFrames - 9,
      ReceivedMulticastPackets: 5,
      ReceivedBroadcastPackets: 4,
      ReceivedPacketErrors: port.rxErrors,
      ReceivedDiscardedPackets: port.rxDropped,
      SentBytes: port.txOctets,
      SentUnicastPackets: port.txFrames === undefined ? undefined : port.txFrames - 7,
      SentMulticastPackets: 4,
      SentBroadcastPackets: 3,
      OutboundPacketErrors: port.txErrors,
      OutboundDiscardedPackets: port.txDropped,
    }));
}

export function hardwareRows({ ports }: DescribedWindows): readonly object[] {
  const encoded = ['', '2.5', '5.0', '8.0', '16.0', '32.0'];
  return ports.flatMap(({ name, busText = '' }) => {
    const [, speed = '', width] = /^PCIe (\d+\.\d) GT\/s x(\d+)$/.exec(busText) ?? [];
    if (width === undefined) return [];
    const link = encoded.indexOf(speed);
    const lanes = Number.parseInt(width, 10);
    return [
      {
        Name: name,
        PciExpressCurrentLinkSpeedEncoded: link,
        PciExpressCurrentLinkWidth: lanes,
        PciExpressMaxLinkSpeedEncoded: link,
        PciExpressMaxLinkWidth: lanes,
      },
    ];
  });
}
