import type { Paint } from './paint.ts';

/** How wide a text is and how it is coloured. */
export interface TextLook {
  /** In columns. */
  readonly width: number;
  readonly paint: Paint;
}
