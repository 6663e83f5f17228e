#!/bin/sh
# The season on one screen: what a folder of events says together is what each of them says alone.  season.sh BUILD_DIR
set -u
. "$(dirname "$0")/begin"
verdict() { if [ "$ok" = yes ]; then echo "ok season $1"; else head -n 20 "$tmp/err" "$tmp/out"; echo "FAIL season $1"; fi; }
s=$tmp/s
mkdir "$s"
# the same garden lunch four times: asked; offered a week on, same day; agreed the day before, on the other lunch's pit; done
lunch() { # FILE DATE NAME TERMS
  sed "s/2027-10-09/$2/g; s/^  name: .*/  name: $3/; s/^terms: {/terms: {$4/; s/^  customer: .*/  customer: Somebody/" tests/data/events/garden-lunch.yaml >"$s/$1.yaml"
}
grep -q 2027-10-09 tests/data/events/garden-lunch.yaml || echo "FAIL season (garden-lunch has another date)"
lunch a 2027-10-16 First ''
lunch b 2027-10-16 Second 'quoted: 2027-09-01, '
lunch c 2027-10-30 Third 'agreed: {price: 1000.01, guests: 24, on: 2027-08-03}, '
lunch d 2027-09-11 Past 'agreed: {price: 900.00, guests: 24, on: 2027-07-03}, '

ok=yes
"$pw" jobs "$s" --on 2027-10-10 --csv "$tmp/s.csv" --json "$tmp/s.json" >"$tmp/out" 2>"$tmp/err" || ok=no
[ -s "$tmp/err" ] && ok=no
awk 'length($0) > 80 && $0 !~ /€/ { bad = 1 } END { exit bad }' "$tmp/out" || ok=no
for e in a b c d; do "$pw" quote --quick "$s/$e.yaml" -q --json "$tmp/$e.json" 2>/dev/null || ok=no; done
python3 - "$tmp" <<'EOF' || ok=no
import csv, json, sys
t = sys.argv[1]
s = json.load(open(t + "/s.json"))
plans = {e + ".yaml": json.load(open(f"{t}/{e}.json")) for e in "abcd"}
assert s["format"] == "pitwright-season" and s["version"] == 1 and s["on"] == "2027-10-10"
assert [j["file"] for j in s["jobs"]] == ["d.yaml", "a.yaml", "b.yaml", "c.yaml"], s["jobs"]
assert [j["state"] for j in s["jobs"]] == ["done", "asked", "offered", "agreed"]
assert s["jobs"][2]["is_run_out"] and s["jobs"][2]["valid_until"] == "2027-09-22"
for j in s["jobs"]:
    q = plans[j["file"]]["quote"]
    for key in ("guests", "price_cents", "total_cents", "cost_cents", "per_guest_cents"):
        assert j[key] == q[key], (j["file"], key, j[key], q[key])
assert s["jobs"][3]["price_cents"] == 100001
# every order of every job that is not past, and of no other
for f, p in plans.items():
    mine = sum(o["cost_cents"] for o in s["orders"] if o["file"] == f)
    assert mine == (0 if f == "d.yaml" else sum(l["cost_cents"] for l in p["purchases"])), (f, mine)
assert all(o["is_due"] == (o["order_by"] <= "2027-10-16") for o in s["orders"])
assert sum(p["cents"] for p in s["payments"]) == plans["c.yaml"]["quote"]["total_cents"]
# both lunches of the 16th want what the house has once, at once
at_once = {(c["of"], c["name"]) for c in s["clashes"] if c["kind"] == "at-once"}
pits = {b["pit"] for b in plans["a.yaml"]["burns"]}
names = {p["id"]: p["name"] for p in plans["a.yaml"]["pits"]}
assert pits and all(("pit", names[p]) in at_once for p in pits), (pits, at_once)
assert all({c["first"]["file"], c["second"]["file"]} == {"a.yaml", "b.yaml"} for c in s["clashes"]), s["clashes"]
rows = list(csv.DictReader(open(t + "/s.csv", newline="")))
assert [r["file"] for r in rows] == [j["file"] for j in s["jobs"]]
assert [round(100 * float(r["total"])) for r in rows] == [j["total_cents"] for j in s["jobs"]]
assert [int(r["clashes"]) > 0 for r in rows] == [False, True, True, False]
EOF
grep -q 'TWICE AT ONCE' "$tmp/out" || ok=no
verdict whole

