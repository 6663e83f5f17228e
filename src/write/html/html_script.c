/* html_script.c - the crew's page remembers what was ticked and written, where the browser can keep it, and finds the line of
 * now.  The head allows this text alone, by its SHA-256 (PW_HTML_SCRIPT_SHA256); a changed script needs a new one:
 * the browser's console tells it, and tests/parts/pack.sh reads that console.  No ampersand and no less-than sign, so that the
 * page stays well formed as XML. */
#include "write/html/html_page.h"

/* clang-format off */
static const char script[] =
    "(function(){\"use strict\";"
    "var d=document,pre=\"pitwright:\"+d.getElementById(\"plan\").getAttribute(\"data-plan\")+\":\",keep=null;"
    "try{keep=window.localStorage;keep.getItem(pre)}catch(e){keep=null}"
    "d.querySelectorAll(\"[data-k]\").forEach(function(el){"
    "var k=pre+el.getAttribute(\"data-k\"),tick=el.type===\"checkbox\";if(!keep)return;"
    "var was=keep.getItem(k);if(was!==null){if(tick)el.checked=was===\"1\";else el.value=was}"
    "el.addEventListener(\"input\",function(){"
    "try{keep.setItem(k,tick?(el.checked?\"1\":\"0\"):el.value)}catch(e){return}})});"
    "var now=d.getElementById(\"now\");now.hidden=false;"
    "now.addEventListener(\"click\",function(){"
    "var part=d.querySelector(\"section:target\")||d,at=Date.now()/60000-20,best=null,to=0,last=null,end=0;"
    "part.querySelectorAll(\"tr[data-at]\").forEach(function(row){"
    "var t=Number(row.getAttribute(\"data-at\"));row.classList.remove(\"now\");"
    "if(t>=at)if(!best||to>t){best=row;to=t}"
    "if(!last||t>=end){last=row;end=t}});"
    "best=best||last;"
    "if(best){best.classList.add(\"now\");best.scrollIntoView({block:\"center\"})}})})();";
/* clang-format on */

void pw_html_script(struct html *h)
{
  pw_html_raw(h, "<script>");
  pw_html_raw(h, script);
  pw_html_raw(h, "</script>\n");
}
