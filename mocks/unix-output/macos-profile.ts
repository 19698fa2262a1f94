import type { DescribedHost, DescribedPort } from './described-host.ts';
import type { Printed } from './framed.ts';
import { isHardware } from './macos-port.ts';

/** What `system_profiler -json` prints of a host's buses: Ethernet, PCI and Thunderbolt. */
export function profileSections(host: DescribedHost): readonly Printed[] {
  const ports = host.ports.filter(isHardware);
  return [
    report('SPEthernetDataType', ports.flatMap(ethernetItem)),
    report('SPPCIDataType', ports.flatMap(pciItem)),
    report('SPThunderboltDataType', ports.flatMap(thunderboltItem)),
  ];
}

function report(type: string, items: readonly object[]): Printed {
  return { section: `profile ${type}`, output: JSON.stringify({ [type]: items }, undefined, 2) };
}

const usbWords: Readonly<Record<string, string>> = {
  '480': 'high_speed',
  '5000': 'super_speed',
  '10000': 'super_speed_plus',
};

function ethernetItem(port: DescribedPort, place: number): readonly object[] {
  if (port.busText === undefined && port.driver === undefined) return [];
  const usb = /^USB (\d+) Mb\/s$/.exec(port.busText ?? '')?.[1];
  return [
    {
      _name: port.alias ?? 'Ethernet',
      spethernet_BSD_Device_Name: port.name,
      spethernet_mac_address: port.macAddress,
      spethernet_driver: port.driver,
      spethernet_driver_version: port.driverVersion,
      'spethernet_vendor-id': '0x1d6a',
      'spethernet_device-id': deviceId(place),
      ...(usb === undefined
        ? { spethernet_bus: 'spethernet_pcie' }
        : { spethernet_bus: 'spethernet_usb_device', spethernet_usb_device_speed: usbWords[usb] }),
    },
  ];
}

function pciItem({ busText = '' }: DescribedPort, place: number): readonly object[] {
  const [, speed, width] = /^PCIe (\d+\.\d GT\/s) (x\d+)$/.exec(busText) ?? [];
  const tunnel = busText.startsWith('Thunderbolt');
  if (speed === undefined && !tunnel) return [];
  return [
    {
      _name: 'ethernet',
      'sppci_vendor-id': '0x1d6a',
      'sppci_device-id': deviceId(place),
      'sppci_link-speed': speed ?? '2.5 GT/s',
      'sppci_link-width': width ?? 'x4',
      sppci_slot_name: tunnel ? 'Thunderbolt@67,0,0' : 'Slot-1',
    },
  ];
}

function thunderboltItem({ busText = '' }: DescribedPort): readonly object[] {
  const rate = /^Thunderbolt (\d+ Gb\/s)$/.exec(busText)?.[1];
  if (rate === undefined) return [];
  return [
    {
      _name: 'thunderboltusb4_bus_0',
      receptacle_1_tag: {
        current_speed_key: rate,
        receptacle_id_key: '1',
        receptacle_status_key: 'receptacle_connected',
      },
    },
    {
      _name: 'thunderboltusb4_bus_1',
      receptacle_2_tag: {
        current_speed_key: 'Up to 40 Gb/s',
        receptacle_id_key: '2',
        receptacle_status_key: 'receptacle_no_devices_connected',
      },
    },
  ];
}

function deviceId(place: number): string {
  return `0x${(0x1000 + place).toString(16)}`;
}