# without a day nothing is past and no week is cut out; the order of the files changes nothing
ok=yes
"$pw" jobs "$s" --json "$tmp/none.json" -q 2>"$tmp/err" || ok=no
python3 - "$tmp/none.json" <<'EOF' || ok=no
import json, sys
s = json.load(open(sys.argv[1]))
assert s["on"] is None and [j["state"] for j in s["jobs"]] == ["agreed", "asked", "offered", "agreed"]
assert not any("is_due" in o for o in s["orders"]) and {o["file"] for o in s["orders"]} == {"a.yaml", "b.yaml", "c.yaml", "d.yaml"}
EOF
"$pw" jobs "$s" --csv - -q >"$tmp/one" 2>/dev/null; "$pw" jobs "$s/" --csv - >"$tmp/two" 2>/dev/null
cmp -s "$tmp/one" "$tmp/two" || ok=no
verdict no-day

# a broken event, a pipe, a folder, a hidden file and a house file: the others are shown, the status says so
ok=yes
printf 'event: {nam: x}\n' >"$s/e.yaml"
mkfifo "$s/pipe.yaml"; mkdir "$s/folder.yaml"; cp "$s/e.yaml" "$s/.hidden.yaml"
printf 'terms: {margin: 20 %%}\n' >"$s/our.yaml"
(printf 'house: our.yaml\n'; sed 's/margin: 20 %, //' "$s/a.yaml") >"$s/f.yaml"
timeout 60 "$pw" jobs "$s" --json "$tmp/s.json" >"$tmp/out" 2>"$tmp/err"; [ $? = 3 ] || ok=no
grep -q 'e.yaml:1:9: error: .*did you mean "name"' "$tmp/err" || ok=no
grep -q 'our.yaml\|hidden\|pipe\|folder.yaml' "$tmp/err" && ok=no
grep -q 'CANNOT BE READ *e.yaml' "$tmp/out" || ok=no
python3 -c 'import json,sys; s = json.load(open(sys.argv[1])); assert s["unread"] == ["e.yaml"] and len(s["jobs"]) == 5' "$tmp/s.json" || ok=no
verdict broken-event
rm -r "$s/e.yaml" "$s/pipe.yaml" "$s/folder.yaml" "$s/.hidden.yaml" "$s/our.yaml" "$s/f.yaml"

# a pack of just this event stands for it; once the event has changed it does not
ok=yes
"$pw" plan "$s/c.yaml" -o "$s/c" -q 2>"$tmp/err" || ok=no
"$pw" jobs "$s" --csv - 2>"$tmp/err" >"$tmp/out"
grep -q '^c.yaml.*,pack' "$tmp/out" && grep -q '^a.yaml.*,quick' "$tmp/out" || ok=no
echo '# another thought' >>"$s/c.yaml"
"$pw" jobs "$s" --csv - 2>"$tmp/err" | grep -q '^c.yaml.*,quick' || ok=no
verdict packs

ok=yes
"$pw" jobs "$tmp/nowhere" --on 2027-13-01 >"$tmp/out" 2>"$tmp/err"; [ $? = 3 ] || ok=no
grep -q 'is not a day' "$tmp/err" && grep -q 'cannot be read' "$tmp/err" || ok=no
mkdir "$tmp/empty"; "$pw" jobs "$tmp/empty" >"$tmp/out" 2>"$tmp/err"; [ $? = 3 ] || ok=no
grep -q 'there is no event here' "$tmp/err" || ok=no
"$pw" jobs "$s" --csv - --json - >"$tmp/out" 2>"$tmp/err"; [ $? = 2 ] || ok=no
"$pw" jobs "$s" --csv /dev/full -q >"$tmp/out" 2>"$tmp/err"; [ $? = 5 ] || ok=no
verdict faults

