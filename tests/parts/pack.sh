#!/bin/sh
# The job pack looked at from outside: a spreadsheet program opens the workbook, recalculates it and finds the same
# values; a changed input carries through; a browser shows the HTML on a phone and prints it.  pack.sh BUILD_DIR
set -u
build=$1
dir=$(mktemp -d "${TMPDIR:-/tmp}/pw-pack-XXXXXX") || exit 1
trap 'rm -rf "$dir"' EXIT
csv='csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1' # every sheet, raw values

say() { # say NAME STATUS
  if [ "$2" = 0 ]; then echo "ok pack $1"; else echo "FAIL pack $1"; fi
}

# A profile of the office program that recalculates on load always (0) or never (1).
profile() { # profile NAME MODE
  mkdir -p "$dir/$1/user"
  cat > "$dir/$1/user/registrymodifications.xcu" <<XCU
<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>$2</value></prop><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>$2</value></prop></item>
</oor:items>
XCU
}
profile always 0
profile never 1

office() { # office PROFILE FORMAT OUTDIR FILE
  HOME=$dir timeout 120 soffice "-env:UserInstallation=file://$dir/$1" --headless --convert-to "$2" --outdir "$3" "$4" >/dev/null 2>&1
}

# Sheets as files, numbers to nine decimals (the file keeps 16 digits, a recalculated double has 17).
sheets() { # sheets PROFILE OUTDIR FILE
  mkdir -p "$2" && office "$1" "$csv" "$2" "$3" || return 1
  for f in "$2"/*.csv; do
    [ -f "$f" ] || return 1
    sed -E 's/([0-9]\.[0-9]{9})[0-9]+/\1/g' "$f" > "$f.cut" && mv "$f.cut" "$f"
  done
}

# Number in the cell right of a label: value FILE LABEL
value() { awk -v label="$2" '{ line = $0; gsub(/"/, "", line); n = split(line, f, ","); if (f[1] == label) { for (i = 2; i <= n; i++) if (f[i] ~ /^-?[0-9.]+%?$/) { print f[i]; exit } } }' "$1"; }

# What sheets say beside plan.json, for parts no formula covers.
owner() { # owner COSTS_CSV PLAN_JSON: cost by role, by service and by supplier, and what the list costs without each
  bad=0
  grep -o '{"role": "[^"]*", "paid_h": [^}]*}' "$2" | sed 's/{"role": "\([^"]*\)".*"cents": \([0-9]*\)}/\1|\2/' > "$dir/owner.txt"
  for service in $(grep -o '{"service": "[^"]*", "guests": [0-9]*, "food_cents"' "$2" | sed 's/{"service": "\([^"]*\)".*/\1/'); do
    called=$(sed -n "s/.*{\"id\": \"$service\", \"name\": \"\([^\"]*\)\", \"at_min\".*/\1/p" "$2")
    grep -o "{\"service\": \"$service\", \"guests\": [0-9]*, \"food_cents\": [0-9]*, \"other_cents\": [0-9]*}" "$2" |
      sed 's/.*"food_cents": \([0-9]*\), "other_cents": \([0-9]*\)}/\1 \2/' | awk -v n="$called" '{ print n "|" $1 + $2 }' >> "$dir/owner.txt"
  done
  sed -n 's/.*{"supplier": "\([^"]*\)", "goods_cents": \([0-9]*\), "delivery_cents": \([0-9]*\), "top_up_cents": \([0-9]*\), "without_cents": \([a-z0-9]*\)}.*/\1|\2|\3|\4|\5/p' "$2" > "$dir/orders.txt"
  awk -F'|' '{ print $1 "|" $2 + $3 + $4 }' "$dir/orders.txt" >> "$dir/owner.txt"
  [ "$(wc -l < "$dir/owner.txt")" -ge 3 ] || bad=1
  while IFS='|' read -r label expected; do
    shown=$(value "$1" "$label")
    awk -v a="$shown" -v b="$expected" 'BEGIN { d = a * 100 - b; exit !(a != "" && d < 0.5 && d > -0.5) }' || { echo "$label: sheet '$shown', plan $expected"; bad=1; }
  done < "$dir/owner.txt"
  while IFS='|' read -r label goods fee top without; do
    case $without in null) word='no one else sells it all' ;; *) word='more in all' ;; esac
    grep "^\"*$label\"*," "$1" | grep -q "$word" || { echo "$label: not '$word' ($goods $fee $top)"; bad=1; }
  done < "$dir/orders.txt"
  return $bad
}

