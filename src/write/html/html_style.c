/* html_style.c - one style sheet for phone, screen and paper.
 * Phone first: tables become cards below 700 px, each cell led by its head.  Dark screens get dark paper.  On paper
 * all is black on white, heads repeat, no row is cut, roles start pages.  Line styles and words carry the meaning;
 * tints only help. */
#include "write/html/html_page.h"

#include <stddef.h>

const char *const pw_html_style[] = {
    ":root{--paper:#fbf9f5;--ink:#1b1916;--soft:#5a544c;--line:#b9b1a5;--shade:#efebe3;--warm:#f3dcc9;--cool:#d7e5ee;--"
    "dark:#37322c;--inv:#fff}\n",
    "@media "
    "(prefers-color-scheme:dark){:root{--paper:#14120f;--ink:#f6f1e9;--soft:#c9c0b3;--line:#5d564d;--shade:#26221d;--"
    "warm:#5a3622;",
    "--cool:#21445a;--dark:#e9dfd0;--inv:#14120f}}\n",
    "*{box-sizing:border-box}\n",
    "html{-webkit-text-size-adjust:100%}\n",
    "body{margin:0 auto;padding:1rem .9rem "
    "4rem;max-width:62rem;background:var(--paper);color:var(--ink);font:1.06rem/1.45 system-ui,-apple-system,\"Segoe "
    "UI\",Roboto,Arial,sans-serif;overflow-wrap:break-word}\n",
    "h1{font-size:1.7rem;line-height:1.2;margin:.2rem 0}h2{font-size:1.35rem;margin:2.4rem 0 .6rem;border-bottom:3px "
    "solid var(--ink);padding-bottom:.15rem}\n",
    "h3{font-size:1.08rem;margin:1.4rem 0 .4rem}p{margin:.4rem "
    "0}.lead{color:var(--soft);font-size:1.1rem}.note{color:var(--soft);font-size:.95rem}\n",
    "a{color:inherit}nav{margin:1rem 0;display:flex;flex-wrap:wrap;gap:.5rem}\n",
    "nav a{padding:.55rem .8rem;border:2px solid "
    "var(--ink);border-radius:.5rem;text-decoration:none;font-weight:600;min-height:2.75rem}\n",
    ".alert{border:3px double var(--ink);padding:.6rem .8rem;font-weight:700;margin:1rem 0}\n",
    "dl{display:grid;grid-template-columns:minmax(7rem,max-content) 1fr;gap:.25rem 1rem;margin:.6rem "
    "0}dt{color:var(--soft)}dd{margin:0;font-weight:600}\n",
    "table{border-collapse:collapse;width:100%;margin:.6rem 0 1.2rem}th,td{border:1px solid var(--line);padding:.35rem "
    ".5rem;text-align:left;vertical-align:top}\n",
    "th{background:var(--shade);font-size:.92rem}td.b{font-weight:700}td.n{text-align:right;white-space:nowrap}td.t{"
    "font-weight:700;white-space:nowrap}td.nw,b.nw{white-space:nowrap}th.n{text-align:right}tr.day "
    "td{background:var(--shade);font-weight:700}\n",
    "tr.sum td{border-top:3px solid var(--ink);font-weight:700}\n",
    "td.time{white-space:nowrap;font-weight:700;font-variant-numeric:tabular-nums}td.fill{min-width:4.2rem}\n",
    ".mark{display:inline-block;min-width:1.7em;padding:0 .3em;border:2px solid "
    "currentColor;border-radius:.3em;text-align:center;font-weight:700}\n",
    "input[type=checkbox]{appearance:none;-webkit-appearance:none;width:1.5rem;height:1.5rem;margin:.1rem;border:2px "
    "solid var(--ink);border-radius:.2rem;background:transparent;display:inline-grid;place-content:center}\n",
    "input[type=checkbox]:checked::before{content:\"\\2713\";font-size:1.2rem;font-weight:700;color:var(--ink)}\n",
    "figure{margin:.6rem 0 1.2rem}figcaption{margin-bottom:.2rem}figcaption b{font-size:1.15rem}figure "
    "ul{list-style:none;margin:.3rem 0 0;padding:0}\n",
    ".grid{display:grid;grid-template-columns:1fr;gap:0 "
    "1.4rem;align-items:start}.sub{color:var(--soft)}.sub.long,.at{display:block}.sub "
    ".at{display:inline}.paper{display:none}td.off{text-align:center;color:var(--soft)}\n",
    "svg{display:block;width:100%;height:auto;font-family:inherit;fill:var(--ink)}\n",
    ".ends{display:flex;justify-content:space-between;gap:.5em;font-weight:700;letter-spacing:.06em;font-size:.9rem}\n",
    ".rack{fill:none;stroke:var(--ink);stroke-width:2.2;vector-effect:non-scaling-stroke}.zone{stroke:var(--ink);"
    "stroke-width:1.2;stroke-dasharray:5 4;vector-effect:non-scaling-stroke}\n",
    ".piece{vector-effect:non-scaling-stroke;stroke:var(--ink)}.piece.new{fill:var(--warm);stroke-width:3}.piece.old{"
    "fill:var(--paper);stroke-width:1.1}\n",
    "text.mark{text-anchor:middle;border:0}text.mark.new{font-weight:800}text.mark.old{font-weight:400}\n",
    ".timeline text{font-size:11px}.timeline .t{text-anchor:middle}.timeline .inv{fill:var(--inv)}.timeline "
    ".h{font-size:11px;fill:var(--soft)}.timeline "
    ".n{font-size:11px;paint-order:stroke;stroke:var(--paper);stroke-width:3px}.timeline .pit{font-weight:700}\n",
    ".hour{stroke:var(--line);stroke-width:.6}.b{stroke:var(--ink);stroke-width:1;fill:var(--paper)}.b.fire{fill:var(--"
    "dark)}.b.up{fill:var(--shade);stroke-dasharray:2 2}\n",
    ".b.smoke{fill:var(--warm);stroke-width:2}.b.finish{fill:var(--cool);stroke-width:2;stroke-dasharray:9 "
    "2}.b.rest{stroke-dasharray:4 3}.b.hold{stroke-width:1}.b.serve{stroke-width:2.6}\n",
    ".narrow{display:none}.timeline+.timeline{margin-top:.5rem}.block{margin-bottom:1.5rem}\n",
    "@media screen and "
    "(max-width:700px){.full{display:none}.narrow{display:block}table,tbody,tr,td{display:block;width:auto}thead{"
    "position:absolute;left:-9999px}\n",
    "tr{border:1px solid var(--line);border-left:5px solid var(--ink);border-radius:.4rem;margin:.55rem "
    "0;padding:.4rem .6rem}td{border:0;padding:.1rem 0;text-align:left;overflow-wrap:anywhere}\n",
    "dl{grid-template-columns:1fr;gap:0}dd{margin-bottom:.5rem}table.compact td{display:inline}table.compact "
    "td:not(:last-child)::after{content:\";  \";white-space:pre}"
    "td.n{text-align:left}td.nw,td.t{white-space:normal}td.none{display:none}td[data-h]:not([data-h=\"\"])::before{"
    "content:attr(data-h) \": \";color:var(--soft);font-weight:400;font-size:.92rem}\n",
    "td.time,td.what{font-size:1.2rem}td.time::before,td.what::before{content:\"\"!important}td.tick{float:right;"
    "margin-left:.6rem}td.tick input{width:2.4rem;height:2.4rem}\n",
    "tr.day{border-left-width:1px;background:var(--shade)}td.fill,td.off,tr.blank{display:none}}\n",
    "@media screen and (min-width:700px){.grid.g2{grid-template-columns:1fr 1fr}.grid.g3{grid-template-columns:1fr 1fr "
    "1fr}}\n",
    "@media "
    "print{:root{--paper:#fff;--ink:#000;--soft:#222;--line:#777;--shade:#eee;--warm:#eee0d4;--cool:#dfe9ef;--dark:#"
    "222;--inv:#fff}\n",
    "body{max-width:none;padding:0;font:12pt/1.25 Arial,Helvetica,\"Liberation "
    "Sans\",sans-serif;-webkit-print-color-adjust:exact;print-color-adjust:exact}nav,.screen,tr.small{display:none}p."
    "paper{display:block}tr.paper{display:table-row}\n",
    "h2{font-size:17pt;margin:6mm 0 2mm;break-after:avoid}h3{font-size:12.5pt;margin:3mm 0 1.5mm}p{margin:1mm "
    "0}.note,.lead{font-size:12pt}\n",
    "section.page,section.role{break-before:page}section.page>h2,section.role>h2{margin-top:0}section.wide{page:wide}"
    "h3,figcaption{break-after:avoid}h3+p,h2+p{break-after:avoid}\n",
    "thead{display:table-header-group}tr,figure,.timeline,.caution,dl,table.keep,table.hours,#cooling{break-inside:"
    "avoid}tr.day{break-after:avoid}\n",
    "table{margin:1mm 0 3mm;line-height:1.17}th,td{padding:.8mm 1.4mm}th{font-size:10pt}tr.day td{padding:.4mm "
    "1.4mm}tr.part td{background:none;font-weight:400;padding-left:6mm}\n",
    ".grid{display:block;orphans:1;widows:1}.grid figure{display:inline-block;vertical-align:top;margin:0 1.5% 3.5mm "
    "0}.g1 figure{width:97%}.g2 figure{width:47.5%}.g3 figure{width:31%}figcaption b{font-size:13pt}figure "
    "ul{margin-top:1mm;line-height:1.15}.ends{font-size:10.5pt;letter-spacing:0}.block{margin-bottom:3mm}.timeline+."
    "timeline{margin-top:1mm}\n",
    "ul{margin:1mm 0;padding-left:6mm}#note{break-inside:avoid}.caution{margin:0 0 1.5mm}.caution h3{margin:1.5mm 0 "
    "0}.caution p{margin:0}#overview td,#overview th{padding:.5mm 1.4mm}\n",
    ".hour{stroke:#bbb}input[type=checkbox]{border-color:#000;width:4.6mm;height:4.6mm;margin:0;vertical-align:top}td."
    "tick{width:8mm}table.tasks .at,table.tasks .sub{display:inline}table.all .target{display:none}\n",
    "td.time,td.who{width:1%;white-space:nowrap}table.tasks td.fill{width:17mm}table.fires "
    "td.fill{width:24mm}table.fires td,table.buy td,table.tasks td{padding-top:.45mm;padding-bottom:.45mm}table.hours "
    "td.fill,table.hours td.off{width:18mm}table.hours td.what{width:auto}table.log td{height:9.5mm}}\n",
    NULL,
};
