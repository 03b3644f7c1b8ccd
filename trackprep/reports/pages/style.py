"""How a page looks in a browser: light and dark, on a phone and in print."""

STYLE = """
:root { color-scheme: light dark;
  --ground: #ffffff; --raised: #f5f6f8; --ink: #1c2127; --soft: #4f5964; --line: #c8ced6;
  --link: #0b57a4; --stricter: #9c1c1c; --looser: #17612c; --mixed: #6b2a94;
  --added: #174f94; --withdrawn: #6f4a00; --quiet: #444c56; --warning: #7a3e00; }
@media (prefers-color-scheme: dark) { :root {
  --ground: #14171b; --raised: #1e2329; --ink: #e8ebee; --soft: #b3bcc6; --line: #47515c;
  --link: #8fc1ff; --stricter: #ff9d94; --looser: #86dd9b; --mixed: #dcaeff;
  --added: #97c6ff; --withdrawn: #f0c674; --quiet: #c5ccd4; --warning: #ffbe85; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 56rem; background: var(--ground);
  color: var(--ink); font: 1rem/1.5 system-ui, sans-serif; overflow-wrap: break-word; }
h1 { font-size: 1.6rem; line-height: 1.25; }
h2 { margin-top: 2.5rem; font-size: 1.3rem; border-bottom: 1px solid var(--line); }
h3 { margin: 1.8rem 0 .5rem; font-size: 1.1rem; }
.title { margin: 0; border: 0; font-size: 1rem; }
.title .name, .passage .name { font-weight: 400; color: var(--soft); }
a { color: var(--link); }
:focus-visible { outline: 3px solid var(--link); outline-offset: 2px; }
nav ul { margin: .5rem 0; padding: 0; list-style: none; }
nav li { display: inline-block; }
nav a { display: inline-block; padding: .4rem .9rem .4rem 0; }
.skip { position: absolute; left: -999rem; }
.skip:focus { position: static; }
article { margin: .8rem 0; padding: .8rem 1rem; background: var(--raised);
  border-left: .35rem solid var(--quiet); border-radius: .3rem; break-inside: avoid; }
.badge { display: inline-block; margin-bottom: .2rem; padding: 0 .5rem; border: 2px solid;
  border-radius: .3rem; font-size: .9rem; font-weight: 700; }
.stricter { color: var(--stricter); } article.is-stricter { border-color: var(--stricter); }
.looser { color: var(--looser); } article.is-looser { border-color: var(--looser); }
.mixed { color: var(--mixed); } article.is-mixed { border-color: var(--mixed); }
.added { color: var(--added); } article.is-added { border-color: var(--added); }
.withdrawn { color: var(--withdrawn); } article.is-withdrawn { border-color: var(--withdrawn); }
.warning { color: var(--warning); } article.is-warning { border-color: var(--warning); }
.quiet { color: var(--quiet); }
.met { color: var(--looser); } article.is-met { border-color: var(--looser); }
.not-met { color: var(--stricter); } article.is-not-met { border-color: var(--stricter); }
.task { margin: .3rem 0; padding: .2rem 0 .4rem; border-bottom: 1px solid var(--line);
  break-inside: avoid; }
.tick { display: flex; gap: .6rem; align-items: flex-start; min-height: 1.75rem; }
.tick input { flex: none; width: 1.2em; height: 1.2em; margin: .15em 0 0; }
.tick span { min-width: 0; }
.task dl, .task ul { margin: .3em 0 .3em 1.8rem; font-size: .925em; }
.close dl { display: block; }
.close dt, .close dd { display: inline; margin: 0; } .close dt::after { content: ": "; }
.close dd::after { content: "\\a"; white-space: pre; }
.close ul { padding: 0 0 0 .5rem; list-style: none; border-left: .25rem solid var(--warning); }
.caution { padding: .3rem .7rem; border: 2px solid var(--warning); border-radius: .3rem; }
p { margin: .5rem 0; }
.passage { margin: 0; padding: .2rem 0 .4rem; border-bottom: 1px solid var(--line);
  break-inside: avoid; }
.passage h3 { margin: .5rem 0; }
dl { margin: .5rem 0; display: grid; grid-template-columns: fit-content(40%) 1fr;
  gap: .3rem 1rem; }
dt { font-weight: 600; }
dd { margin: 0; min-width: 0; overflow-wrap: anywhere; }
.place { display: inline-block; color: var(--soft); font-size: .875rem; }
pre { margin: .5rem 0; padding: .6rem .8rem; border: 1px solid var(--line); border-radius: .3rem;
  background: var(--ground); white-space: pre-wrap; overflow-wrap: anywhere; }
code, pre { font: .9rem/1.45 ui-monospace, monospace; }
summary { min-height: 1.75rem; cursor: pointer; color: var(--link); }
.whole { border-bottom: 1px solid var(--line); } .whole summary { padding: .35rem 0; }
.scrolls { overflow-x: auto; }
table { width: 100%; border-collapse: collapse; }
caption { padding: .3rem 0; text-align: left; font-weight: 600; }
th, td { padding: .35rem .6rem .35rem 0; border-bottom: 1px solid var(--line);
  text-align: left; vertical-align: top; }
figure { margin: 1rem 0; } figure svg { width: 100%; }
figure svg[viewBox] { min-width: 34rem; height: auto; }
.season text { paint-order: stroke; stroke: var(--ground); stroke-width: 4px; }
.season .ink { fill: var(--ink); } .season .soft { fill: var(--soft); }
.season .line { fill: var(--line); } .season rect.met { fill: var(--looser); }
.season circle.unsettled { fill: var(--warning); }
.season .edge.unsettled { stroke: var(--warning); }
.season .not-met:not(.edge) { fill: var(--stricter); }
.season .edge.not-met { stroke: var(--stricter); }
@media print { .season rect { print-color-adjust: exact; -webkit-print-color-adjust: exact; } }
.break { margin: 3rem 0; border: 0; border-top: 3px double var(--line); }
figcaption { color: var(--soft); font-size: .9rem; }
footer { margin-top: 3rem; border-top: 1px solid var(--line); color: var(--soft); }
@media (max-width: 34rem) {
  dl { grid-template-columns: 1fr; gap: 0; } dd { margin: 0 0 .5rem; }
  thead { position: absolute; left: -999rem; }
  tr, th, td { display: block; border: 0; padding: .1rem 0; }
  tr { padding: .5rem 0; border-bottom: 1px solid var(--line); }
  td::before { content: attr(data-head) ": "; color: var(--soft); }
}
@page { margin: 15mm; }
@media print {
  :root { color-scheme: light;
    --ground: #ffffff; --raised: #ffffff; --ink: #000000; --soft: #333333; --line: #888888;
    --link: #000000; --stricter: #7a1010; --looser: #0e4a1f; --mixed: #4e1a70;
    --added: #0f3d75; --withdrawn: #553800; --quiet: #333333; --warning: #5c2e00; }
  body { max-width: none; padding: 0; font-size: 10pt; }
  nav, .skip { display: none; }
  h2, h3 { break-after: avoid; }
  .tick { min-height: 0; }
  .close { margin: 0; padding: 1pt 0 1pt 1.5em; font-size: 8.5pt; line-height: 1.25; }
  .close .tick, .close dl { display: inline; font-size: 1em; margin: 0; }
  .close .tick input { margin: 0 .5em 0 -1.5em; font-size: inherit; width: 1em; height: 1em;
    vertical-align: -.1em; }
  .close dd::after { content: " "; }
  .close .caution { margin: 0 0 1pt -1.5em; padding: 0 .3rem; border-width: 1px; }
  .close ul { margin: 0; font-size: 1em; }
  main:has(.close) h2 { margin: 0; font-size: 12pt; }
  main:has(.close) h3 { margin: 5pt 0 1pt; font-size: 10pt; }
  main:has(.close) > p, main:has(.close) > dl { margin: 2pt 0; font-size: 9pt; line-height: 1.25; }
  body:has(.close) h1 { margin: 0; font-size: 12pt; }
  .break { margin: 0; border: 0; break-after: page; }
  details:not([open], .whole) { display: none; }
  .whole::details-content { content-visibility: visible; }
  @supports selector(::details-content) { .whole { border: 0; } .whole summary { display: none; } }
  summary { list-style: none; color: var(--ink); }
}
"""