cooler() { # cooler CORES_CSV PLAN_JSON: every row of the table has the times of a lot, and each cut one row
  grep -o '"lot": "[^"]*", "smoke_c".*"cooler_end": \[{[^]]*\]' "$2" |
    sed 's/"lot": "[^"\/]*\/\([^"\/]*\)[^"]*".*"cooler_end": \[{"air_c": [0-9.]*, "smoke_min": \([0-9.]*\)[^}]*}, {"air_c": [0-9.]*, "smoke_min": \([0-9.]*\).*/\1 \2 \3/' > "$dir/cooler.txt"
  awk -F, -v known="$dir/cooler.txt" '
    function clock(m,  t) { t = int(m / 5 + 0.5) * 5; return sprintf("%d:%02d", int(t / 60), t % 60) }
    BEGIN { while ((getline line < known) > 0) { split(line, f, " "); if (!(f[1] in cut)) cuts++; cut[f[1]]; times[clock(f[2]) " " clock(f[3])] } }
    /^"*If the pit runs/ { inside = 1; next }
    inside && /^,*$/ { exit }
    inside && !/^"*Cut, predicted/ { rows++; for (i = 1; i < NF; i++) if ($i ~ /^"*[0-9]+:[0-9][0-9]/) break; a = $i; for (k = i + 1; k <= NF; k++) if ($k ~ /^"*[0-9]+:[0-9][0-9]/) break; if (!((a " " $k) in times)) { print "not a lot of the plan: " $0; bad = 1 } }
    END { if (rows != cuts || rows == 0) { print rows " rows, " cuts " cuts"; bad = 1 } exit bad }' "$1"
}

mixed() { # mixed PREP_CSV PLAN_JSON: each mix stands on the sheet with all its parts
  bad=0
  sed -n '/^ "mixes": \[/,/^ \]/p' "$2" | sed -n 's/.*"name": "\([^"]*\)", "amount".*/\1/p' > "$dir/mixes.txt"
  while read -r mix; do
    n=$(sed -n '/^ "mixes": \[/,/^ \]/p' "$2" | grep "\"$mix\"" | grep -o '"item"' | wc -l)
    line=$(grep -F "$mix" "$1" | tail -n 1)
    [ "$(printf '%s' "$line" | grep -o ';' | wc -l)" = $((n - 2)) ] || { echo "$mix: $line"; bad=1; }
  done < "$dir/mixes.txt"
  return $bad
}

