#!/bin/sh
# Whole runs with one thing failing: faults.sh BUILD_DIR [whole|ways].  Alone a sample that takes seconds; "whole" is every
# allocation and every call on files, which takes the better part of an hour; "ways" is each way to an allocation once in the
# commands that search long, which `make cov` adds.
set -u
. "$(dirname "$0")/begin"
is_whole=${2:-}
case $build in *san*) exit 0 ;; esac # the sanitizers bring allocators of their own
export PITWRIGHT_CATALOGS="$here/templates"
make -s VARIANT="$(basename "$build")" "build/$(basename "$build")/faults/faults" || exit 1
event=$here/events/family-party.yaml
cd "$tmp" || exit 1

try() { # name, arguments
  name=$1
  shift
  if timeout 3600 "$build/faults/faults" "$@" >"$tmp/log" 2>&1; then echo "ok faults $name: $(tail -n 1 "$tmp/log")"
  else tail -n 25 "$tmp/log"; echo "FAIL faults $name"; fi
}
pick() { [ "$is_whole" = whole ] && echo "$1" || echo "$2"; } # the whole, or a sample

# The run itself may end with a fault here: forks that came through have put their pack in the place of its own.
ways() { # name, arguments
  name=$1
  shift
  timeout 3600 "$build/faults/faults" alloc distinct "$@" >"$tmp/log" 2>&1
  if grep -q '^tried [0-9]*, broken 0;' "$tmp/log"; then echo "ok faults $name: $(grep '^tried' "$tmp/log")"
  else tail -n 25 "$tmp/log"; echo "FAIL faults $name"; fi
}
if [ -n "$is_whole" ]; then
  ways explain-ways explain "$event"
  ways plan-ways plan "$event" --seconds 0.1 -o pack
  ways jobs-ways plan "$here/events/garden-lunch.yaml" "$event" --seconds 0.1 -o jobs
  ways cold-ways quote "$here/events/sunday-lunch.yaml"
  [ "$is_whole" = whole ] || exit 0
fi

"$build/pitwright" plan "$event" --json "$tmp/plan.json" -q
try check "alloc" "$(pick 1 distinct)" check "$event"
try verify "alloc" "$(pick 1 distinct)" verify "$tmp/plan.json"
try curve "alloc" "$(pick 1 distinct)" curve brisket-whole --pit small-offset
try quote "alloc" "$(pick 19 distinct)" quote "$event"
try buy "alloc" "$(pick 19 4001)" buy "$event"
try plan "alloc" "$(pick distinct 9001)" plan "$event" --json "$tmp/full.json"
try new "alloc" "$(pick 1 distinct)" new "$tmp/new.yaml"
try pack-memory pack-alloc "$(pick distinct 15013)" "$event"
try pack-calls io "$(pick 1 41)" "$(pick 101 30011)" "$event"
try pack-kills kill "$(pick 1 59)" "$event"
try pack-moments moments "$(pick 1000 6)" 1 "$event"

# Real limits, as a user meets them.
as_nobody() { setpriv --reuid=65534 --regid=65534 --clear-groups "$@" 2>"$tmp/log"; }
if [ "$(id -u)" = 0 ] && command -v setpriv >/dev/null; then
  mkdir "$tmp/shut" && chmod 755 "$tmp" "$tmp/shut" && cp "$build/pitwright" "$tmp/" && cp -r "$here/templates" "$tmp/t"
  cp "$event" "$tmp/event.yaml"
  cp "$here/events/house-garden.yaml" "$tmp/" # the menu of the event stands in the house file beside it
  export PITWRIGHT_CATALOGS="$tmp/t"
  bad=
  as_nobody "$tmp/pitwright" plan "$tmp/event.yaml" -q -o "$tmp/shut/pack"
  [ $? = 5 ] && grep -q 'Permission denied' "$tmp/log" || bad=no-right-to-make
  as_nobody "$tmp/pitwright" plan "$tmp/event.yaml" -q -o "$tmp/shut"
  [ $? = 5 ] && grep -q 'Permission denied' "$tmp/log" || bad=$bad,no-right-to-write
  mkdir "$tmp/shut/open" && chmod 777 "$tmp/shut/open" # its parent is closed to us: file by file
  as_nobody "$tmp/pitwright" plan "$tmp/event.yaml" -q -o "$tmp/shut/open"
  [ $? = 0 ] && [ -s "$tmp/shut/open/plan.json" ] && [ "$(ls -A "$tmp/shut/open" | grep -c '^\.')" = 0 ] || bad=$bad,file-by-file
  if [ -z "$bad" ]; then echo "ok faults rights"; else cat "$tmp/log"; echo "FAIL faults rights ($bad)"; fi
fi
