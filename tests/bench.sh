#!/bin/sh
# Allocation on problems made from a seed: cost, bound, gap, seconds, memory; then what Debian's cbc makes of the same
# integer models in BENCH_CBC seconds each (default 60, 0 to skip).  The model knows areas, not true rectangles.
set -eu
build=$1
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
"$build/bench" "$dir"
limit=${BENCH_CBC:-60}
if [ "$limit" != 0 ] && command -v cbc >/dev/null; then
  for m in "$dir"/*.lp; do
    echo "cbc, $limit s, $(basename "$m" .lp) guests (cents):"
    cbc "$m" sec "$limit" solve 2>&1 | grep -E '^(Objective value|Lower bound|Result|Gap)' | sed 's/^/  /'
  done
fi
