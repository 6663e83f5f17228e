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
done
