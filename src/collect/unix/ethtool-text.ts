import { present, textLines, wholeNumber } from './text.ts';

/** What `ethtool PORT` prints, as far as it was printed. */
export interface Ethtool {
  /** Values by the name before the colon, in lower case. Untrusted. */
  readonly fields: ReadonlyMap<string, string>;
  /** Link modes; absent where not printed or `Not reported`. */
  readonly supportedModes?: readonly string[];
  readonly advertisedModes?: readonly string[];
  readonly partnerModes?: readonly string[];
  readonly speedMbps?: number;
  readonly duplex?: 'full' | 'half';
  readonly autoNegotiation?: boolean;
  readonly linkDetected?: boolean;
  /** What stands in parentheses after `Link detected: no`. Untrusted. */
  readonly linkText?: string;
}

const modesMax = 128;

/**
 * Reads the text of `ethtool PORT`. The text and not the JSON, because some releases print
 * `auto-negotiation` there the wrong way round, and most have no JSON at all.
 */
export function parseEthtoolText(output: string): Ethtool {
  const fields = fieldsOf(output);
  const speed = /^(\d{1,7})Mb\/s$/.exec(fields.get('speed') ?? '')?.[1];
  const duplex = /^(full|half)$/i.exec(fields.get('duplex') ?? '')?.[1]?.toLowerCase();
  const auto = /^(on|off)$/.exec(fields.get('auto-negotiation') ?? '')?.[1];
  const [, detected, linkText] =
    /^(yes|no)(?: \((.*)\))?$/.exec(fields.get('link detected') ?? '') ?? [];
  return present<Ethtool>({
    fields,
    supportedModes: modesOf(fields.get('supported link modes')),
    advertisedModes: modesOf(fields.get('advertised link modes')),
    partnerModes: modesOf(fields.get('link partner advertised link modes')),
    speedMbps: believableSpeed(wholeNumber(speed)),
    duplex: duplex === 'full' || duplex === 'half' ? duplex : undefined,
    autoNegotiation: auto === undefined ? undefined : auto === 'on',
    linkDetected: detected === undefined ? undefined : detected === 'yes',
    linkText,
  });
}

/** A speed that can be one: not 0 and not the values that stand for "not known". */
export function believableSpeed(speedMbps: number | undefined): number | undefined {
  if (speedMbps === undefined || speedMbps === 0) return undefined;
  return speedMbps === 65_535 || speedMbps > 10_000_000 ? undefined : speedMbps;
}

function fieldsOf(output: string): ReadonlyMap<string, string> {
  const fields = new Map<string, string>();
  let last = '';
  for (const line of textLines(output)) {
    const [, name, value = ''] = /^\s+([A-Z][\w -]*):(?:\s+(.*?))?\s*$/.exec(line) ?? [];
    if (name !== undefined) {
      last = name.toLowerCase();
      if (!fields.has(last)) fields.set(last, value);
    } else if (/^\s/.test(line) && last !== '') {
      fields.set(last, `${fields.get(last) ?? ''} ${line.trim()}`);
    }
  }
  return fields;
}

function modesOf(text: string | undefined): readonly string[] | undefined {
  const found = (text ?? '').split(/\s+/).filter((word) => /^(?:\d\w*\/\w+|BIT\d+)$/.test(word));
  return found.length === 0 ? undefined : [...new Set(found)].slice(0, modesMax);
}
