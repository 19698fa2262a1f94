/**
 * The colours of the page as custom properties, for light, dark and print. Text in each of them is
 * readable on `--paper` (WCAG 2.1, 1.4.3), and none of them says anything alone.
 */
export const paletteStyle = `
:root{color-scheme:light dark;
--paper:#fcfbf7;--ink:#1b2430;--faint:#586270;--line:#c9c5b8;--load:#1d6a86;--strike:#b3261e;
--met:#2a683d;--doubt:#6748a0;--waived:#735518;--focus:#0b57d0}
@media (prefers-color-scheme:dark){:root{
--paper:#14191f;--ink:#e8e6df;--faint:#a3adb8;--line:#3d4751;--load:#6cc3e0;--strike:#ff8f85;
--met:#7fd19b;--doubt:#c3a8f5;--waived:#e0b96a;--focus:#8ab4ff}}
@media print{:root{color-scheme:light;
--paper:#fff;--ink:#000;--faint:#444;--line:#999;--load:#134a5e;--strike:#8c120b;
--met:#1d4d2c;--doubt:#4a2f7c;--waived:#54400f;--focus:#000}}
`;
