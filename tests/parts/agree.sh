#!/bin/sh
# Whatever command is asked gives the same answer: quote, buy and plan agree on fit, missed pieces, price and cost; a price named
# before is kept.  agree.sh BUILD_DIR; with events and head counts after it, those instead of the few below.
set -u
cd "$(dirname "$0")/../.." || exit 1
pw=$1/pitwright; shift
tmp=$(mktemp -d) || exit 1
trap 'rm -rf "$tmp"' EXIT

# exit status, missed pieces, price, total, cost, per guest of a plan file
told() {
  python3 - "$1" <<'EOF'
import json, sys
p = json.load(open(sys.argv[1])); q = p["quote"]
print(sum(l["missed"] for l in p["lots"]), q["price_cents"], q["total_cents"], q["cost_cents"], q["per_guest_cents"], p["solution"]["cost"],
      [r["packs"] for r in p["purchases"]])
own = [r for r in q["ladder"] if r["guests"] == q["guests"]]
assert not own or (own[0]["cost_cents"], own[0]["total_cents"], own[0]["missed"]) == (q["cost_cents"], q["total_cents"], sum(l["missed"] for l in p["lots"]))
EOF
}

agree() { # EVENT GUESTS
  ok=ok
  for c in plan quote buy; do
    "$pw" $c "$1" -g "$2" -q --json "$tmp/$c.json" 2>/dev/null
    echo "$? $(told "$tmp/$c.json")" >"$tmp/$c.told"
  done
  cmp -s "$tmp/plan.told" "$tmp/quote.told" && cmp -s "$tmp/plan.told" "$tmp/buy.told" && [ "$(wc -w <"$tmp/plan.told")" -gt 6 ] || {
    ok=FAIL
    head -c 300 "$tmp/plan.told" "$tmp/quote.told" "$tmp/buy.told"
  }
  # the quick plan never says that what fits does not
  "$pw" quote "$1" -g "$2" --quick >"$tmp/quick" 2>/dev/null
  quick=$?
  [ "$quick" = "$(cut -d ' ' -f 1 "$tmp/plan.told")" ] || { echo "quick: exit $quick, plan: $(cut -c 1-60 "$tmp/plan.told")"; ok=FAIL; }
  [ "$quick" != 0 ] || grep -q 'Planned quickly' "$tmp/quick" || { echo "the quick quote does not say so"; ok=FAIL; }
  echo "$ok agree $(basename "$1" .yaml) $2"
}

if [ $# -gt 1 ]; then
  event=$1; shift
  for n in "$@"; do agree "$event" "$n"; done
  exit 0
fi
for n in 1 24 75; do agree events/garden-lunch.yaml $n; done
agree events/sunday-lunch.yaml 36
agree templates/starter.yaml 14

# a price named before is kept by every command, whatever the plan costs now
sed 's/^terms: {/terms: {quoted_price: {per_guest: 41.25, on: 2027-03-03}, /' tests/data/events/garden-lunch.yaml >"$tmp/named.yaml"
ok=ok
grep -q quoted_price "$tmp/named.yaml" || ok=FAIL
"$pw" quote "$tmp/named.yaml" --json "$tmp/named.json" >"$tmp/out" 2>&1 || ok=FAIL
grep -q '24 guests at €41.25  *€990.00' "$tmp/out" || ok=FAIL
grep -q 'As quoted on Wed 3 Mar 2027: €41.25 a guest' "$tmp/out" || ok=FAIL
grep -q "Today's price" "$tmp/out" || ok=FAIL
"$pw" verify "$tmp/named.json" >/dev/null || ok=FAIL
sed 's/"per_guest_cents": *4125, "on"/"per_guest_cents": 4130, "on"/; s/"per_guest_cents":4125,"on"/"per_guest_cents":4130,"on"/' "$tmp/named.json" >"$tmp/other.json"
cmp -s "$tmp/named.json" "$tmp/other.json" && tr -d '\n ' <"$tmp/named.json" | sed 's/"quoted_price":{"per_guest_cents":4125/"quoted_price":{"per_guest_cents":4130/' >"$tmp/other.json"
"$pw" verify "$tmp/other.json" >/dev/null 2>&1 && { echo "another price named passes"; ok=FAIL; }
echo "$ok agree a price named before"

# a contract is kept to the cent for its own guests; more guests cost the same share each, and a plan that says otherwise is caught
sed 's/^terms: {/terms: {agreed: {price: 1000.01, guests: 24, on: 2027-03-03}, /' tests/data/events/garden-lunch.yaml >"$tmp/agreed.yaml"
ok=ok
"$pw" quote "$tmp/agreed.yaml" --json "$tmp/agreed.json" >"$tmp/out" 2>&1 || ok=FAIL
grep -q '24 guests, as agreed  *€1,000.01' "$tmp/out" || ok=FAIL
grep -q 'As agreed on Wed 3 Mar 2027: €1,000.01 for 24 guests' "$tmp/out" || ok=FAIL
"$pw" verify "$tmp/agreed.json" >/dev/null || ok=FAIL
"$pw" quote "$tmp/agreed.yaml" -g 30 --json "$tmp/more.json" >"$tmp/out" 2>&1 || ok=FAIL
grep -q '30 guests at €41.67  *€1,250.10' "$tmp/out" || ok=FAIL
grep -q 'Since then 6 guests more: €250.09 more' "$tmp/out" || ok=FAIL
"$pw" verify "$tmp/more.json" >/dev/null || ok=FAIL
for change in 's/"price_cents":100001,"guests":24/"price_cents":100002,"guests":24/' 's/"price_cents":100001,"guests":24/"price_cents":100001,"guests":25/' \
  's/"guests":24,"on":"2027-03-03"/"guests":24,"on":"2027-03-04"/'; do
  tr -d '\n ' <"$tmp/agreed.json" >"$tmp/flat.json"
  sed "$change" "$tmp/flat.json" >"$tmp/other.json"
  cmp -s "$tmp/flat.json" "$tmp/other.json" && { echo "nothing to change: $change"; ok=FAIL; }
  "$pw" verify "$tmp/other.json" >/dev/null 2>&1 && { echo "another contract passes: $change"; ok=FAIL; }
done
echo "$ok agree a contract is kept"
