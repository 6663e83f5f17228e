#!/bin/sh
# Rules of the house that a compiler does not know: headers that stand alone, one door per library, layers that look down
# only, a library that prints nothing and asks no clock, units in names.  gates.sh BUILD_DIR
set -u
. "$(dirname "$0")/begin"
cc=${CC:-cc}

verdict() { # name; $tmp/found holds what breaks the rule
  if [ -s "$tmp/found" ]; then
    sed 's/^/  /' "$tmp/found" | head -n 20
    echo "FAIL gates $1"
  else
    echo "ok gates $1"
  fi
  : >"$tmp/found"
}
: >"$tmp/found"

for h in include/pw/*.h $(find src -name '*.h' | sort); do
  "$cc" -std=c11 -D_POSIX_C_SOURCE=200809L -D_XOPEN_SOURCE=700 -Iinclude -Isrc -Wall -Wextra -Wpedantic -Werror -fsyntax-only -x c "$h" \
    2>"$tmp/why" || { echo "$h does not stand alone"; head -n 3 "$tmp/why"; } >>"$tmp/found"
done
verdict headers-stand-alone

# What other programs include: alone, under C11 and C++17, and nothing but each other.
for h in include/pw/pitwright.h include/pw/status.h; do
  for as in "${CC:-cc} -std=c11 -x c" "${CXX:-g++} -std=c++17 -x c++"; do
    # shellcheck disable=SC2086  # the words are meant to split
    $as -Iinclude -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror -fsyntax-only "$h" 2>"$tmp/why" ||
      { echo "$h: $as"; head -n 3 "$tmp/why"; } >>"$tmp/found"
  done
  grep -n '#include "' "$h" | grep -v '"pw/status\.h"' >>"$tmp/found"
  grep -n -E 'pw_(ctx|arena|event|plan)\b' "$h" | sed 's/$/ (of the inside)/' >>"$tmp/found"
done
verdict public-headers-in-c-and-c++

for h in include/pw/*.h $(find src -name '*.h' | sort); do
  grep -q '^#ifndef PW_[A-Z0-9_]*_H$' "$h" || echo "$h has no guard PW_..._H" >>"$tmp/found"
done
for f in $(find src -name '*.[ch]' | sort) include/pw/*.h; do
  case $(head -n 1 "$f") in "/* ${f##*/} - "*) ;; *) echo "$f does not open with its name and what it is for" ;; esac
done >>"$tmp/found"
verdict files-say-what-they-are-for

door() { # header, files that may include it (pattern)
  grep -rln "#include [<\"].*$1[>\"]" src tests/unit tests/bench 2>/dev/null | grep -v -E "^($2)\$" | sed "s|\$| includes $1|" >>"$tmp/found"
}
door 'yaml\.h' 'src/read/yaml_tree\.c'
door 'glpk\.h' 'src/solve/lp_glpk\.c'
door 'xlsxwriter\.h' 'src/write/xlsx/xlsx_book\.[ch]|src/write/xlsx/xlsx[a-z_]*\.c'
door 'jansson\.h' 'src/base/json\.c'
verdict one-door-for-each-library

# base, then heat, then read / solve / judge, then plan, day, sheet, write, run, lib: a file includes its own layer and those before it.  The program is
# a user of the library like any other: of ours it knows the two headers that are installed.
below() {
  case $1 in
    base) echo 'base|pw' ;;
    heat) echo 'heat|base|pw' ;;
    read) echo 'read|heat|base|pw' ;;
    solve) echo 'solve|base|pw' ;;
    judge) echo 'judge|base' ;; # it shares nothing with what it judges
    plan) echo 'plan|heat|read|solve|base|pw' ;;
    day) echo 'day|plan|heat|read|base|pw' ;;
    season) echo 'season|plan|base|pw' ;;
    sheet) echo 'sheet|season|day|plan|heat|base|pw' ;;
    write) echo 'write|season|sheet|day|plan|heat|read|base|pw' ;;
    lib) echo 'lib|write|season|sheet|day|judge|plan|heat|read|solve|base|pw' ;;
  esac
}
for layer in base heat read solve judge plan day season sheet write lib; do
  grep -rn '#include "' src/$layer | grep -v -E "#include \"($(below $layer))/" | grep -v '#include "run\.h"' >>"$tmp/found"