workbook() { # workbook NAME FILE [PLAN_JSON]
  name=$1 file=$2 base=$(basename "$2" .xlsx)
  sheets never "$dir/kept" "$file" && sheets always "$dir/again" "$file"
  say "$name opens in an office program" $?
  python3 tests/tables.py "$file" ${3:+"$3"} > "$dir/tables.txt"
  status=$?
  [ "$status" = 0 ] || cat "$dir/tables.txt"
  say "$name: tables, merged cells and filters are as the format asks" "$status"
  diff -r "$dir/kept" "$dir/again" > "$dir/diff.txt"
  status=$?
  [ "$status" = 0 ] || head -n 20 "$dir/diff.txt"
  say "$name: what it shows is what is recalculated" "$status"
  office always pdf "$dir" "$file"
  pdftotext "$dir/$base.pdf" "$dir/$base.txt" && ! grep -n '###' "$dir/$base.txt"
  say "$name: no number is too wide for its cell on paper" $?
  pdftotext -layout "$dir/$base.pdf" - | grep -o '[A-Za-z ]*, page [0-9]* of [0-9]*$' | sed 's/, page.*//; s/^ *//' | sort | uniq -c > "$dir/printed.txt"
  [ "$(awk '$1 <= 2 && ($2 == "Quote" || $2 == "Costs")' "$dir/printed.txt" | wc -l)" = 2 ] && [ "$(wc -l < "$dir/printed.txt")" = 2 ] || { cat "$dir/printed.txt"; false; }
  say "$name: quote and costs take at most two printed pages each, and nothing else is printed" $?
  ! grep -lE '#(NAME|REF|VALUE|DIV/0|N/A|NUM)|Err:5' "$dir/again"/*.csv
  say "$name: no formula error" $?

  if [ -n "${3:-}" ]; then
    owner "$dir/again/$base-Costs.csv" "$3"
    say "$name: costs by role, service and supplier are the plan's" $?
    cooler "$dir/again/$base-Core temperatures.csv" "$3"
    say "$name: what a cooler pit does to each cut is the plan's" $?
    mixed "$dir/again/$base-Prep.csv" "$3"
    say "$name: every mix is on the prep sheet with its parts" $?
  fi

  heads=$(value "$dir/again/$base-Inputs.csv" 'Head count')
  more=$((heads * 3 / 2))
  office never fods "$dir" "$file" # flat text: an input can be changed; without kept values all is computed anew
  sed -E -e '/table:formula=/ s/ office:value(-type)?="[^"]*"//g; /table:formula=/ s/calcext:value-type="[^"]*"//' \
    -e "/<text:p>Head count<\/text:p>/,/<\/table:table-row>/ s/office:value=\"$heads\"/office:value=\"$more\"/" \
    -e '/<text:p>Tax<\/text:p>/,/<\/table:table-row>/ s/(office:value-type="percentage" office:value=)"[0-9.]*"/\1"0.5"/' \
    "$dir/$base.fods" > "$dir/changed.fods"
  sheets always "$dir/more" "$dir/changed.fods"
  ok=0
  [ "$(value "$dir/more/changed-Quote.csv" Guests)" = "$more" ] || ok=1
  for label in Food Crew; do
    before=$(value "$dir/again/$base-Costs.csv" $label) after=$(value "$dir/more/changed-Costs.csv" $label)
    awk -v a="$before" -v b="$after" 'BEGIN { exit !(b >= a && a > 0) }' || { echo "$label: $before, then $after"; ok=1; }
  done
  say "$name: another head count carries through to food, labour and quote" $ok
  awk -v p="$(value "$dir/more/changed-Costs.csv" Taxable)" -v t="$(value "$dir/more/changed-Costs.csv" Tax)" \
    -v q="$(value "$dir/more/changed-Quote.csv" Total)" -v c="$(value "$dir/more/changed-Costs.csv" Total)" \
    'BEGIN { d = t - p / 2; exit !(p > 0 && d < 0.006 && d > -0.006 && q == c) }'
  say "$name: another tax rate carries through to the total" $?
  rm -rf "$dir/kept" "$dir/again" "$dir/more" "$dir"/*.fods
}

# Inputs changed in the workbook, and the same changed in the event: what the sheets then say beside what the program says.
cents() { # cents JSON_FILE NAME
  sed -n "s/.*\"$2\": *\(-*[0-9]*\).*/\1/p" "$1" | head -n 1
}

beside() { # beside WHAT SHEET_VALUE PROGRAM_CENTS TOLERANCE: shares of the program's value
  awk -v what="$1" -v a="$2" -v b="$3" -v t="$4" 'BEGIN { d = a * 100 - b; if (d < 0) d = -d; ok = b > 0 && d <= t * b + 0.6; if (!ok) print what ": sheet " a ", program " b / 100; exit !ok }'
}

changed() { # changed NAME SED_FOR_THE_SHEETS: the flat workbook with other inputs, recalculated into $dir/NAME
  sed -E -e '/table:formula=/ s/ office:value(-type)?="[^"]*"//g; /table:formula=/ s/calcext:value-type="[^"]*"//' -e "$2" "$dir/workbook.fods" > "$dir/$1.fods"
  sheets always "$dir/$1" "$dir/$1.fods"
}

in_row() { echo "/<text:p>$1<\\/text:p>/,/<\\/table:table-row>/ s/office:value=\"$2\"/office:value=\"$3\"/;"; } # in_row LABEL OLD NEW

