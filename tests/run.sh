#!/bin/sh
# Runs the tests of one build: run.sh BUILD_DIR [unit] [cases] [gates] ...; all parts without a name.
# Each script tests/parts/<part>.sh prints one "ok NAME" or "FAIL NAME" line per test (logs of failures only).
set -u
build=$1; shift
[ $# -gt 0 ] || set -- unit cases gates edits lies cli agree buying play same sheets pack faults odd fuzz schema install hostile season
export LC_ALL=C
log=$build/test.log
: > "$log"
for part in "$@"; do
  if [ "$part" = unit ]; then
    for t in "$build"/tests/test_*; do
      [ -x "$t" ] && [ -f "$t" ] && case "$t" in *.d|*.gcno|*.gcda) ;; *)
        if out=$("$t" 2>&1); then printf '%s\n' "$out" | grep '^SKIPPED'; echo "ok unit $(basename "$t"): $(printf '%s\n' "$out" | grep '^[0-9]*%' | tail -n 1)"
        else printf '%s\n' "$out"; echo "FAIL unit $(basename "$t")"; fi ;;
      esac
    done
  elif [ -f "tests/parts/$part.sh" ]; then
    sh "tests/parts/$part.sh" "$build" || echo "FAIL $part (the script itself)"
  fi
done | tee "$log"
passed=$(grep -c '^ok ' "$log")
failed=$(grep -c '^FAIL ' "$log")
echo "$passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