done
grep -rn '#include "run\.h"' src/*/ | grep -v '^src/lib/' >>"$tmp/found"
grep -n -E '#include "(cli|lib)/' src/*.[ch] include/pw/*.h >>"$tmp/found"
# The rooms of the plan stand in the order of its stages; a room knows those before it.
before='plan/stages\.h'
for room in demand buy lots allocate chance fire safety shifts crew money ways joint explain; do
  before="$before|plan/$room/"
  grep -rn '#include "plan/' src/plan/$room | grep -v -E "#include \"($before)" >>"$tmp/found"
done
find src/plan -type f | grep -v -E "^src/($before)" | sed 's/$/ stands in no room/' >>"$tmp/found"
verdict layers-look-down

# A sheet is made once, in sheet/: what lays sheets out walks no lots, loads or tasks, and knows no kind of sheet by its name but the
# few that stand here with their reasons.
walks() { # file: why it may
  case $1 in
    html/svg.c | html/html_fit.c) echo 'draws racks and the day from the view, and guesses how high a drawing is' ;;
  esac
}
for f in src/write/html/*.c src/write/text/*.c src/write/xlsx/*.c; do
  if grep -q -E '\bn_(loads|lots|tasks)\b' "$f"; then
    [ -n "$(walks "${f#src/write/}")" ] || echo "$f walks the plan: make it a sheet's row (src/sheet/)"
  else
    [ -z "$(walks "${f#src/write/}")" ] || echo "$f walks no plan: it needs no place in the list"
  fi
done >>"$tmp/found"
for f in src/write/text/text_shift.c src/write/xlsx/xlsx_sheets.c; do
  grep -n 'PW_SHEET_' "$f" | sed "s|^|$f knows a kind of sheet: |"
done >>"$tmp/found"
grep -rn -o 'PW_SHEET_[A-Z]*' src/write/html | grep -v -E ':PW_SHEET_(PERSON|FIRE|SLIPS|NO|MANY)$' | sed 's/$/: html knows a kind of sheet more/' >>"$tmp/found"
# What a page says is sheet/page's: text lays out lines and tables, and has no way to the plan's stages.
grep -n '#include "' src/write/text/*.[ch] | grep -v -E '#include "(base|sheet|pw|write/text)/' >>"$tmp/found"
# So it is with the workbook: of the plan it asks at most whose it is.
grep -n -E '(plan|event|ev)->[a-z]' src/write/xlsx/xlsx_*.c | grep -v -E 'ev->(name|date|paper|money_(sign|digits))\b|plan->day\b' >>"$tmp/found"
grep -rn '#include "write/' src/sheet >>"$tmp/found"
verdict sheets-are-made-once

grep -n '#include ' src/cli/*.[ch] | grep -v -E '#include ("cli/[a-z_]+\.h"|"pw/(pitwright|status)\.h"|<(sys/)?[a-z]+\.h>)( |$)' >>"$tmp/found"
# Nor does it call past them: whatever it takes from the library is declared there.
sed 's|/\*.*||' include/pw/pitwright.h | grep -o -E '\bpw_[a-z_]+\(' | tr -d '(' | sort -u >"$tmp/public"
for f in src/cli/*.c; do nm "$build/${f%.c}.o"; done >"$tmp/names"
awk '$1 == "U" && $2 ~ /^pw_/ { print $2 }' "$tmp/names" | sort -u >"$tmp/wanted"
awk '$2 == "T" { print $3 }' "$tmp/names" | sort -u >"$tmp/own"
sort -u "$tmp/public" "$tmp/own" | comm -13 - "$tmp/wanted" | sed 's/$/ is called by the program and not public/' >>"$tmp/found"
verdict program-is-a-user-of-the-library

# What the library may not call: it prints nothing, ends nothing, knows no locale, no date and no chance.
for o in $(find "$build/src" -name '*.o' ! -path '*/cli/*'); do
  nm -u "$o" | awk '{ print $NF }' | sed 's/@.*//' |
    grep -E -x 'time|gettimeofday|localtime(_r)?|mktime|rand|srand|random|drand48|setlocale|uselocale|getenv|setenv|exit|_exit|printf|vprintf|__printf_chk|puts|putchar|perror|stderr|system|popen|fork' |
    sed "s|^|${o#"$build"/} calls |"
