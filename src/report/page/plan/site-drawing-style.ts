/** Classes of least widths, one for each hundred of pixels up to so many. */
const leastSteps = 60;

/**
 * The class of the least width of a drawing, in hundreds of pixels: on a narrow screen a drawing
 * shrinks to about three quarters, at which its words can still be read, and is scrolled from there on.
 */
export function leastWidth(width: number): number {
  return Math.min(leastSteps, Math.max(1, Math.floor((width * 0.78) / 100)));
}

const leastWidths = Array.from(
  { length: leastSteps },
  (_, at) => `svg.least-${at + 1}{min-width:${(at + 1) * 100}px}`,
).join('');

/**
 * How a drawing of the site looks. A state is told by a word and the pattern of its line, a standing
 * by the shape of its mark; colour only repeats them.
 */
export const siteStyle = `
.site-sheet{margin:0;overflow-x:auto}
svg.site{display:block;max-width:100%;height:auto;font-family:ui-monospace,"DejaVu Sans Mono",Menlo,Consolas,monospace}
svg.site a{cursor:pointer;outline:none}
svg.site .body,svg.site .bar{fill:var(--paper);stroke:var(--ink);stroke-width:1.4}
svg.site .switch .body,svg.site .bar{fill:var(--ink)}
svg.site .bar{stroke:none}
svg.site .limb{fill:none;stroke:var(--ink);stroke-width:5;stroke-linejoin:round}
svg.site .name{fill:var(--ink);font-size:12px}
svg.site .switch .name{fill:var(--paper);font-weight:600}
svg.site .not-read .body{stroke-dasharray:2 3}
svg.site .on-your-word .body{stroke-dasharray:7 3}
svg.site .switch.not-read .body,svg.site .switch.on-your-word .body{fill:var(--paper)}
svg.site .switch.not-read .name,svg.site .switch.on-your-word .name{fill:var(--ink)}
svg.site .plate{fill:var(--paper);stroke:none}
svg.site .sign{fill:none;stroke:var(--ink);stroke-width:2;stroke-linecap:round;stroke-linejoin:round}
svg.site .broken .sign{stroke:var(--strike)}
svg.site .undetermined .sign{stroke:var(--doubt)}
svg.site .waived .sign{stroke:var(--waived)}
svg.site .met .sign{stroke:var(--met);stroke-width:1.6}
svg.site .line{fill:none;stroke:var(--ink);stroke-width:1.3}
svg.site .reach{fill:none;stroke:transparent;stroke-width:11;pointer-events:stroke}
svg.site .word{fill:var(--ink);font-size:11px}
svg.site .masked{fill:var(--paper)}
svg.site .tie{fill:none;stroke:var(--ink);stroke-width:3;stroke-linecap:round}
svg.site .down .line{stroke-dasharray:1 6;stroke-width:2.6;stroke-linecap:round}
svg.site .too-small .line{stroke-dasharray:12 3 2 3;stroke-width:2.2}
svg.site .slow .line{stroke-dasharray:9 4;stroke-width:1.8}
svg.site .not-known .line{stroke-dasharray:3 3}
svg.site .not-declared .line{stroke-dasharray:14 5 4 5 4 5;stroke-width:1}
svg.site .link.broken .line{stroke:var(--strike)}
svg.site .link.broken .word{fill:var(--strike);font-weight:600}
svg.site .link.undetermined .line{stroke:var(--doubt)}
svg.site .link.undetermined .word{fill:var(--doubt)}
svg.site .link.waived .line{stroke:var(--waived)}
svg.site .link.waived .word{fill:var(--waived)}
svg.site .as-declared .word{fill:var(--faint)}
svg.site a:hover .name,svg.site a:hover .word{text-decoration:underline}
svg.site a:focus-visible .halo{stroke:var(--focus);stroke-width:3}
svg.site a:focus-visible .reach{stroke:var(--focus);stroke-opacity:.55}
svg.site .halo{fill:none;stroke:none}
.site-key{display:flex;flex-wrap:wrap;gap:.2em 1.4em;list-style:none;margin:.8em 0;padding:0;font-size:.85em}
.site-key li{display:flex;align-items:center;gap:.5em}
.site-words{margin:.6em 0 1.4em}
.site-words table{border-collapse:collapse;font-size:.85em}
.site-words th,.site-words td{text-align:left;vertical-align:top;padding:.2em .8em .2em 0;border-bottom:1px solid var(--line);font-weight:400}
.site-words thead th{font-weight:600}
.site-words tbody th{min-width:17em;overflow-wrap:anywhere}
${leastWidths}
@media print{.site-sheet{overflow:visible}svg.site{min-width:0}}
`;
