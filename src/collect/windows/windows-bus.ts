import {
  type HostBus,
  type PcieGeneration,
  pcieGigatransfers,
  pcieLanes,
} from '../../ethernet/host-bus.ts';
import { busCodedMbps, busWords } from '../unix/bus-words.ts';
import { found, foundOr, gap } from '../unix/draft.ts';
import { numberOf } from '../unix/json-values.ts';
import type { BusFacts } from '../unix/linux-bus.ts';
import { isGap } from '../unix/linux-evidence.ts';
import { cell, type WindowsEvidence } from './windows-sections.ts';

type Pcie = Extract<HostBus, { kind: 'pcie' }>;
const source = 'Get-NetAdapterHardwareInfo';

/**
 * The PCI Express link of an adapter. The encoded speed is the field of that name of the link
 * status register, which counts generations from 1 (PCI Express Base Specification, secondary
 * source); the documentation of the class names 1 and 2 only.
 */
export function windowsBus({ hardware }: WindowsEvidence): BusFacts {
  if (hardware !== undefined && isGap(hardware)) return alike(hardware);
  if (hardware === undefined) return alike(gap('unsupported', 'no PCI Express device'));
  const now = linkOf(hardware, 'Current');
  if (now === undefined) return alike(gap('unsupported', 'the adapter tells no PCI Express link'));
  const most = linkOf(hardware, 'Max');
  return {
    busText: found(busWords(now), source),
    busMbps: found(busCodedMbps(now), source),
    busMaxMbps: foundOr(
      most && busCodedMbps(most),
      source,
      gap('unsupported', 'the adapter does not say'),
    ),
  };
}

function linkOf(row: WindowsEvidence['hardware'], when: 'Current' | 'Max'): Pcie | undefined {
  const speed = cell(row, `PciExpress${when}LinkSpeedEncoded`, numberOf);
  const width = cell(row, `PciExpress${when}LinkWidth`, numberOf);
  const lanes = pcieLanes.find((known) => known === width);
  if (speed === undefined || lanes === undefined || !isGeneration(speed)) return undefined;
  return { kind: 'pcie', generation: speed, lanes };
}

function isGeneration(speed: number): speed is PcieGeneration {
  return speed in pcieGigatransfers;
}

function alike(why: ReturnType<typeof gap>): BusFacts {
  return { busText: why, busMbps: why, busMaxMbps: why };
}
