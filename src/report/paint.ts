import colours from 'picocolors';

/** Tones of a report on a terminal. They only repeat what the words say. */
export interface Paint {
  readonly plain: (text: string) => string;
  readonly strong: (text: string) => string;
  readonly quiet: (text: string) => string;
  readonly wrong: (text: string) => string;
  readonly unknown: (text: string) => string;
}

/** Tones with colour, or the same functions giving their text back. */
export function paintFor(colour: boolean): Paint {
  const { bold, dim, magenta, cyan } = colours.createColors(colour);
  return {
    plain: (text) => text,
    strong: bold,
    quiet: dim,
    wrong: (text) => bold(magenta(text)),
    unknown: cyan,
  };
}
