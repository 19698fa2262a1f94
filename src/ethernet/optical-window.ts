import type { SourceMark } from './reach.ts';

/** An average optical power in dBm. */
export interface WindowEdge {
  readonly dbm: number;
  readonly mark: SourceMark;
}

/** What a PHY may send and must be able to receive: average power at its two ends. */
export interface OpticalWindow {
  readonly txLeast: WindowEdge;
  readonly txMost: WindowEdge;
  readonly rxLeast: WindowEdge;
  readonly rxMost: WindowEdge;
  /** Sensitivity in optical modulation amplitude, no average power; absent: not known here. */
  readonly rxSensitivityOma?: WindowEdge;
  readonly rxStressedOma?: WindowEdge;
}

const memory = (dbm: number): WindowEdge => ({ dbm, mark: 'from memory' });
const secondary = (dbm: number): WindowEdge => ({ dbm, mark: 'secondary source' });

/**
 * Power windows of IEEE Std 802.3. 10GBASE-LR's transmitter and sensitivity as a network
 * adapter's data sheet quotes them, 10GBASE-SR's stressed sensitivity (secondary source); all
 * else from memory. 1000BASE-LX may send from -11.5 dBm into multi-mode, -11 into single-mode: the
 * lower stands, so that neither is accused.
 */
const windows: Readonly<Record<string, OpticalWindow>> = {
  '1000BASE-SX': {
    txLeast: memory(-9.5),
    txMost: memory(0),
    rxLeast: memory(-17),
    rxMost: memory(0),
  },
  '1000BASE-LX': {
    txLeast: memory(-11.5),
    txMost: memory(-3),
    rxLeast: memory(-19),
    rxMost: memory(-3),
  },
  '10GBASE-SR': {
    txLeast: memory(-7.3),
    txMost: memory(-1),
    rxLeast: memory(-9.9),
    rxMost: memory(-1),
    rxSensitivityOma: memory(-11.1),
    rxStressedOma: secondary(-7.5),
  },
  '10GBASE-LR': {
    txLeast: secondary(-8.2),
    txMost: secondary(0.5),
    rxLeast: memory(-14.4),
    rxMost: secondary(0.5),
    rxSensitivityOma: secondary(-12.6),
  },
  '10GBASE-ER': {
    txLeast: memory(-4.7),
    txMost: memory(4),
    rxLeast: memory(-15.8),
    rxMost: memory(-1),
    rxSensitivityOma: memory(-14.1),
  },
  '10GBASE-LRM': {
    txLeast: memory(-6.5),
    txMost: memory(0.5),
    rxLeast: memory(-8.4),
    rxMost: memory(0.5),
  },
};

/** Power window of a PHY; undefined where none is known here. */
export function opticalWindow(phy: string): OpticalWindow | undefined {
  return Object.hasOwn(windows, phy) ? windows[phy] : undefined;
}
