import { cleaned, foundOr, gap, type Settled } from './draft.ts';
import type { Ifconfig } from './ifconfig-bsd.ts';
import { type Media, parseMedia } from './ifconfig-media.ts';
import type { LineFacts, LineState } from './line-facts.ts';

/** Facts of the line behind a port: speed, duplex, negotiation. */
export function ifconfigLine(
  port: Ifconfig,
  state: LineState,
  by: { readonly system: 'macOS' | 'FreeBSD'; readonly mediaSource?: string },
): LineFacts {
  const { system, mediaSource = 'ifconfig media' } = by;
  const media = port.media === undefined ? undefined : parseMedia(port.media);
  const said = gap(
    'unsupported',
    port.media === undefined ? 'ifconfig prints no media' : `media: ${port.media}`,
  );
  const rate = state.kind === 'physical' && media?.none !== true ? port.linkRateMbps : undefined;
  return {
    speedMbps: ofLine(state, media, [
      foundOr(media?.speedMbps, mediaSource, foundOr(rate, 'ifconfig -v link rate', said)),
    ]),
    duplex: ofLine<string>(state, media, [foundOr(media?.duplex, mediaSource, said)]),
    autoNegotiation: foundOr(media?.autoNegotiation, mediaSource, said),
    supportedModes: foundOr(
      port.supportedModes,
      'ifconfig -m supported media',
      gap('unsupported', 'ifconfig prints no supported media'),
    ),
    advertisedModes: gap('unsupported', `${system} does not say`),
    partnerModes: gap('unsupported', `${system} does not say`),
    mediaText: foundOr(cleaned(port.media), mediaSource, said),
    linkText: foundOr(cleaned(port.linkText), 'ifconfig status', undefined),
  };
}

function ofLine<T extends number | string>(
  state: LineState,
  media: Media | undefined,
  [read]: readonly [Settled<T>],
): Settled<T> {
  const { operUp } = state;
  const inactive = operUp !== undefined && 'value' in operUp && !operUp.value;
  if (inactive || media?.none === true) return gap('down', 'no link');
  if (read === undefined || !('value' in read)) return read;
  if (state.kind !== 'physical' && state.kind !== 'wireless' && state.kind !== 'bond') {
    if (state.kind === 'vlan') return read;
    return gap('doubtful', `${read.value}, made up by a port that has no hardware`);
  }
  return read;
}