# ---- what changed since a pack -----------------------------------------------------------------------------------

# the event it was made from changes nothing; more guests change what both plans say they change, and nothing else is told
ok=yes
"$pw" plan tests/data/events/garden-lunch.yaml -o "$tmp/old" -q 2>"$tmp/err" || ok=no
"$pw" quote tests/data/events/garden-lunch.yaml --against "$tmp/old" >"$tmp/out" 2>"$tmp/err" || ok=no
grep -q 'Nothing: meals, orders, fires, shifts and money are as before' "$tmp/out" || ok=no
verdict against-itself

# a later meal: whoever comes in both plans is named once, with the time now and before
ok=yes
mkdir "$tmp/later"
(cd "$tmp/later" && "$pw" new --house -q && "$pw" new j.yaml -q --guests 60 --date 2027-06-12 --at 17:30 --menu one-meat-two-sides &&
  "$pw" plan j.yaml -q -o j && sed -i 's/17:30/18:30/' j.yaml && "$pw" quote j.yaml --quick --against j) >"$tmp/out" 2>"$tmp/err" || ok=no
sed -n '/^Shifts/,/^What the customer/p' "$tmp/out" >"$tmp/shifts"
grep -q '^  server 1: now Sat 12 Jun [0-9:]* to [0-9:]*; it was [0-9:]* to [0-9:]*$' "$tmp/shifts" || ok=no
[ -z "$(sed -n 's/^  \([^ :][^:]*\): .*/\1/p' "$tmp/shifts" | sort | uniq -d)" ] || ok=no
verdict against-names-each-shift-once

# another menu for four times as many: nearly all is different, and it still stands on one page; whom it calls when stands there too
ok=yes
(cd "$tmp/later" && sed -i 's/guests: 60, menu: "one-meat-two-sides"/guests: 250, menu: "three-meats-four-sides"/' j.yaml &&
  "$pw" quote j.yaml --quick --against j --json "$tmp/later/j.json") >"$tmp/out" 2>"$tmp/err" || ok=no
python3 - "$tmp/later/j.json" "$tmp/out" <<'EOF' || ok=no
import datetime, json, re, sys
p, page = json.load(open(sys.argv[1])), open(sys.argv[2]).read()
lines = page[page.rindex("\n", 0, page.index("What changed")) + 1:].splitlines()
assert 50 < len(lines) <= 60 and max(map(len, lines)) <= 80, (len(lines), max(map(len, lines)))
text = " ".join(page.split())
assert "now 250 guests, it was 60" in text and "none before" in text and "oak: no longer, it was" in text
assert "${:,.2f}".format(p["quote"]["total_cents"] / 100) in text
shifts = text[text.index("Shifts"):]
for c in p["crew"]:
    a, b = ((datetime.datetime.fromisoformat(p["event"]["date"]) + datetime.timedelta(minutes=c[k])).strftime("%H:%M") for k in ("from_min", "to_min"))
    assert re.search(rf"{a} to (\w+ \d+ \w+ )?{b}", shifts), (c["role"], a, b)
EOF
verdict against-all-of-it-on-one-page

ok=yes
sed 's/adults: 18/adults: 30/' tests/data/events/garden-lunch.yaml >"$tmp/more.yaml"
"$pw" plan "$tmp/more.yaml" -o "$tmp/new" --against "$tmp/old/plan.json" >"$tmp/out" 2>"$tmp/err" || ok=no
grep -q against.txt "$tmp/new/files.txt" && [ ! -e "$tmp/old/against.txt" ] || ok=no
awk '/What changed/ { on = 1 } /^Written:/ { on = 0 } on' "$tmp/out" | sed '/^$/d' >"$tmp/said"
sed '/^$/d' "$tmp/new/against.txt" >"$tmp/kept"
cmp "$tmp/said" "$tmp/kept" >&2 || ok=no
"$pw" plan tests/data/events/garden-lunch.yaml --json "$tmp/back.json" --against "$tmp/new" >"$tmp/back" 2>"$tmp/err" || ok=no
awk '/What changed/ { on = 1 } on && length($0) > 80 && $0 !~ /€/ { bad = 1 } END { exit bad }' "$tmp/out" || ok=no
python3 - "$tmp" <<'EOF' || ok=no
import collections, json, re, sys
t = sys.argv[1]
old, new = (json.load(open(f"{t}/{d}/plan.json")) for d in ("old", "new"))
def told(file):
    text = open(f"{t}/{file}").read()
    text = " ".join(text[text.index("What changed"):].split())
    return sorted((s, int(n)) for s, n in re.findall(r"(?<=[:;] )([+-]) (\d+) ", text)), text
