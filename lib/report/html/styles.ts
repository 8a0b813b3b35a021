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
@media (prefers-reduced-motion:reduce){html{scroll-behavior:auto}}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans",Helvetica,Arial,sans-serif;font-variant-numeric:lining-nums tabular-nums;overflow-wrap:break-word}
main,header,footer{max-width:74rem;margin:0 auto;padding:0 1.5rem}
.skip{position:absolute;left:-999rem}
.skip:focus{left:1rem;top:1rem;background:var(--paper);padding:.5rem 1rem;outline:2px solid var(--lines-0);z-index:1}
.unseen{position:absolute;width:1px;height:1px;margin:-1px;padding:0;overflow:hidden;clip-path:inset(50%);white-space:nowrap;border:0}
header{padding-top:1.75rem}
h1,h2{font-family:"Iowan Old Style",Charter,"Palatino Linotype",Palatino,"Book Antiqua",Georgia,"Noto Serif",serif;font-weight:600;line-height:1.15;text-wrap:balance}
h1{font-size:clamp(1.7rem,4.5vw,2.5rem);margin:0 0 .2rem;letter-spacing:-.01em}
h2{font-size:1.5rem;margin:2.8rem 0 1rem;padding-top:.8rem;border-top:2px solid var(--ink)}
h3{font-size:1.02rem;margin:1.6rem 0 .4rem}
p,li,dd{max-width:44rem}
a{color:var(--lines-0);text-underline-offset:.15em;text-decoration-thickness:.06em}
a:focus-visible,summary:focus-visible,.scroll:focus-visible{outline:2px solid var(--lines-0);outline-offset:2px}
:target{scroll-margin-top:1rem}
li:target,figure:target>figcaption{background:var(--window)}
.quiet,.meta{color:var(--muted)}
.meta{margin:0;max-width:none}
.nb{white-space:nowrap}
.to{white-space:nowrap;font-size:.86em;color:var(--muted)}
.to span{margin-left:.2em}
.first{display:grid;grid-template-columns:minmax(0,1.75fr) minmax(17rem,1fr);gap:0 2rem;align-items:start;margin-top:1.1rem}
.first.bare{display:block}
.first figure{margin:0}
.first>details{grid-column:1/-1}
.first .figure-title{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.headlines{list-style:none;margin:0;padding:0;border-top:2px solid var(--ink)}
.headlines li{padding:.5rem 0;border-bottom:1px solid var(--grid);line-height:1.4}
.why{display:inline-block;min-width:1.35em;text-align:center;border:1px solid var(--lines-1);border-radius:.7em;color:var(--lines-1);font-weight:650;font-size:.8em;line-height:1.3;text-decoration:none}
.topics{margin:0;display:grid;grid-template-columns:9rem minmax(0,1fr);gap:0 1.25rem}
.topics dt{font-weight:600;color:var(--muted);padding:.6rem 0;border-top:1px solid var(--grid)}
.topics dd{margin:0;padding:.6rem 0;border-top:1px solid var(--grid)}
.topics dt:first-of-type,.topics dd:first-of-type{border-top:0}
.topics p{margin:0 0 .4rem}
.topics p:last-child{margin:0}
.warning{border-left:4px solid var(--lines-1);padding-left:.8rem}
.said .warning{margin:0 0 .7rem}
.warnings{list-style:none;padding:0}
.warnings li{border-left:4px solid var(--lines-1);padding-left:.8rem;margin-bottom:.5rem}
figure{margin:0 0 2.6rem;break-inside:avoid}
#figures>figure,#figures>details>figure{max-width:60rem}
figcaption{font-size:.92rem;color:var(--muted);max-width:46rem;margin-top:.3rem}
figcaption .label{color:var(--ink);font-weight:650}
.figure-title{margin:0 0 .6rem;font-size:1.1rem;max-width:none}
.chart{display:block;width:100%;height:auto;overflow:visible}
.chart.narrow{display:none;max-width:30rem;margin:0 auto}
@media screen and (max-width:43rem){.chart.wide{display:none}.chart.narrow{display:block}}
details{margin:.4rem 0}
summary{cursor:pointer;color:var(--muted);font-size:.92rem;padding:.2rem 0}
.part{margin:0;border-bottom:1px solid var(--grid)}
.part>summary{color:var(--ink);font-size:1.05rem;font-weight:600;padding:.65rem 0}
.part>div{padding:.2rem 0 1.6rem}
.part>div>:first-child{margin-top:0}
.scroll{overflow-x:auto;max-width:100%}
table{border-collapse:collapse;font-size:.92rem;line-height:1.35}
caption{text-align:left;color:var(--muted);padding:.2rem 0 .5rem;font-size:.92rem}
th,td{text-align:left;vertical-align:top;padding:.36rem 1.1rem .36rem 0;border-top:1px solid var(--grid)}
th{font-weight:500}
thead th{vertical-align:bottom;font-weight:650;border-top:0}
thead td{border-top:0}
.number{text-align:right;white-space:nowrap}
.glance{min-width:min(100%,40rem)}
.glance td{min-width:8.5rem}
.glance .group th{padding-top:1rem;font-weight:650;border-top:0;border-bottom:1px solid var(--ink)}
.facts th{color:var(--muted);min-width:9rem}
@media screen{.captures th[scope=row]{min-width:7rem}.captures td+td{min-width:6.5rem}.captures td.number{min-width:0}}
ul{padding-left:1.1rem}
#more li{margin-bottom:.35rem}
footer{color:var(--muted);font-size:.88rem;padding-bottom:3rem;margin-top:2rem}
@media (max-width:56rem){.first{display:block}.said{margin-top:.9rem}}
@media (max-width:43rem){
main,header,footer{padding:0 1rem}
header{padding-top:.9rem}
.meta{font-size:.9rem;line-height:1.35}
.first{margin-top:.5rem}
.first figcaption{font-size:.84rem;margin-top:0}
.first details{margin:0}
.said{margin-top:.3rem}
.headlines li{padding:.26rem 0;line-height:1.28;font-size:.92rem}
h2{margin-top:2.2rem}
.topics{display:block}
.topics dt{padding-bottom:0}
.topics dd,.topics dd:first-of-type{border-top:0;padding-top:.1rem}
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
.first{display:block}
figure{margin-bottom:12pt}
.chart{max-height:82mm}
#glance{break-inside:avoid}
details.open::details-content{content-visibility:visible;display:block}
details.open:not(.part)>summary{display:none}
.skip,.files a+span,.to{display:none}
tr,dd,dt{break-inside:avoid}
thead{display:table-header-group}
.scroll{overflow:visible}
table{font-size:8.5pt}
a{color:inherit;text-decoration:none}
figure details{display:none}
}`;
