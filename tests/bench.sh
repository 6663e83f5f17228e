#!/bin/sh
# Allocation on problems made from a seed: bench.sh BUILD.  Prints figures, judges nothing.
#   BENCH_RUNS   runs of each problem, the median of their seconds is shown (default 1)
#   BENCH_CBC    seconds that Debian's cbc gets for the same integer model (default 60, 0: not run)
#   BENCH_LIMIT  seconds after which a problem is given up (default 600)
#   BENCH_ONLY   names of problems, "money" for buying and quoting, "rects" for packing alone; default all of them and the growth table
# "ready %": of 100 cooks so many have everything of the worst meal ready, with no margin but each lot's own: these problems are laid
# without a chance asked for.
# The model that cbc gets knows areas, not true rectangles: its plans may not lie on the racks, and it is spared the
# cost of openings beyond two a burn and of split lots.  So its plan is also laid on the true racks and mended there by
# our search (bench lay), which is the plan a cook could use of it.  A ratio below 1 is in pitwright's favour.
set -eu
build=$1
runs=${BENCH_RUNS:-1}
seconds=${BENCH_CBC:-60}
limit=${BENCH_LIMIT:-600}
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
export LC_ALL=C
command -v cbc >/dev/null || seconds=0

# run NAME: the run with the median time, or nothing
run() {
  : > "$dir/runs"
  i=0
  while [ $i -lt "$runs" ]; do
    timeout "$limit" "$build/bench" run "$1" >> "$dir/runs" || { : > "$dir/runs"; break; }
    i=$((i + 1))
  done
  sort -n "$dir/runs" | sed -n "$(((runs + 1) / 2))p"
}

wanted() { [ -z "${BENCH_ONLY:-}" ] || case " $BENCH_ONLY " in *" $1 "*) ;; *) return 1 ;; esac; }

row='%-18s %6s %5s %6s %9s %9s %6s %7s %7s %7s %8s %5s %8s\n'
# shellcheck disable=SC2059  # one format for heads and rows
head() { printf "$row" "$1" pieces slots missed cost bound 'gap %' 'ready %' seconds model search MB rounds; }
# shellcheck disable=SC2059,SC2086  # the line is meant to split
show() {
  name=$1
  [ -n "$2" ] || { printf '%-18s given up after %s s\n' "$name" "$limit"; return; }
  set -- $2
  printf "$row" "$name" "$2" "$3" "$4" "$5" "$6" "$7" "${12}" "$1" "$8" "$9" "${10}" "${11}"
}

echo "Full effort, median of $runs; money in the event's unit"
head guests/pits
for name in $("$build/bench" list); do
  wanted "$name" || continue
  file=$dir/$(echo "$name" | tr / _)
  line=$(run "$name")
  echo "$line" > "$file.row"
  show "$name" "$line"
done

if [ "$seconds" != 0 ]; then
  printf '\ncbc on the same integer models (areas instead of rectangles), %s s each\n' "$seconds"
  printf '%-18s %9s %9s %6s %7s %11s %11s   %s\n' guests/pits cost bound 'gap %' seconds 'cost ratio' 'time ratio' \
    'on true racks: wait at once, after a search; mended, ratio'
  for name in $("$build/bench" list); do
    file=$dir/$(echo "$name" | tr / _)
    wanted "$name" || continue
    timeout "$limit" "$build/bench" model "$name" "$file.lp" >/dev/null || continue
    timeout $((${seconds%.*} * 3 + 60)) cbc "$file.lp" sec "$seconds" solve solution "$file.sol" > "$file.cbc" 2>&1 || true
    awk -v name="$name" -v row="$(cat "$file.row")" -v laid="$("$build/bench" lay "$name" "$file.sol" 2>/dev/null || true)" '
      /^Objective value:/ { cost = $3; has_cost = 1 }
      /^Result - Optimal/ { is_optimal = 1 }
      /^Lower bound:/ { bound = $3; has_bound = 1 }
      /Continuous objective value is/ && !has_bound { bound = $5 }
      /^Total time/ { used = $NF; sub(/\)/, "", used) }
      /^Time \(Wallclock seconds\)/ { used = $NF }
      END {
        n = split(row, f, " ")
        if (is_optimal) bound = cost
        if (!has_cost) { printf "%-18s %9s %9.2f %6s %7.1f\n", name, "none", bound / 100, "-", used; exit }
        ratio = n ? sprintf("%.3f", f[5] / (cost / 100)) : "-"
        times = n && used > 0 ? sprintf("%.3f", f[1] / used) : "-"
        on_racks = split(laid, l, " ") == 5 ? sprintf("%d, %d; %s, %s", l[3], l[4], l[5], n && l[5] + 0 > 0 ? sprintf("%.3f", f[5] / l[5]) : "-") : "-"
        printf "%-18s %9.2f %9.2f %6.2f %7.1f %11s %11s   %s\n", name, cost / 100, bound / 100,
               cost ? (cost - bound) / cost * 100 : 0, used, ratio, times, on_racks
      }' "$file.cbc"
  done
fi

if wanted money; then
  printf '\nBuying and quoting; seconds of processor time, the bar, and their ratio (below 1 is within it)\n'
  printf '%-44s %8s %6s %6s\n' what seconds bar ratio
  # spent BAR LABEL COMMAND...
  spent() {
    bar=$1; label=$2; shift 2
    ("$@" >/dev/null 2>&1 || true; times) > "$dir/time" # the second line: user and system time of the children
    awk -v bar="$bar" -v label="$label" 'NR == 2 { split($0, t, /[ms ]+/); s = 60 * (t[1] + t[3]) + t[2] + t[4] } END { printf "%-44s %8.2f %6.1f %6.2f\n", label, s, bar, s / bar }' "$dir/time"
  }
  for seed in 1 2 3 4 5 6; do
    spent 1 "packs of 300 items, 5 suppliers, seed $seed" "$build/bench-packs" 300 5 "$seed"
  done
  spent 0.5 "wedding without a ladder" "$build/pitwright" buy events/lakeside-wedding.yaml
  spent 0.5 "fair without a ladder" "$build/pitwright" buy events/county-fair.yaml
  spent 5 "wedding, ladder of 12 and the break-even" "$build/pitwright" quote events/lakeside-wedding.yaml
fi

if wanted rects; then
  printf '\n'
  "$build/bench-rects"
fi

[ -z "${BENCH_ONLY:-}" ] || exit 0
printf '\nGrowth: one thing doubled, the rest as it was\n'
head problem
for name in $("$build/bench" grow); do
  show "$name" "$(run "$name")"
done
