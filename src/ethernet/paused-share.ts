/** Bit times that one pause frame halts a sender for at most (IEEE 802.3 Annex 31B). */
const pauseBitsMax = 65_535 * 512;

/** Share of its life that a link may have stood still before it is said: as much as a transfer
 * loses at its ends anyhow (common practice). */
export const pausedShareMax = 0.01;

/** Share of `seconds` for which `frames` pause frames can have halted a sender; may exceed 1. */
export function pausedShare(frames: number, speedMbps: number, seconds: number): number {
  return (frames * pauseBitsMax) / (speedMbps * 1e6) / seconds;
}
