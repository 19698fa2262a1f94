import { firstGroup, present, wholeNumber } from './text.ts';

/** What `ethtool -a PORT` prints, as far as it was printed. */
export interface EthtoolPause {
  /** Pause is agreed with the partner rather than set by hand. */
  readonly autoNegotiate?: boolean;
  /** As set; with negotiation what is offered or what came of it, by the driver. */
  readonly rx?: boolean;
  readonly tx?: boolean;
  /** What came of the negotiation. */
  readonly rxNegotiated?: boolean;
  readonly txNegotiated?: boolean;
  /** Counted by `-I`, where the driver does. */
  readonly rxPauseFrames?: number;
  readonly txPauseFrames?: number;
}

/** Reads the text of `ethtool -a PORT`, with or without `-I`. */
export function parseEthtoolPause(output: string): EthtoolPause {
  return present<EthtoolPause>({
    autoNegotiate: switchOf(firstGroup(output, /^Autonegotiate:[ \t]*(on|off)[ \t]*$/m)),
    rx: switchOf(firstGroup(output, /^RX:[ \t]*(on|off)[ \t]*$/m)),
    tx: switchOf(firstGroup(output, /^TX:[ \t]*(on|off)[ \t]*$/m)),
    rxNegotiated: switchOf(firstGroup(output, /^RX negotiated:[ \t]*(on|off)[ \t]*$/m)),
    txNegotiated: switchOf(firstGroup(output, /^TX negotiated:[ \t]*(on|off)[ \t]*$/m)),
    rxPauseFrames: wholeNumber(firstGroup(output, /^[ \t]*rx_pause_frames: (\d{1,20})[ \t]*$/m)),
    txPauseFrames: wholeNumber(firstGroup(output, /^[ \t]*tx_pause_frames: (\d{1,20})[ \t]*$/m)),
  });
}

function switchOf(word: string | undefined): boolean | undefined {
  return word === undefined ? undefined : word === 'on';
}