def packs(p):
    c = collections.Counter()
    for l in p["purchases"]:
        c[(l["item"], l["supplier"], l["pack"])] += l["packs"]
    return c
a, b = packs(old), packs(new)
more = [("+", b[k] - a[k]) for k in b if b[k] > a[k]]
less = [("-", a[k] - b[k]) for k in a if a[k] > b[k]]
said, text = told("out")
assert said == sorted(more + less) and more, (said, more, less)
assert "now 36 guests, it was 24" in text
gone, back = told("back")
assert gone == sorted([("-", n) for _, n in more] + [("+", n) for _, n in less]), gone
assert "now 24 guests, it was 36" in back
for p in (old, new):
    m = "€{:,.2f}".format(p["quote"]["total_cents"] / 100)
    assert m in text and m in back, m
EOF
verdict against-more-guests

# whatever changed stands on one page, in words, and every line says what is to be done: what to order on top or to cancel with its
# day, what moved, whose shift, what is owed now; each figure as both plans have it
g=tests/data/events/garden-lunch.yaml
sed 's/adults: 18/adults: 38/' $g >"$tmp/v-guests.yaml"
sed 's/{dish: sausage-smoked, take: 60 %}/{dish: spare-ribs-cut, take: 60 %}/' $g >"$tmp/v-dish.yaml"
sed 's/^      - slaw$/      - {dish: pit-vegetables, take: 40 %}\n      - slaw/' $g >"$tmp/v-cut.yaml"
sed 's/time: "13:00"/time: "15:00"/; s/to: "16:00"/to: "18:00"/' $g >"$tmp/v-hour.yaml"
sed 's/supplier: Hof Tannengrund, pack: tray of ten/supplier: Larkin Farm Poultry, pack: tray of ten/' $g >"$tmp/v-supplier.yaml"
sed 's/2027-10-09/2027-10-16/; s/"2027-10-08/"2027-10-15/g; s/"2027-10-0[4567]/&x/g; s/04x/11/g; s/05x/12/g; s/06x/13/g; s/07x/14/g' $g >"$tmp/v-day.yaml"
for v in guests dish cut hour supplier day; do
  ok=yes
  cmp -s $g "$tmp/v-$v.yaml" && ok=no
  "$pw" plan "$tmp/v-$v.yaml" -q -o "$tmp/v-$v" --against "$tmp/old" >"$tmp/out" 2>"$tmp/err"
  [ $? -le 1 ] || ok=no
  python3 - "$tmp/old/plan.json" "$tmp/v-$v/plan.json" "$tmp/v-$v/against.txt" $v <<'EOF' || ok=no
import collections, datetime, json, re, sys
old, new = (json.load(open(f)) for f in sys.argv[1:3])
page, what = open(sys.argv[3]).read(), sys.argv[4]
lines = page.splitlines()
assert len(lines) <= 60 and max(map(len, lines)) <= 80, (len(lines), max(map(len, lines)))
text = " ".join(page.split())
def at(p, minutes):
    t = datetime.datetime.fromisoformat(p["event"]["date"]) + datetime.timedelta(minutes=minutes)
    return f"{t:%a} {t.day} {t:%b}", f"{t:%H:%M}"
