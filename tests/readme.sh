#!/bin/sh
# The demo's output in README.md, between its two marks: readme.sh PROGRAM [update]
# Without "update" it only compares; status 1 and a diff when README.md shows something else.
set -eu
cd "$(dirname "$0")/.."
program=$1
fresh=$(mktemp)
trap 'rm -f "$fresh"' EXIT
sh tests/demo.sh "$program" > "$fresh.out"
awk -v out="$fresh.out" '
  /^<!-- demo -->$/ { print; print "```"; while ((getline line < out) > 0) print line; print "```"; skip = 1; next }
  /^<!-- \/demo -->$/ { skip = 0 }
  !skip' README.md > "$fresh"
rm -f "$fresh.out"
if [ "${2:-}" = update ]; then
  cat "$fresh" > README.md
else
  diff README.md "$fresh"
fi
