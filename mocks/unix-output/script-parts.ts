import type { FitPlan } from '../../src/probe/fit-types.ts';

/** What the generated first line of a script holds. */
export interface ScriptParts {
  readonly marker: string;
  readonly peers: readonly string[];
  /** Of the script that tries packet sizes. */
  readonly fit?: { readonly toAddress: string; readonly payloads: FitPlan };
}

/** Takes the first line of a script apart; undefined where it is not one of hopgauge's. */
export function scriptParts(script: string): ScriptParts | undefined {
  const first = script.split('\n', 1)[0] ?? '';
  const [, marker, peers = ''] = /^M='([\w.:-]+)'; P='([0-9A-Fa-f.: ]*)'$/.exec(first) ?? [];
  if (marker !== undefined) return { marker, peers: listed(peers) };
  const [, fitMarker, toAddress, rising = '', near = '', floor = ''] =
    /^M='([\w.:-]+)'; A='([0-9A-Fa-f.:]+)'; S='([0-9 ]*)'; P='[0-9]+'; N='([0-9 ]*)'; F='([0-9]+)'; H='[0-9]+'$/.exec(
      first,
    ) ?? [];
  if (fitMarker === undefined || toAddress === undefined) return undefined;
  const numbers = (text: string) => listed(text).map((size) => Number.parseInt(size, 10));
  const payloads = {
    risingBytes: numbers(rising),
    nearBytes: numbers(near),
    floorBytes: Number.parseInt(floor, 10),
  };
  return { marker: fitMarker, peers: [], fit: { toAddress, payloads } };
}

/** The marker of a script; undefined where it is not one of hopgauge's. */
export function markerOf(script: string): string | undefined {
  return scriptParts(script)?.marker;
}

function listed(text: string): readonly string[] {
  return text.split(' ').filter((item) => item !== '');
}
