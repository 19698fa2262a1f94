/** What the generated first line of a script holds. */
export interface ScriptParts {
  readonly marker: string;
  readonly peers: readonly string[];
  /** Of the script that tries packet sizes. */
  readonly fit?: { readonly toAddress: string; readonly payloadsBytes: readonly number[] };
}

/** Takes the first line of a script apart; undefined where it is not one of hopgauge's. */
export function scriptParts(script: string): ScriptParts | undefined {
  const first = script.split('\n', 1)[0] ?? '';
  const [, marker, peers = ''] = /^M='([\w.:-]+)'; P='([0-9A-Fa-f.: ]*)'$/.exec(first) ?? [];
  if (marker !== undefined) return { marker, peers: listed(peers) };
  const [, fitMarker, toAddress, sizes = ''] =
    /^M='([\w.:-]+)'; A='([0-9A-Fa-f.:]+)'; S='([0-9 ]*)'$/.exec(first) ?? [];
  if (fitMarker === undefined || toAddress === undefined) return undefined;
  const payloadsBytes = listed(sizes).map((size) => Number.parseInt(size, 10));
  return { marker: fitMarker, peers: [], fit: { toAddress, payloadsBytes } };
}

/** The marker of a script; undefined where it is not one of hopgauge's. */
export function markerOf(script: string): string | undefined {
  return scriptParts(script)?.marker;
}

function listed(text: string): readonly string[] {
  return text.split(' ').filter((item) => item !== '');
}
