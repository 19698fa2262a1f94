import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { framesOf } from '../../../src/collect/unix/frames.ts';
import { linuxBus } from '../../../src/collect/unix/linux-bus.ts';
import { busBridgesMax } from '../../../src/collect/unix/script-limits.ts';
import { parseSysfs } from '../../../src/collect/unix/sysfs.ts';
import { unixScript } from '../../../src/collect/unix/unix-script.ts';

/** A tree as the kernel lays it out: devices inside the bridges above them, ports as links. */
let root = '';
beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), 'sysfs-bus-'));
});
afterAll(() => rmSync(root, { recursive: true }));

function folder(path: string, files: Readonly<Record<string, string>>): string {
  const at = join(root, 'devices', path);
  mkdirSync(at, { recursive: true });
  for (const [name, text] of Object.entries(files)) writeFileSync(join(at, name), `${text}\n`);
  return at;
}

function port(name: string, device: string): void {
  const at = join(device, 'net', name);
  mkdirSync(at, { recursive: true });
  writeFileSync(join(at, 'mtu'), '1500\n');
  symlinkSync('../..', join(at, 'device'));
  mkdirSync(join(root, 'net'), { recursive: true });
  symlinkSync(at, join(root, 'net', name));
}

const link = (speed: string, width: string) => ({
  current_link_speed: `${speed} GT/s PCIe`,
  current_link_width: width,
  max_link_speed: '8.0 GT/s PCIe',
  max_link_width: '4',
});

function makeTree(): void {
  folder('pci0/root', link('5.0', '2'));
  folder('pci0/root/up', link('5.0', '2'));
  folder('pci0/root/up/down', link('8.0', '4'));
  port('card0', folder('pci0/root/up/down/card', link('8.0', '4')));
  folder('usb1', { bDeviceClass: '09', speed: '10000' });
  folder('usb1/1-2', { bDeviceClass: '00', speed: '5000' });
  port('usb0', folder('usb1/1-2/1-2:1.0', { bInterfaceClass: 'ff' }));
  let deep = 'deep';
  for (let i = 0; i < 20; i += 1) {
    folder(deep, link('8.0', '4'));
    deep = `${deep}/b`;
  }
  port('deep0', folder(deep, link('8.0', '4')));
  port('odd0', folder('virtual/odd', { speed: '77' }));
}

const shells = [
  ['dash', ['dash', '-s']],
  ['bash', ['bash', '-s']],
  ['busybox ash', ['busybox', 'sh', '-s']],
] as const;

describe.runIf(process.platform === 'linux')('the bus of a port by /sys (needs Linux)', () => {
  beforeAll(makeTree);

  it.each(shells)('is found by %s', (_, [command, ...args]) => {
    if (!existsSync(`/usr/bin/${command}`)) throw new Error(`${command} is not installed`);
    const script = unixScript({ marker: 'mark-7', peers: [] });
    const input = script.replaceAll('/sys/class/net', join(root, 'net'));
    const { stdout, status } = spawnSync(command, args, { input, timeout: 20_000 });
    expect(status).toBe(0);
    const { sections } = framesOf(stdout, 'mark-7');
    const sysfs = (name: string) => {
      const section = sections.get(`sysfs ${name}`);
      return parseSysfs(section?.output ?? '', section?.words ?? '');
    };
    const bus = (name: string) => linuxBus(sysfs(name)).busText;
    expect(bus('card0')).toMatchObject({ value: 'PCIe 5.0 GT/s x2' });
    expect(linuxBus(sysfs('card0')).busMaxMbps).toMatchObject({ value: 31_507 });
    expect(bus('usb0')).toMatchObject({ value: 'USB 5000 Mb/s' });
    // A file of that name belongs to no USB device here.
    expect(bus('odd0')).toMatchObject({ reason: 'unsupported' });
    const looked = [...sysfs('deep0').values.keys()].filter((file) =>
      /current_link_speed/.test(file),
    );
    expect(looked).toHaveLength(busBridgesMax);
    expect(bus('deep0')).toMatchObject({ value: 'PCIe 8.0 GT/s x4' });
  });
});
