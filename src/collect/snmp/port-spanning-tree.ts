import type { FactValue } from '../../facts/entry.ts';
import type { Varbind } from './agent-session.ts';
import { bridgeColumns } from './bridge-objects.ts';
import { type BridgePorts, bridgePortOf } from './bridge-ports.ts';
import type { Walk } from './bulk-table.ts';
import { noBridgePort } from './port-vlans.ts';
import { objectText } from './snmp-object.ts';
import { cellOf } from './table-cells.ts';
import { counterOf, integerOf, type Read } from './values.ts';

/** dot1dStpPortState, from 1 (RFC 4188). */
const states = ['disabled', 'blocking', 'listening', 'learning', 'forwarding', 'broken'] as const;
const { dot1dStpPortState, dot1dBasePortMtuExceededDiscards } = bridgeColumns;

/** Source of each fact that a bridge has of one of its ports. */
export const bridgePortFactSources: Readonly<Record<string, string>> = {
  spanningTree: objectText(dot1dStpPortState),
  forwardTooLong: objectText(dot1dBasePortMtuExceededDiscards),
};

/** A fact that a bridge has of one of its ports. */
export function bridgePortFact(
  walk: Walk,
  { bridge, ifIndex }: { readonly bridge: Read<BridgePorts>; readonly ifIndex: number },
  fact: 'spanningTree' | 'forwardTooLong',
): Read<FactValue> {
  if (bridge.gap !== undefined) return bridge;
  const port = bridgePortOf(bridge.value, ifIndex);
  if (port === undefined) return { gap: noBridgePort };
  return fact === 'spanningTree'
    ? cellOf(walk, dot1dStpPortState, String(port), stateOf)
    : cellOf(walk, dot1dBasePortMtuExceededDiscards, String(port), counterOf);
}

function stateOf(cell: Varbind, what: string): Read<string> {
  const number = integerOf(cell, what, [1, states.length]);
  return number.gap === undefined ? { value: states[number.value - 1] ?? '' } : number;
}
