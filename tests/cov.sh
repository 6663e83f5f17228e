#!/bin/sh
# Coverage of src by the tests: cov.sh BUILD_DIR [PART...].  Runs the parts (all that make check runs, without a name), gathers
# gcov's counts and prints lines and branches, whole and by file; the lines not run are in BUILD_DIR/cov/uncovered.txt.
set -u
build=$1
shift
[ $# -gt 0 ] || set -- unit cases cli faults fuzz odd hostile
find "$build" -name '*.gcda' -delete
CK_DEFAULT_TIMEOUT=0 sh tests/run.sh "$build" "$@" >"$build/cov-tests.log" 2>&1
sh tests/parts/faults.sh "$build" ways >>"$build/cov-tests.log" 2>&1
grep '^FAIL' "$build/cov-tests.log"
mkdir -p "$build/cov"
# Branches that only the compiler made (of a conversion, say) are no branches of ours: lcov leaves those out that it knows of.
lcov --quiet --capture --directory "$build/src" --output-file "$build/cov/all.info" --rc lcov_branch_coverage=1 \
  --ignore-errors source,gcov 2>"$build/cov/lcov.log"
# what no test program links counts as not run
lcov --quiet --capture --initial --directory "$build/src" --output-file "$build/cov/none.info" --rc lcov_branch_coverage=1 \
  --ignore-errors source,gcov 2>>"$build/cov/lcov.log"
lcov --quiet --add-tracefile "$build/cov/none.info" --add-tracefile "$build/cov/all.info" --output-file "$build/cov/all.info" \
  --rc lcov_branch_coverage=1 2>>"$build/cov/lcov.log"
lcov --quiet --extract "$build/cov/all.info" "$(pwd)/src/*" --output-file "$build/cov/src.info" --rc lcov_branch_coverage=1 2>>"$build/cov/lcov.log"
awk -F'[:,]' -v out="$build/cov/uncovered.txt" '
  /^SF:/ { file = $2; sub(/.*\/src\//, "src/", file) }
  /^DA:/ { n[file]++; lines++; if ($3 > 0) { hit[file]++; run++ } else print file ":" $2 " line" >out }
  /^BRDA:/ { bn[file]++; branches++; if ($5 != "-" && $5 > 0) { bhit[file]++; taken++ } else if ($5 != "-") print file ":" $2 " branch " $4 >out }
  END {
    for (f in n) printf "%6.1f %% lines %6.1f %% branches (%d/%d, %d/%d)  %s\n", 100 * hit[f] / n[f], bn[f] ? 100 * bhit[f] / bn[f] : 100, hit[f], n[f], bhit[f], bn[f], f | "sort -n"
    close("sort -n")
    printf "lines %.1f %% of %d, branches %.1f %% of %d\n", 100 * run / lines, lines, 100 * taken / branches, branches
  }' "$build/cov/src.info"
