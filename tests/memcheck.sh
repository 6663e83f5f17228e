#!/bin/sh
# Unit tests without forks and the quotes of the events under valgrind.
set -u
build=$1
failed=0
check() {
  name=$1; shift
  if CK_FORK=no CK_DEFAULT_TIMEOUT=0 valgrind --quiet --error-exitcode=99 --leak-check=no "$@" >/dev/null 2>"$build/memcheck.log"; then
    echo "ok memcheck $name"
  elif [ $? = 99 ]; then echo "FAIL memcheck $name"; head -n 20 "$build/memcheck.log"; failed=1
  else echo "FAIL memcheck $name: it ended with an error"; failed=1; fi
}
for e in events/*.yaml; do check "quote $(basename "$e")" "$build/pitwright" quote "$e"; done
for t in "$build"/tests/test_*; do
  case "$t" in *.d | *.o) continue ;; esac
  [ -f "$t" ] && [ -x "$t" ] && case "$t" in */test_allocate) ;; *) check "$(basename "$t")" "$t" ;; esac
done
exit $failed
