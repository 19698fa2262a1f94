/** What a port offers of flow control: the PAUSE and ASM_DIR bits (IEEE 802.3 28B.2). */
export interface PauseOffer {
  /** PAUSE: symmetric. */
  readonly pause: boolean;
  /** ASM_DIR: asymmetric. */
  readonly asymmetric: boolean;
}

/** What a port does with pause frames: honours those it gets, sends its own. */
export interface PauseUse {
  readonly receives: boolean;
  readonly sends: boolean;
}

/**
 * What the local port does once both offers are known, in full duplex; in half duplex nothing is
 * paused. Source: IEEE 802.3 Table 28B-3 (secondary source).
 */
export function resolvePause(local: PauseOffer, partner: PauseOffer): PauseUse {
  if (local.pause && partner.pause) return { receives: true, sends: true };
  const oneWay = local.asymmetric && partner.asymmetric;
  return { receives: oneWay && local.pause, sends: oneWay && partner.pause };
}
