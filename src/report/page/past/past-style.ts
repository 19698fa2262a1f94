/**
 * How the history looks. Steps are a strong line, gaps are hatched, verdicts differ by pattern:
 * filled, dotted, empty, so that black ink on white paper tells all of it. A chart that is wider than
 * the window shows its end first, which is tonight: that is where what runs from right to left begins.
 */
export const pastStyle = `
.past-chart{margin:.6rem 0 1rem;max-width:100%;overflow-x:auto;direction:rtl;text-align:left}
.past-chart>*{direction:ltr}
.past-chart figcaption{font-weight:600}
.past-chart>svg{display:block;max-width:100%;height:auto;min-width:26rem}
.past-chart text{font:11px system-ui,sans-serif;fill:var(--ink)}
.past-chart .value,.past-chart .day.last{text-anchor:end}
.past-chart .day{fill:var(--faint)}
.past-chart .axis{stroke:var(--ink);fill:none}
.past-chart .level{stroke:var(--line);stroke-dasharray:2 3;fill:none}
.past-chart .step{stroke:var(--load);stroke-width:2.5;fill:none}
.past-chart .now{fill:var(--paper);stroke:var(--load);stroke-width:2}
.past-chart .gap rect{fill:url(#past-hatch);stroke:var(--faint);stroke-dasharray:3 2}
.past-chart .gap text{text-anchor:middle;font-weight:700;stroke:var(--paper);stroke-width:3;paint-order:stroke}
.nights .broken{fill:var(--strike);stroke:var(--strike)}
.nights .undetermined{fill:url(#past-dots);stroke:var(--doubt)}
.nights .waived{fill:none;stroke:var(--waived)}
.nights .partly{text-anchor:middle;font-weight:700}
.past-key{display:flex;flex-wrap:wrap;gap:.2rem 1.2rem;list-style:none;padding:0;margin:.3rem 0}
.past-key .swatch{vertical-align:-2px}
.past-defs{position:absolute;width:0;height:0}
.past-hatch-line{stroke:var(--faint);stroke-width:1}
.past-dot{fill:var(--doubt)}
.past-port h3{margin:.8rem 0 .2rem}
.past-chart table{border-collapse:collapse;font-variant-numeric:tabular-nums}
.past-chart th,.past-chart td{padding:.1rem .8rem .1rem 0;text-align:left}
@media print{.past-chart{break-inside:avoid}}
`;