done | grep -v -E -x 'src/base/child\.o calls (fork|_exit)' >>"$tmp/found" # its one purpose
verdict library-prints-nothing-and-asks-nobody

# The clock is asked for limits and figures of time spent alone, in one place.
for o in $(find "$build/src" -name '*.o' ! -path '*/cli/*' ! -path '*/base/deadline.o'); do
  nm -u "$o" | grep -q ' clock_gettime' && echo "${o#"$build"/} asks the clock"
done >>"$tmp/found"
verdict clock-only-for-limits

# Whatever a program links with the library keeps its own names: ours all begin with pw_.
nm -A --defined-only --extern-only "$build/libpitwright.a" | sed 's|^.*libpitwright\.a:||' |
  awk '$NF !~ /^pw_/ { print $1, $NF }' | grep -v -E ' (__asan|__odr_asan|__gcov|__llvm|_GLOBAL_)' >>"$tmp/found"
[ "$(nm --defined-only --extern-only "$build/libpitwright.a" | grep -c ' [TDRB] pw_')" -gt 500 ] || echo "no library to look at" >>"$tmp/found"
verdict every-name-begins-with-pw

# One way to lay out code: .clang-format.  Another version of the tool may break lines elsewhere, so only Debian 12's is asked.
if clang-format --version 2>/dev/null | grep -q 'version 14\.'; then
  find src include tests -name '*.[ch]' | sort | xargs clang-format --dry-run --Werror 2>&1 | grep 'error:' >>"$tmp/found"
  verdict formatted
else
  echo "SKIPPED gates formatted: no clang-format 14"
fi

suffixes='kg|m|m2|m3|l|c|k|min|h|kw|mj|mj_kg|frac|cents|m_s|m2_s|s|portions|portion'
grep -n -E '^ *double ' include/pw/*.h | sed 's|/\*.*||; s|;.*||' |
  awk -F: '{ sub(/^ *double /, "", $3); n = split($3, v, /, */); for (i = 1; i <= n; i++) { gsub(/[* ]|\[.*\]/, "", v[i]); print $1 ":" $2 ": " v[i] } }' |
  grep -v -E "_($suffixes)(_per_[a-z0-9_]+)?\$" >"$tmp/bare"
# Amounts in the unit of their item or dish, counts and ratios that have none, moments of a law per portion.
known='amount|need|capacity|units_per_piece|pans_per_piece|portion_units|pan_portions|guests_per_hand|guests_eq|mean_units|sd_units|need_units'
known="$known|seconds|work_times|frac|portion|mean|square|cov|log_reduction|surface_log_reduction|hold_log|log_needed|kg_per_m3_stacked|portions|splits_per_h|stoich_air_kg_kg|tend_min_per_h|value|cost|bound"
grep -v -E ": ($known)\$" "$tmp/bare" >>"$tmp/found"
verdict units-in-names

if git rev-parse --git-dir >/dev/null 2>&1; then
  git ls-files -z -- . ':!tests/parts/gates.sh' ':!LICENSE' ':!tests/cases' | xargs -0 grep -n -I -i -E 'TODO|FIXME|HACK|placeholder|\bXXX\b' >>"$tmp/found"
  git ls-files -z -- . ':!tests/parts/gates.sh' | xargs -0 grep -n -I -E '/(root|work|home)/' >>"$tmp/found"
fi
verdict nothing-left-for-later

for f in templates/*.yaml; do
  case $f in */starter.yaml | */starter-house.yaml) continue ;; esac
  grep -q 'source:' "$f" || echo "$f names no source" >>"$tmp/found"
done
verdict catalogs-name-their-sources

# What lies at the top is what README and DEVELOPERS.md speak of; a test's leftovers are not kept.  Only where git is.
if git rev-parse --git-dir >/dev/null 2>&1; then
  git ls-files | cut -d/ -f1 | grep -v '^\.' | sort -u |
    grep -v -x -E 'DEVELOPERS\.md|LICENSE|Makefile|README\.md|events|include|src|templates|tests' >>"$tmp/found"
fi
verdict top-level
