/**
 * How clearance drawings look, in the colours of the palette. Each state has its own lines or filling
 * as well, so that nothing is told by a colour alone and paper without colour tells the same.
 */
export const clearanceStyle = `
.clearance{margin:0 0 1.5rem;color:var(--ink)}
.clearance figcaption{margin:0 0 .5rem;font-weight:600}
.profile{display:flex;flex-wrap:wrap;align-items:flex-start;row-gap:.75rem;overflow-x:auto}
.profile:focus-visible{outline:3px solid var(--focus);outline-offset:2px}
.profile svg{display:block;flex:none;max-width:100%;height:auto;font:11px/1 system-ui,sans-serif;fill:none;stroke:none;overflow:hidden}
.profile svg.wide{max-width:none}
.profile text{fill:var(--ink);text-anchor:middle}
.profile .load{fill:var(--load);fill-opacity:.16}
.profile .load-top{stroke:var(--load);stroke-width:2}
.profile .passing{fill:var(--faint)}
.profile .packet{fill:var(--load);font-weight:600}
.profile .floor,.profile .way{stroke:var(--ink);stroke-width:3}
.profile .way.idle{stroke-dasharray:9 6}
.profile .way.down{stroke-dasharray:2 8}
.profile .way.undeclared{stroke-dasharray:2 4;stroke-width:2}
.profile .bar path{stroke:var(--ink);stroke-width:2.5}
.profile .bar text{font-weight:700}
.profile .bar.down path{stroke:var(--strike)}
.profile .bar.down text{fill:var(--strike)}
.profile .run text{fill:var(--faint)}
.profile .band{fill:var(--paper);stroke:var(--ink);stroke-width:1.2}
.profile .node text{font-weight:600;font-size:12px}
.profile .node text.state{font-weight:400;font-size:11px}
.profile .again .band{stroke-dasharray:3 3}
.profile .body{stroke:var(--line)}
.profile .stem{stroke:var(--ink);stroke-width:2;stroke-dasharray:1.5 3.5}
.profile .label{font-style:italic;stroke:var(--paper);stroke-width:5;paint-order:stroke;stroke-linejoin:round}
.profile .label tspan{text-anchor:start}
.profile .jamb{stroke:var(--faint);stroke-width:2}
.profile .lintel{stroke:var(--ink);stroke-width:3}
.profile .wall{fill:var(--line)}
.profile .on-word .jamb,.profile .on-word .lintel{stroke-dasharray:2 3}
.profile .on-word .wall{fill-opacity:.45}
.profile .not-known .jamb{stroke:var(--doubt);stroke-dasharray:6 4}
.profile .range{stroke:var(--doubt);stroke-width:1.3}
.profile .certain{stroke:var(--doubt);stroke-width:2;stroke-dasharray:5 3}
.profile .unread{fill:var(--doubt);font-size:40px;font-weight:700}
.profile .struck{fill:var(--strike)}
.profile .cross{stroke:var(--paper);stroke-width:1.6}
.profile .too-small .lintel{stroke:var(--strike);stroke-width:4}
.profile .port{font-weight:600}
.profile .bytes{font-size:12.5px}
.profile .too-small .bytes,.profile .narrowest .bytes{font-weight:800;font-size:14px}
.profile .too-small .bytes{fill:var(--strike)}
.profile .not-known .state,.profile .not-settled .state{fill:var(--doubt)}
.profile .idle .state{font-style:italic}
.profile .flag path{fill:var(--paper);stroke:var(--strike);stroke-width:1.5}
.profile .flag text{font-weight:700;fill:var(--strike)}
.profile .narrowest .flag path{fill:var(--ink);stroke:var(--ink)}
.profile .narrowest .flag text{fill:var(--paper)}
.profile .narrowest.too-small .flag path{fill:var(--strike);stroke:var(--strike)}
.profile .ground{stroke:var(--faint)}
.profile .speed{fill:var(--met)}
.profile .below .speed{fill:var(--strike)}
.profile .speed-empty{stroke:var(--strike);stroke-dasharray:3 2}
.profile .rated{stroke:var(--ink);stroke-width:1.5}
.profile .missing{stroke:var(--strike);stroke-width:1.2}
.profile .below .rate{fill:var(--strike);font-weight:600}
.profile .nospeed{fill:var(--doubt);font-size:22px;font-weight:700}
.profile .edge path{stroke:var(--faint)}
.profile .edge text{text-anchor:end;font-size:9.5px;fill:var(--faint)}
.profile .edge .demand{fill:var(--load);font-weight:700}
.sideways{overflow-x:auto}
.sideways:focus-visible{outline:3px solid var(--focus);outline-offset:2px}
.hops{border-collapse:collapse;font-size:.9rem;max-width:100%}
.hops th,.hops td{border:1px solid var(--line);padding:.2rem .5rem;text-align:start;vertical-align:top}
.hops th[scope=row]{min-width:8rem;overflow-wrap:anywhere}
.hops td.number{text-align:end;white-space:nowrap}
.hops td.rate{white-space:nowrap}
@media (forced-colors:active){.profile svg{forced-color-adjust:none;background:var(--paper)}}
@media print{.profile{overflow:visible;row-gap:4mm;zoom:.85}.profile svg{break-inside:avoid}.clearance figcaption{break-after:avoid}
.profile svg,.profile svg *{print-color-adjust:exact;-webkit-print-color-adjust:exact}}
`;
