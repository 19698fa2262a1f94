import type { PortDraft, Settled } from './draft.ts';
import type { HostPortKind } from './linux-kind.ts';

/** Facts of the line behind a port, whatever system reads them. */
export type LineFacts = Pick<
  PortDraft,
  | 'speedMbps'
  | 'duplex'
  | 'autoNegotiation'
  | 'supportedModes'
  | 'advertisedModes'
  | 'partnerModes'
  | 'mediaText'
  | 'linkText'
>;

/** What is known of the port before its line is read. */
export interface LineState {
  readonly kind: HostPortKind | undefined;
  readonly operUp: Settled<boolean>;
}