def packs(p):
    c, by = collections.Counter(), {}
    for l in p["purchases"]:
        key = l["supplier"], l["pack"], l["name"]
        c[key] += l["packs"]
        by.setdefault(key, at(p, l["order_by_min"])[0])
    return c, by
(a, was), (b, now) = packs(old), packs(new)
calls = re.findall(r"\[ \] (.*?)(?= \[ \] | To cancel| Sheets given| [A-Z][a-z ]+ -{3,})", text)
told = set()
for call in calls:
    supplier, word, day, things = re.match(r"(.*?), (by|was for) (\w+ \d+ \w+): (.*)", call).groups()
    for thing in things.split("; "):
        told.add((supplier, thing, word, day))
def said(n, pack): # as people count them
    head, of, rest = pack.partition(" of ")
    many = {w: w + "s" for w in ("bag", "case", "carton", "piece", "sack", "tray", "jug", "jar", "can", "pack", "roll", "bottle", "crate")} | {"box": "boxes", "loaf": "loaves"}
    return f"{n} {many.get(head, head) if n > 1 else head}{of}{rest}"
asked = {(s, f"+ {said(b[s, p, n] - a[s, p, n], p)} {n}", "by", now[s, p, n]) for s, p, n in b if b[s, p, n] > a[s, p, n]}
asked |= {(s, f"- {said(a[s, p, n] - b[s, p, n], p)} {n}", "was for", was[s, p, n]) for s, p, n in a if a[s, p, n] > b[s, p, n]}
assert told == asked, told ^ asked
assert bool(asked) == (what not in ("hour", "day"))
money = lambda c: "€{:,.2f}".format(c / 100)
q, before = new["quote"], old["quote"]
if q["total_cents"] != before["total_cents"]:
    assert f"Total now {money(q['total_cents'])}, it was {money(before['total_cents'])}" in text
else:
    assert f"Total as before: {money(q['total_cents'])}." in text
for due in q["dues"]:
    if due not in before["dues"]:
        d = datetime.date.fromisoformat(due["date"])
        assert f"{due['name']}, by {d:%a} {d.day} {d:%b} {d.year}: {money(due['cents'])}" in text, due
def spans(p, rows, start, end):
    return collections.Counter((at(p, r[start]), at(p, r[end])) for r in rows)
for key, start, end in ("crew", "from_min", "to_min"), ("burns", "lit_min", "out_min"):
    gone = spans(old, old[key], start, end) - spans(new, new[key], start, end)
    come = spans(new, new[key], start, end) - spans(old, old[key], start, end)
    for (day, clock), (_, until) in come:
        assert re.search(rf"now (lit )?{day} {clock},? (to|out) {until}", text), (key, day, clock)
    head = "Shifts -" if key == "crew" else "Fires -"
    assert (head in text) == bool(gone or come), key
moved = {"guests": "now 44 guests, it was 24", "dish": "also Spare ribs, cut", "cut": "also Smoked vegetables", "hour": "now Sat 9 Oct 15:00, it was Sat 9 Oct 13:00",
         "supplier": "Larkin Farm Poultry", "day": "THE DAY: now Sat 16 Oct 2027, it was Sat 9 Oct 2027."}[what]
assert moved in text, moved
if what in ("cut", "dish"):
    assert re.search(r"Cooking -+ .*: also on Sat 9 Oct [0-9:]+, off [0-9:]+, \d+ piece", text)
if what == "day":
    assert re.search(r"now by \w+ 1\d Oct, it was \w+ \d Oct", text)
EOF
  verdict "against-on-one-page-$v"
done

ok=yes
"$pw" plan tests/data/events/garden-lunch.yaml -o "$tmp/x" --against "$tmp/nowhere" >"$tmp/out" 2>"$tmp/err"; [ $? = 5 ] || ok=no
[ -e "$tmp/x" ] && ok=no
"$pw" plan tests/data/events/garden-lunch.yaml tests/data/events/family-party.yaml -o "$tmp/x" --against "$tmp/old" >"$tmp/out" 2>"$tmp/err"; [ $? = 2 ] || ok=no
verdict against-faults