follows() { # follows EVENT WORKBOOK: the family party's numbers stand below
  office never fods "$dir" "$2"
  # Margin, tax, distance, rate and price do not move a piece: the program must say the same to the cent.
  sed -e 's/tax: 19 %/tax: 7 %/; s/margin: 20 %/margin: 30 %/; s/distance: 18 km/distance: 30 km/' \
    -e 's/price: 6.90 per kg/price: 7.90 per kg/; s/rate: 24 per h/rate: 26 per h/' "$1" > "$dir/terms.yaml"
  "$build/pitwright" quote "$dir/terms.yaml" --quiet --json "$dir/terms.json" >/dev/null
  changed terms "$(in_row Tax 0.19 0.07)$(in_row 'Margin of the price' 0.2 0.3)$(in_row 'Distance one way, km' 18 30)$(in_row pitmaster 24 26)$(in_row 'Pork shoulder, bone in \(Boston butt\)' 6.9 7.9)"
  ok=0
  beside Food "$(value "$dir/terms/terms-Costs.csv" Food)" "$(cents "$dir/terms.json" food_cents)" 0 || ok=1
  beside Crew "$(value "$dir/terms/terms-Costs.csv" Crew)" "$(cents "$dir/terms.json" labour_cents)" 0 || ok=1
  beside Travel "$(value "$dir/terms/terms-Costs.csv" Travel)" "$(cents "$dir/terms.json" travel_cents)" 0 || ok=1
  beside Total "$(value "$dir/terms/terms-Quote.csv" Total)" "$(cents "$dir/terms.json" total_cents)" 0 || ok=1
  say "another price, rate, distance, margin and tax give the program's own total in the workbook" $ok

  # Head count and yield move whole pieces: the sheets find them by the same law, only the kinds of packs stay as planned.
  "$build/pitwright" quote "$1" --guests 60 --quiet --json "$dir/heads.json" >/dev/null
  changed heads "$(in_row 'Head count' 40 60)"
  beside Food "$(value "$dir/heads/heads-Costs.csv" Food)" "$(cents "$dir/heads.json" food_cents)" 0.02
  say "half as many guests again: food within 2 in a hundred of what the program then plans" $?
  { cat "$1"; echo 'cuts: {pork-butt: {yield: {cook: 50 %}}}'; } > "$dir/yield.yaml"
  "$build/pitwright" quote "$dir/yield.yaml" --quiet --json "$dir/yield.json" >/dev/null
  changed yield "$(in_row 'Pork shoulder, bone in \(Boston butt\)' 0.68 0.5)"
  beside Food "$(value "$dir/yield/yield-Costs.csv" Food)" "$(cents "$dir/yield.json" food_cents)" 0.005
  say "another yield: food within 5 in a thousand of what the program then plans" $?
  rm -rf "$dir/terms" "$dir/heads" "$dir/yield" "$dir"/*.fods
}

# ---- HTML ---------------------------------------------------------------------------------------------------------------

browser() { # browser ARGUMENTS...: headless, no network, a profile of its own
  rm -rf "$dir/browser"
  HOME=$dir timeout 180 chromium --headless --no-sandbox --disable-gpu --disable-background-networking --no-first-run \
    "--user-data-dir=$dir/browser" "$@" 2>"$dir/browser.err"
}

pages() { # pages NAME FILE
  name=$1 file=$2 base=$(basename "$2" .html)
  xmllint --noout "$file"
  say "$name: $base.html is well formed" $?
  tidy -quiet -errors -utf8 "$file"
  say "$name: $base.html is valid HTML without a warning" $?
  browser --enable-logging=stderr "--screenshot=$dir/$base.png" --window-size=360,2000 "file://$file"
  [ -s "$dir/$base.png" ] && ! grep 'CONSOLE' "$dir/browser.err"
  say "$name: $base.html shows without a word in the console" $?
  # A page of our own measures the sheet in a frame as wide as a phone; a frame has no least window width.
  cat > "$dir/measure.html" <<HTML
<!DOCTYPE html><iframe id="f" src="file://$file" style="width:360px;height:800px;border:0"></iframe>
<script>onload=()=>{const d=document.getElementById("f").contentDocument.documentElement;document.body.append("wide "+d.scrollWidth+" of "+d.clientWidth)}</script>
HTML
  wide=$(browser --hide-scrollbars --allow-file-access-from-files --virtual-time-budget=4000 --dump-dom "file://$dir/measure.html" | grep -o 'wide [0-9]* of [0-9]*')
  [ "$wide" = 'wide 360 of 360' ] || { echo "$wide"; false; }
  say "$name: $base.html does not scroll sideways on a phone" $?
  browser --no-pdf-header-footer "--print-to-pdf=$dir/$base.pdf" "file://$file"
  pdfinfo "$dir/$base.pdf" > "$dir/info.txt" 2>&1 && grep -q "Page size: .*($3)" "$dir/info.txt" && pdftotext "$dir/$base.pdf" - | grep -q 'page 1 of'
  say "$name: $base.html prints on $3, pages numbered" $?
}

# A crew's page in a frame of a phone's width: what is ticked and written stays over a reload, another event's page does not show
# it, and Now marks the first line that is not past, the last when all are.
phone() { # phone NAME FILE OTHER_EVENTS_FILE
  cat > "$dir/phone.html" <<HTML
<!DOCTYPE html><iframe id="f" style="width:360px;height:800px;border:0"></iframe>
<script>
const f=document.getElementById("f"),go=u=>new Promise(r=>{f.onload=r;f.src=u}),
page=async u=>{await go("about:blank");await go(u);return f.contentDocument},
now=(d,m)=>{f.contentWindow.Date.now=()=>m*60000;d.getElementById("now").click();return d.querySelectorAll("tr.now")};
onload=async()=>{
let d=await page("file://$2"),k=d.querySelector("input[type=checkbox][data-k]"),w=d.querySelector("input[type=text][data-k]");
k.click();w.value="275";w.dispatchEvent(new Event("input"));
d=await page("file://$2");
let s="kept "+d.querySelector("input[type=checkbox][data-k]").checked+" "+d.querySelector("input[type=text][data-k]").value;
const at=[...d.querySelectorAll("tr[data-at]")].map(r=>Number(r.dataset.at)),mid=at.slice().sort((a,b)=>a-b)[at.length>>1];
let r=now(d,mid);s+=" now "+(r.length===1)+" "+(Number(r[0].dataset.at)===Math.min(...at.filter(x=>x>=mid-20)));
r=now(d,Math.max(...at)+5000);s+=" last "+(r.length===1)+" "+(Number(r[0].dataset.at)===Math.max(...at));
d=await page("file://$3");
s+=" other "+[...d.querySelectorAll("input")].filter(x=>x.checked||x.type==="text"&&x.value).length;
document.body.append("phone: "+s+".")}
</script>
HTML
  told=$(browser --allow-file-access-from-files --virtual-time-budget=20000 --dump-dom "file://$dir/phone.html" | grep -o 'phone: [^.]*\.' | tail -n 1)
  [ "$told" = 'phone: kept true 275 now true true last true true other 0.' ] || { echo "$told"; false; }
  say "$1: a phone keeps what is ticked and finds the line of now" $?
}

# Both papers, whichever the event asks for: pages in all, none nearly empty, nothing over the edge.
thick() { # thick NAME FILE MOST
  for size in A4 letter; do
    sed -E "s/size:(A4|letter)/size:$size/g" "$2" > "$dir/$size.html"
    browser --no-pdf-header-footer "--print-to-pdf=$dir/$size.pdf" "file://$dir/$size.html"
    python3 tests/pages.py "$dir/$size.pdf" "$3"
    say "$1: $(basename "$2") takes at most $3 pages of $size, none nearly empty" $?
  done
}

PW_HTML=$dir "$build/tests/test_html" >/dev/null 2>&1
pages "test plan" "$dir/crew.html" letter
pages "test plan" "$dir/customer.html" letter

# ---- the packs ----------------------------------------------------------------------------------------------------------

PW_WORKBOOK=$dir/fixture.xlsx "$build/tests/test_xlsx" >/dev/null 2>&1
workbook "workbook of the test plan" "$dir/fixture.xlsx"
for event in $(ls events/*.yaml | grep -v '/house\|/river'); do
  job=$(basename "$event" .yaml)
  "$build/pitwright" plan "$event" -o "$dir/$job" --quiet || { say "$job: a pack is written" 1; continue; }
  workbook "$job" "$dir/$job/workbook.xlsx" "$dir/$job/plan.json"
  if [ "$job" = family-party ]; then # with shifts as written: with a pool, another head count calls others
    "$build/pitwright" plan "tests/data/events/$job.yaml" -o "$dir/written" --quiet
    follows "tests/data/events/$job.yaml" "$dir/written/workbook.xlsx"
  fi
  case $(sed -n 's,^ *paper: *,,p' "tests/data/events/$job.yaml") in a4*) paper=A4 ;; *) paper=letter ;; esac
  pages "$job" "$dir/$job/crew.html" "$paper"
  pages "$job" "$dir/$job/customer.html" "$paper"
  phone "$job" "$dir/$job/crew.html" "$dir/crew.html"
  case $job in family-party) most=14 ;; lakeside-wedding) most=28 ;; county-fair) most=40 ;; *) most=12 ;; esac
  thick "$job" "$dir/$job/crew.html" "$most"
  thick "$job" "$dir/$job/customer.html" 2
  grep -q 'class="sheet fire' "$dir/$job/crew.html" && ! grep -o 'class="sheet fire[^>]*mm"' "$dir/$job/crew.html" | grep -v -e '--cell:9.0mm'
  say "$job: what is written in on a fire's sheet is 9 mm high" $?
  python3 tests/rack_labels.py "$dir/$job/crew.html"
  say "$job: no letter on a rack lies over another" $?
  case $(sed -n 's,^ *units: *,,p' "tests/data/events/$job.yaml") in us*) other=si ;; *) other=us ;; esac
  "$build/pitwright" render "$dir/$job" --units "$other" -o "$dir/$job-$other" --quiet
  thick "$job in the other units" "$dir/$job-$other/crew.html" "$most"
done
