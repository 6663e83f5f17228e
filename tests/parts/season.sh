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
grep -q 'is no day' "$tmp/err" && grep -q 'cannot be read' "$tmp/err" || ok=no
mkdir "$tmp/empty"; "$pw" jobs "$tmp/empty" >"$tmp/out" 2>"$tmp/err"; [ $? = 3 ] || ok=no
grep -q 'no event lies here' "$tmp/err" || ok=no
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
grep -q '^  server, server 1: now Sat 12 Jun [0-9:]* to Sat 12 Jun [0-9:]*, it was' "$tmp/shifts" || ok=no
[ -z "$(sed -n 's/^  \(no longer: \|now: \)*\([^:]*\): .*/\2/p' "$tmp/shifts" | sort | uniq -d)" ] || ok=no
verdict against-names-each-shift-once

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
    return sorted((s, int(n)) for s, n in re.findall(r"\[ \] ([+-]) (\d+) ", text)), text
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

ok=yes
"$pw" plan tests/data/events/garden-lunch.yaml -o "$tmp/x" --against "$tmp/nowhere" >"$tmp/out" 2>"$tmp/err"; [ $? = 5 ] || ok=no
[ -e "$tmp/x" ] && ok=no
"$pw" plan tests/data/events/garden-lunch.yaml tests/data/events/family-party.yaml -o "$tmp/x" --against "$tmp/old" >"$tmp/out" 2>"$tmp/err"; [ $? = 2 ] || ok=no
verdict against-faults
