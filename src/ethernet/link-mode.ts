/** Both directions at once, or one at a time. */
export type Duplex = 'full' | 'half';

/**
 * What carries the bits. `twisted-pair` is the four-pair cable of the trade, so single-pair
 * Ethernet and PHYs that do not name their medium (10GBASE-R, 1000BASE-X) are `unknown`.
 */
export type Medium = 'twisted-pair' | 'fibre' | 'direct-attach' | 'backplane' | 'unknown';

/** One way in which a port can run: speed, duplex and what carries it. */
export interface LinkMode {
  /** Speed in Mb/s, 10 to 1,600,000. */
  readonly speedMbps: number;
  readonly duplex: Duplex;
  readonly medium: Medium;
  /** Name in IEEE 802.3, as `10GBASE-T`. Absent where the source names only speed and medium. */
  readonly phy?: string;
}

/** A set of link modes: each once, in order of priority, highest first. Made by `linkModes`. */
export type LinkModes = readonly LinkMode[];

/** A mode as one source tells it. The duplex is absent where the source does not say. */
export interface LineReading extends Omit<LinkMode, 'duplex'> {
  readonly duplex?: Duplex;
}

/** The link modes of one list that a node gave, and what that list leaves open. */
export interface OfferedModes {
  readonly modes: LinkModes;
  /** Spellings and bits that no pattern accepts, as they came. Untrusted text. */
  readonly aside: readonly string[];
  /**
   * Twisted-pair speeds in Mb/s that the source has no way to say, such as 2500 in the capability
   * bits of MAU-MIB: that such a mode is missing proves nothing.
   */
  readonly silentMbps: readonly number[];
}
