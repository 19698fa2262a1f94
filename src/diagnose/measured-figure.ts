/** A throughput that somebody measured. */
export interface MeasuredFigure {
  readonly mbps: number;
  /** Half of its last digit, as a share of it: `941M` stands for 940.5 to 941.5. */
  readonly roundingShare: number;
}

const pattern = /^(\d{1,12}(?:\.\d{1,6})?)\s?([kMG])(i?)(B|bit|b|)(\/s)?$/;

const tens = { k: 1e3, M: 1e6, G: 1e9 } as const;
const twos = { k: 2 ** 10, M: 2 ** 20, G: 2 ** 30 } as const;

/**
 * A figure as programs print it: `9.41G`, `941M`, `941Mbit/s`, `117MB/s`, `112MiB/s`; and
 * `23.1GiB`, the bytes of a transfer, where its `seconds` are given. `B` is bytes, `b` and
 * nothing are bits, `i` is powers of two. Undefined for anything else, and for 0.
 */
export function parseFigure(text: string, seconds?: number): MeasuredFigure | undefined {
  const [, digits, unit, binary, what, perSecond] = pattern.exec(text) ?? [];
  if (digits === undefined || (unit !== 'k' && unit !== 'M' && unit !== 'G')) return undefined;
  const value = Number(digits);
  const inBytes = what === 'B';
  const isVolume = inBytes && perSecond === undefined;
  if (value <= 0 || (binary === 'i' && !inBytes)) return undefined;
  if (isVolume && !(seconds !== undefined && seconds > 0)) return undefined;
  const scale = (binary === 'i' ? twos : tens)[unit] * (inBytes ? 8 : 1);
  const decimals = (digits.split('.')[1] ?? '').length;
  return {
    mbps: (value * scale) / 1e6 / (isVolume ? (seconds ?? 1) : 1),
    roundingShare: (0.5 * 10 ** -decimals) / value,
  };
}
