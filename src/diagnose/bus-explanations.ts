import { busFeeds, busRange, type HostBus } from '../ethernet/host-bus.ts';
import { ethernetSpeedsMbps } from '../intent/speed.ts';
import type { BusExplanation, FigureGiven } from './explanation.ts';
import type { MeasuredFigure } from './measured-figure.ts';

const pcie = ([1, 2, 3, 4, 5] as const).flatMap((generation) =>
  ([1, 2, 4, 8] as const).map((lanes): HostBus => ({ kind: 'pcie', generation, lanes })),
);
const others: readonly HostBus[] = [
  { kind: 'usb', speedMbps: 5000 },
  { kind: 'usb', speedMbps: 10_000 },
  { kind: 'usb', speedMbps: 20_000 },
  { kind: 'thunderbolt', version: 1 },
  { kind: 'thunderbolt', version: 2 },
  { kind: 'thunderbolt', version: 3 },
];
const usb2: HostBus = { kind: 'usb', speedMbps: 480 };
/** Adapters for USB 2 have ports of 1 Gb/s and more; slower ports are fed by it. */
const usb2PortMbpsMin = 1_000;

/** The buses whose range a figure lies in and that are too little for the port. */
export function busExplanations(figure: MeasuredFigure, given: FigureGiven): BusExplanation[] {
  const portMbps = given.rateMbps ?? nextRateMbps(figure.mbps);
  if (portMbps === undefined) return [];
  const isNarrow = (bus: HostBus) => holds(bus, figure) && busFeeds(bus, portMbps).feeds === false;
  const kinds = [
    ['usb-2', portMbps >= usb2PortMbpsMin && isNarrow(usb2) ? [usb2] : []],
    ['bus', [...pcie, ...others].filter(isNarrow)],
  ] as const;
  return kinds.flatMap(([kind, buses]) => {
    if (buses.length === 0) return [];
    const ranges = buses.map(busRange);
    const leastMbps = Math.min(...ranges.map(([least]) => least));
    const mostMbps = Math.max(...ranges.map(([, most]) => most));
    return [{ kind, buses, leastMbps, mostMbps, portMbps }];
  });
}

function holds(bus: HostBus, { mbps, roundingShare }: MeasuredFigure): boolean {
  const [least, most] = busRange(bus);
  return mbps * (1 + roundingShare) >= least && mbps * (1 - roundingShare) <= most;
}

/** Where no rate is given, the port is the slowest that the figure leaves room for. */
function nextRateMbps(mbps: number): number | undefined {
  return ethernetSpeedsMbps.find((rate) => rate >= usb2PortMbpsMin && rate > mbps);
}
