#!/bin/sh
# The quotes of the events and the unit tests under valgrind: memcheck.sh BUILD.  One line per program, "ok" or "FAIL".
# Leaks are counted for the program alone: tests leave theirs to the end of the process.
set -u
build=$1
failed=0
export CK_FORK=no CK_DEFAULT_TIMEOUT=0
check() {
  name=$1 leaks=$2
  shift 2
  valgrind --quiet --error-exitcode=99 --leak-check="$leaks" --errors-for-leak-kinds=definite "$@" \
    >/dev/null 2>"$build/memcheck.log"
  case $? in
    0) echo "ok memcheck $name" ;;
    99) echo "FAIL memcheck $name"; head -n 20 "$build/memcheck.log"; failed=1 ;;
    *) echo "FAIL memcheck $name: it ended with an error"; tail -n 5 "$build/memcheck.log"; failed=1 ;;
  esac
}
for e in $(ls events/*.yaml | grep -v /house); do check "quote $(basename "$e")" full "$build/pitwright" quote "$e"; done
for t in "$build"/tests/test_*; do
  case "$t" in *.d | *.o | *.gcno | *.gcda) continue ;; esac
  if [ ! -f "$t" ] || [ ! -x "$t" ]; then continue; fi
  case "$t" in
    */test_allocate) # all of it would take an hour
      CK_RUN_CASE=few
      export CK_RUN_CASE
      check test_allocate no "$t"
      unset CK_RUN_CASE ;;
    *) check "$(basename "$t")" no "$t" ;;
  esac
done
exit $failed
