import { DARK, LIGHT, type Palette } from '../charts/palette';

/** All of the page's style: light, dark where the reader's system asks for it, always light in print. */
export function styles(): string {
  return `:root{color-scheme:light dark;${variables(LIGHT)}}
@media screen and (prefers-color-scheme:dark){:root{${variables(DARK)}}}
${paintClasses(LIGHT)}
${PAGE}`;
}

function entries(palette: Palette): [string, string][] {
  return Object.entries(palette).flatMap(([role, colour]: [string, string | string[]]): [string, string][] =>
    Array.isArray(colour) ? colour.map((one, k) => [`${role}-${k}`, one]) : [[role, colour]],
  );
}

function variables(palette: Palette): string {
  return entries(palette)
    .map(([role, colour]) => `--${role}:${colour}`)
    .join(';');
}

/** Charts are drawn in the light palette; these repaint them in the reader's. */
function paintClasses(palette: Palette): string {
  return entries(palette)
    .map(([role]) => `.f-${role}{fill:var(--${role})}.s-${role}{stroke:var(--${role})}`)
    .join('\n');
}

const PAGE = `
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%;scroll-behavior:smooth}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.55 system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans",Helvetica,Arial,sans-serif;font-variant-numeric:lining-nums tabular-nums;overflow-wrap:break-word}
main,header,footer{max-width:60rem;margin:0 auto;padding:0 1.25rem}
.skip{position:absolute;left:-999rem}
.skip:focus{left:1rem;top:1rem;background:var(--paper);padding:.5rem 1rem;outline:2px solid var(--lines-0);z-index:1}
header{padding-top:3rem}
header .kind{margin:0;color:var(--muted);letter-spacing:.02em}
h1,h2{font-family:"Iowan Old Style",Charter,"Palatino Linotype",Palatino,"Book Antiqua",Georgia,"Noto Serif",serif;font-weight:600;line-height:1.15;text-wrap:balance}
h1{font-size:clamp(1.9rem,6vw,3rem);margin:.1em 0 .35em;letter-spacing:-.01em}
h2{font-size:1.6rem;margin:3.2rem 0 1rem;padding-top:.8rem;border-top:2px solid var(--ink)}
h3{font-size:1.05rem;margin:2rem 0 .5rem}
p,li{max-width:44rem}
a{color:var(--lines-0);text-underline-offset:.15em;text-decoration-thickness:.06em}
a:focus-visible,summary:focus-visible,.scroll:focus-visible{outline:2px solid var(--lines-0);outline-offset:2px}
.quiet,.meta{color:var(--muted)}
.nb{white-space:nowrap}
nav ul{list-style:none;margin:1.2rem 0 0;padding:0;display:flex;flex-wrap:wrap;gap:.25rem 1.2rem}
.verdict{margin:0;display:grid;grid-template-columns:7.5rem minmax(0,1fr);gap:0 1.25rem}
.verdict dt{font-weight:600;color:var(--muted);padding:.7rem 0 .7rem;border-top:1px solid var(--grid)}
.verdict dd{margin:0;padding:.7rem 0;border-top:1px solid var(--grid)}
.verdict p{margin:0 0 .45rem}
.verdict p:last-child{margin:0}
.verdict dt:first-of-type,.verdict dd:first-of-type{border-top:0}
.verdict strong{font-weight:650}
.verdict .to{white-space:nowrap;font-size:.9em}
.warning{border-left:4px solid var(--lines-1);padding-left:.8rem}
figure{margin:0 0 3rem;break-inside:avoid}
figcaption{font-size:.95rem;color:var(--muted);max-width:46rem;margin-top:.4rem}
figcaption .label{color:var(--ink);font-weight:650}
.figure-title{margin:0 0 .7rem;font-size:1.1rem;max-width:none}
.chart{display:block;width:100%;height:auto;overflow:visible}
.chart.narrow{display:none;max-width:30rem;margin:0 auto}
@media screen and (max-width:43rem){.chart.wide{display:none}.chart.narrow{display:block}}
details{margin:.6rem 0}
summary{cursor:pointer;color:var(--muted);font-size:.95rem;padding:.2rem 0}
.scroll{overflow-x:auto;max-width:100%}
table{border-collapse:collapse;font-size:.92rem;line-height:1.35}
caption{text-align:left;color:var(--muted);padding:.2rem 0 .5rem;font-size:.92rem}
th,td{text-align:left;vertical-align:top;padding:.38rem 1.1rem .38rem 0;border-top:1px solid var(--grid)}
th{font-weight:500}
thead th{vertical-align:bottom;font-weight:650;border-top:0}
thead td{border-top:0}
.number{text-align:right;white-space:nowrap}
.glance{min-width:min(100%,34rem)}
.glance td{min-width:8.5rem}
.glance .group th{padding-top:1.1rem;font-weight:650;border-top:0;border-bottom:1px solid var(--ink)}
.facts th{color:var(--muted);min-width:9rem}
@media screen{.captures th[scope=row]{min-width:7rem}.captures td+td{min-width:6.5rem}.captures td.number{min-width:0}}
.files,#cautions ul{padding-left:1.1rem}
#cautions li{margin-bottom:.4rem}
footer{color:var(--muted);font-size:.9rem;padding-bottom:4rem;margin-top:3rem}
@media (max-width:43rem){
header{padding-top:1.6rem}
h2{margin-top:2.4rem}
.verdict{display:block}
.verdict dt{padding-bottom:0}
.verdict dd{border-top:0;padding-top:.1rem}
.verdict dd:first-of-type{padding-top:.1rem}
th,td{padding-right:.7rem}
.glance{min-width:0;font-size:.86rem}
.glance td{min-width:6rem}
.glance th{min-width:5.5rem}
}
@page{margin:16mm 15mm 18mm}
@media print{
body{font-size:10pt;background:none}
main,header,footer{max-width:none;padding:0}
header{padding-top:0}
h1{font-size:24pt}
h2{font-size:15pt;margin-top:18pt;break-after:avoid}
h3,.figure-title{break-after:avoid}
figure{margin-bottom:12pt}
.chart{max-height:82mm}
#glance{break-inside:avoid}
details.open::details-content{content-visibility:visible;display:block}
details.open summary{display:none}
nav,.skip,.files a+span{display:none}
tr,dd,dt{break-inside:avoid}
thead{display:table-header-group}
.scroll{overflow:visible}
table{font-size:8.5pt}
a{color:inherit;text-decoration:none}
figure details{display:none}
}`;
