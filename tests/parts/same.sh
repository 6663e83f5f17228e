#!/bin/sh
# Each number of plan.json is the same in every file of the pack that shows it, and the quote's three forms say the same.
# same.sh BUILD_DIR; with event files behind it, those instead of the examples.  In both systems of units, and the comparisons
# themselves: each number changed in turn, and each word lost, must be seen.  A pack rendered again out of its plan file says the same.
set -u
cd "$(dirname "$0")/../.." || exit 1
pw=$1/pitwright dir=$1/same; shift
rm -rf "$dir" && mkdir -p "$dir" || exit 1
[ $# -gt 0 ] || set -- $(ls events/*.yaml | grep -v '/house\|/river') tests/data/choices.yaml
again() { # again PACK: the pack written again out of its plan.json says the same
  for file in plan.json costs.txt quote.txt plan.txt purchases.txt purchases.csv customer.html; do
    cmp "$1/$file" "$1-again/$file" >>"$dir/log" 2>&1 || return 1
  done
}
for event in "$@"; do
  for units in us si; do
    name=$(basename "$event" .yaml)-$units
    # in the block of an event, or in its one line, where it comes before the house's
    sed "s/^  units: .*/  units: $units/; s/^event: {/event: {units: $units, /" "$event" >"$dir/$name.yaml"
    cp events/house*.yaml "$dir"
    if grep -q "^  units: $units\|^event: {units: $units, " "$dir/$name.yaml" && "$pw" plan --catalogs templates "$dir/$name.yaml" -o "$dir/$name" >"$dir/log" 2>&1 &&
      "$pw" render "$dir/$name" -q -o "$dir/$name-again" >"$dir/log" 2>&1 && again "$dir/$name" &&
      python3 tests/same_offer.py "$dir/$name" --self >"$dir/log" 2>&1 &&
      python3 tests/same_numbers.py "$dir/$name" "$units" --self >"$dir/log" 2>&1; then echo "ok same $name: $(tail -n 1 "$dir/log")"
    else cat "$dir/log"; echo "FAIL same $name"; fi
  done
done
