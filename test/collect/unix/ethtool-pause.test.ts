import { describe, expect, it } from 'vitest';
import { parseEthtoolPause } from '../../../src/collect/unix/ethtool-pause.ts';

const head = 'Pause parameters for eno1:\nAutonegotiate:\ton\nRX:\t\ton\nTX:\t\toff\n';

describe('parseEthtoolPause', () => {
  it.each([
    ['what is set', head, { autoNegotiate: true, rx: true, tx: false }],
    [
      'what came of the negotiation',
      `${head}RX negotiated: off\nTX negotiated: on\n`,
      { autoNegotiate: true, rx: true, tx: false, rxNegotiated: false, txNegotiated: true },
    ],
    [
      'tabs after the colon, as an older release prints',
      `${head}RX negotiated:\ton\nTX negotiated:\toff\n`,
      { autoNegotiate: true, rx: true, tx: false, rxNegotiated: true, txNegotiated: false },
    ],
    [
      'the counts of -I',
      `${head}Statistics:\n  tx_pause_frames: 3\n  rx_pause_frames: 5\n`,
      { autoNegotiate: true, rx: true, tx: false, txPauseFrames: 3, rxPauseFrames: 5 },
    ],
    [
      'a count beyond 2^53',
      `${head}Statistics:\n  rx_pause_frames: 99999999999999999999\n`,
      {
        autoNegotiate: true,
        rx: true,
        tx: false,
      },
    ],
    ['nothing', '', {}],
    ['another word', 'Autonegotiate:\tmaybe\nRX:\t\ton off\n', {}],
  ])('%s', (_, output, read) => {
    expect(parseEthtoolPause(output)).toEqual(read);
  });
});
