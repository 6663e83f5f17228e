#!/bin/sh
# The demo's output in README.md and the night's (tests/day.sh), each between its two marks: readme.sh PROGRAM [update]
# Without "update" it only compares; status 1 and a diff when README.md shows something else.
set -eu
cd "$(dirname "$0")/.."
program=$1
fresh=$(mktemp)
trap 'rm -f "$fresh" "$fresh".*' EXIT
sh tests/demo.sh "$program" > "$fresh.whole"
# As much of the plan as shows what it is like, and what was written: a page of it helps nobody who has not begun.
awk 'NR <= 20 { print } NR == 21 { print "..." } /^Written:/ { is_in = 1 } is_in && /plan\.txt|crew\.html|workbook|Written/ { print }' "$fresh.whole" > "$fresh.demo"
sh tests/day.sh "$program" > "$fresh.whole"
# The log and the slip; what stands behind the slip is left out.
awk '/^Food so far/ { print "..."; exit } { print }' "$fresh.whole" > "$fresh.day"
awk -v base="$fresh" '
  /^<!-- (demo|day) -->$/ { print; print "```"; while ((getline line < (base "." $2)) > 0) print line; print "```"; skip = 1; next }
  /^<!-- \/(demo|day) -->$/ { skip = 0 }
  !skip' README.md > "$fresh"
if [ "${2:-}" = update ]; then
  cat "$fresh" > README.md
else
  diff README.md "$fresh"
fi
