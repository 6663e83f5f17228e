#!/bin/sh
# What is bought adds up, and the lines a cook reads suit the dish.  buying.sh BUILD_DIR
set -u
cd "$(dirname "$0")/../.." || exit 1
pw=$1/pitwright
tmp=$(mktemp -d) || exit 1
trap 'rm -rf "$tmp"' EXIT

# the cost column of purchases.csv is what the plan spends on food, supplies, deliveries and fuel
for event in $(ls events/*.yaml | grep -v /house); do
  name=$(basename "$event" .yaml)
  "$pw" plan "$event" -q -o "$tmp/$name" --json "$tmp/$name.json" >/dev/null 2>"$tmp/$name.err"
  python3 - "$tmp/$name" <<'EOF'
import csv, json, sys
p = json.load(open(sys.argv[1] + ".json"))
rows = list(csv.DictReader(open(sys.argv[1] + "/purchases.csv", newline="")))
told = round(100 * sum(float(r["cost"]) for r in rows))
spent = sum(r["cost_cents"] for r in p["purchases"]) + sum(f["cost_cents"] for f in p["fuels"])
spent += sum(o["delivery_cents"] + o["top_up_cents"] for o in p["orders"])
assert rows and told == spent, (told, spent)
# what is made is what is bought for: portions with the dish's own reserve, in whole pans
for d in p["demand"]:
    made = -int(-(d["portions_cover"] * (1 + d["reserve_frac"]) - 1e-6) // 1)
    pans = sum(s["pans"] for s in p["side_pans"] if (s["dish"], s["service"]) == (d["dish"], d["service"]))
    assert pans == 0 or pans * d["pan_portions"] >= made, (d["dish"], pans, made)
EOF
  if [ $? = 0 ]; then echo "ok buying adds-up-$name"; else echo "FAIL buying adds-up-$name"; fi
  # the examples' told splits and their shells agree: no doubt where none is due
  if grep -q splits-doubted "$tmp/$name.json" "$tmp/$name.err" || grep -q 'splits an hour on a mild' "$tmp/$name.err"; then
    echo "FAIL buying splits-$name"; else echo "ok buying splits-$name"; fi
done
# cake is not washed, cabbage is
python3 - "$tmp"/*.json <<'EOF'
import json, sys
n = 0
for name in sys.argv[1:]:
    for t in json.load(open(name))["tasks"]:
        if t["kind"] == "prep" and "cake" in t["what"]:
            assert "washed" not in t["target"], t
        if t["kind"] == "prep" and "slaw" in t["what"]:
            assert "washed first" in t["target"], t
            n += 1
assert n > 0
EOF
if [ $? = 0 ]; then echo "ok buying washed"; else echo "FAIL buying washed"; fi
