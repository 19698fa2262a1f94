/** The look of everything on the page that is no drawing. */
export const pageStyle = `
*{box-sizing:border-box}
html{scroll-padding-top:.75rem}
body{margin:0 auto;max-width:80rem;padding:0 1rem 3rem;background:var(--paper);color:var(--ink);
font:1rem/1.45 system-ui,sans-serif;overflow-wrap:anywhere}
h1{font-size:1.6rem;line-height:1.2;margin:1rem 0 .25rem}
h2{font-size:1.25rem;margin:2rem 0 .5rem;border-bottom:2px solid var(--ink)}
h3{font-size:1.05rem;margin:1.25rem 0 .25rem}
p{margin:.3rem 0}
ul{margin:.3rem 0;padding-left:1.2rem}
a{color:var(--load)}
code{font:0.95em ui-monospace,monospace}
.when,.later,nav{color:var(--faint)}
.skip{position:absolute;left:-99rem}
.skip:focus{left:1rem;top:.5rem;background:var(--paper);padding:.4rem}
nav ul{list-style:none;display:flex;flex-wrap:wrap;gap:.2rem 1rem;padding:0}
:focus-visible{outline:3px solid var(--focus);outline-offset:2px}
:target{border-left:.3rem solid var(--focus);padding-left:.5rem}
.counts{display:flex;flex-wrap:wrap;gap:.4rem 1.6rem;margin:.5rem 0}
.count{display:flex;flex-direction:column-reverse}
.count dt{font-size:.9rem}
.count dd{margin:0;font-size:1.5rem;font-weight:700;line-height:1.1;font-variant-numeric:tabular-nums}
.mark{font-size:.85rem;border:1.5px solid currentColor;padding:0 .35rem;white-space:nowrap}
.mark.strike{border-style:double;border-width:3px}
.mark.doubt{border-style:dashed}
.mark.waived{border-style:dotted}
.strike{color:var(--strike)}
.doubt{color:var(--doubt)}
.met{color:var(--met)}
.load{color:var(--load)}
.waived{color:var(--waived)}
.faint,.none{color:var(--faint)}
.scroll{overflow-x:auto;max-width:100%}
.way{margin:0 0 1.5rem}
summary{cursor:pointer}
details.node{border-top:1px solid var(--line);padding:.25rem 0}
details.node>summary>span:first-child{font-weight:700}
.filter{display:flex;flex-wrap:wrap;gap:.4rem 1rem;align-items:end;margin:.5rem 0}
.filter[hidden]{display:none}
.filter label{display:flex;flex-direction:column;font-size:.9rem;min-width:0}
input,select,button{font:inherit;color:var(--ink);background:var(--paper);
border:1px solid var(--faint);border-radius:0;padding:.25rem .4rem;max-width:100%}
.filter select{max-width:14rem}
button{cursor:pointer}
table{border-collapse:collapse;width:100%}
caption{text-align:left;color:var(--faint);font-size:.9rem}
th,td{text-align:left;vertical-align:top;padding:.25rem .6rem .25rem 0;border-bottom:1px solid var(--line);
font-weight:400}
th,thead th{overflow-wrap:break-word}
tbody th,td{overflow-wrap:anywhere}
thead th{font-weight:700;border-bottom:1px solid var(--ink)}
th button{border:0;padding:.1rem .2rem;overflow-wrap:normal;text-decoration:underline dotted;text-align:left;font-weight:inherit}
th[aria-sort=ascending] button::after{content:" \\2191"/""}
th[aria-sort=descending] button::after{content:" \\2193"/""}
.findings{table-layout:fixed}
.findings>thead th:nth-child(1){width:6.4rem}
.findings>thead th:nth-child(3){width:8.7rem}
.findings>thead th:nth-child(4){width:7rem}
.findings>thead th:nth-child(n+5){width:8.6rem}
.findings td>span{display:block}
.evidence th:first-child,.evidence td:nth-child(2){width:25%}
tr[hidden],.findings>tbody>tr[hidden]{display:none}
.said{display:grid;grid-template-columns:max-content minmax(0,1fr);gap:.15rem .8rem;margin:.5rem 0}
.said dt{color:var(--faint)}
.said dd{margin:0}
.evidence{font-size:.92rem}
.scroll table{min-width:28rem}
svg text{fill:var(--ink)}
@media print,(max-width:60rem){
.findings,.findings>tbody{display:block}
.findings>thead>tr,.findings>tbody>tr:not([hidden]){display:flex;flex-wrap:wrap;gap:.1rem .8rem}
.findings>thead th{border:0}
.findings>tbody>tr{border-bottom:1px solid var(--ink);padding:.4rem 0}
.findings>tbody>tr>*,.findings>thead th:nth-child(n){border:0;padding:.05rem 0;width:auto}
.findings>tbody>tr>td:nth-child(-n+3){order:-1}
.findings>tbody>tr>th{flex:0 0 100%;min-width:0}
.findings td>span{display:inline}
}
@media (max-width:44rem){
.said{grid-template-columns:minmax(0,1fr)}
.said dt{margin-top:.3rem}
}
@media print{
body{max-width:none;padding:0;font-size:10pt}
.filter,.skip,nav,#findings-count,.later{display:none}
a{color:inherit;text-decoration:none}
details.finding::details-content{content-visibility:visible;height:auto}
tr,.way,.said{break-inside:avoid}
h2,h3{break-after:avoid}
.scroll{overflow:visible}
.scroll svg{max-width:100%;height:auto}
}
`;
