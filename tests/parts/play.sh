#!/bin/sh
# The printed sheets of every example event, played line by line.  play.sh BUILD_DIR
set -u
cd "$(dirname "$0")/../.." || exit 1
dir=$1/play
rm -rf "$dir" && mkdir -p "$dir" || exit 1
# The player itself: it must see every pair of lines that change places.
if python3 tests/play_sheets.py --swaps tests/data/sheets-good >"$dir/log" 2>&1; then echo "ok play every-swap-is-seen"
else cat "$dir/log"; echo "FAIL play every-swap-is-seen"; fi
for event in $(ls events/*.yaml | grep -v /house); do
  name=$(basename "$event" .yaml)
  if "$1/pitwright" plan "$event" -o "$dir/$name" >"$dir/log" 2>&1 && python3 tests/play_sheets.py "$dir/$name" >"$dir/log" 2>&1; then
    echo "ok play $name"
  else cat "$dir/log"; echo "FAIL play $name"; fi
  if python3 tests/who.py "$dir/$name" >"$dir/log" 2>&1; then echo "ok play one-name-for-each-person-$name"
  else cat "$dir/log"; echo "FAIL play one-name-for-each-person-$name"; fi
done
# The mended plan calls people as the first did.
if "$1/pitwright" mend "$dir/lakeside-wedding" events/lakeside-wedding.log -o "$dir/mended" >"$dir/log" 2>&1 &&
  python3 tests/who.py "$dir/mended" >"$dir/log" 2>&1; then echo "ok play one-name-for-each-person-mended"
else cat "$dir/log"; echo "FAIL play one-name-for-each-person-mended"; fi
# The check itself: two names that change places are seen.
mkdir -p "$dir/swapped" && cp "$dir/lakeside-wedding/"* "$dir/swapped/" &&
  sed -e 's/"name": "hand 7"/"name": "hand x"/; s/"name": "hand 8"/"name": "hand 7"/; s/"name": "hand x"/"name": "hand 8"/' \
    "$dir/lakeside-wedding/plan.json" >"$dir/swapped/plan.json"
if cmp -s "$dir/lakeside-wedding/plan.json" "$dir/swapped/plan.json" || python3 tests/who.py "$dir/swapped" >"$dir/log" 2>&1; then
  echo "FAIL play names-that-change-places-are-seen"
else echo "ok play names-that-change-places-are-seen"; fi
