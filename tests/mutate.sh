#!/bin/sh
# How many small wrongs do the tests see?  mutate.sh WORK_DIR COUNT SEED [FILE...], or MUTANTS=LIST mutate.sh WORK_DIR COUNT SEED
# Flips one comparison, one logical or arithmetic operator or one whole number at a time in a copy of src/plan, src/judge, src/heat,
# src/base and src/read (places drawn by the seed), rebuilds that file alone into a shared library, and runs the unit tests that name
# the file's functions or share its name, the demo against README.md, the cases, and at last all other unit tests, quickest first
# (those that take more than SLOWEST seconds are left out).  Loop heads are left out: what they overrun is for the sanitizers.
# A time-out is counted apart.  Survivors are listed in WORK_DIR/survivors.txt, which is what LIST may be: each line is found
# again by its text.  A mutant that does not compile is drawn anew.
set -u
work=$1 count=$2 seed=$3
shift 3
rm -rf "$work"
mkdir -p "$work/tree/build/m/tests"
work=$(cd "$work" && pwd)
[ -z "${MUTANTS:-}" ] || MUTANTS=$(realpath "$MUTANTS")
export LC_ALL=C CK_FORK=no
cp -r Makefile README.md src include tests templates events "$work/tree/"
cp -r src "$work/sound" # a copy, so that the tree may be worked on meanwhile
cd "$work/tree" || exit 1
[ $# -gt 0 ] || set -- $(find src/plan src/judge src/heat src/base src/read -name '*.c' | sort)

flags="-std=c11 -D_POSIX_C_SOURCE=200809L -D_XOPEN_SOURCE=700 -Iinclude -Isrc -Itests/unit -DPW_VERSION=\"0.1.0\" -ffp-contract=off -fPIC -O1 -w"
libs="-lglpk $(pkg-config --libs yaml-0.1 jansson xlsxwriter) -lz -lpthread -lm"
b=build/m
object() { echo "$b/$(echo "$1" | tr / -).o"; }
for f in $(find src -name '*.c' | sort); do case $f in src/cli/*) ;; *) cc $flags -c -o "$(object "$f")" "$f" || exit 1 ;; esac; done
link() { cc -shared -o $b/libpw.so $b/*.o $libs; }
link || exit 1
cc $flags -o $b/pitwright src/cli/*.c -L$b -lpw -Wl,-rpath,"$work/tree/$b" $libs || exit 1
cc $flags -Itests/bench -c -o $b/tests/instances.obj -x c tests/bench/instances.c
for t in $(find tests/unit -name 'test_*.c' | sort); do
  name=$(basename "$t" .c)
  extra=; case $name in test_allocate*) true ;; *) false ;; esac && extra="-x none $b/tests/instances.obj"
  cc $flags -Itests/bench -o "$b/tests/$name" "$t" $extra -L$b -lpw -Wl,-rpath,"$work/tree/$b" $(pkg-config --libs check gsl libical) $libs 2>/dev/null || echo "no $name"
done

SLOWEST=${SLOWEST:-15}
if [ -n "${MUTANTS:-}" ]; then # FILE:LINE:COLUMN FROM -> TO: TEXT, the nearest line with this text
  awk -v out="$work/gone.txt" '
    {
      head = $1 " " $2 " " $3 " " $4; text = substr($0, length(head) + 2); to = substr($4, 1, length($4) - 1)
      split($1, at, ":"); best = 0; n = 0
      while ((getline line <at[1]) > 0) { n++; if (line == text && (!best || (n > at[2] ? n - at[2] : at[2] - n) < (best > at[2] ? best - at[2] : at[2] - best))) best = n }
      close(at[1])
      if (best) print at[1] "\t" best "\t" at[3] "\t" length($2) "\t" $2 "\t" to; else print >out
    }' "$MUTANTS" >"$work/drawn.txt"
else
  # Every place that may be flipped: file, line, column, length, what stands there, what comes instead.
  awk '
    FNR == 1 { in_comment = 0 }
    {
      line = $0
      if (in_comment) { if (line ~ /\*\//) in_comment = 0; next }
      if (line ~ /^[ ]*\/\*/ && line !~ /\*\//) { in_comment = 1; next }
      if (line ~ /^[ ]*(\/\*|#|for \(|\*|static const|enum|return PW_|case )/ || line ~ /^[^ ]/ || line ~ /"/) next
      sub(/\/\*.*/, "", line)
      at = 0; rest = line
      while (match(rest, / (<|>|<=|>=|==|!=|&&|\|\||\+|-|\*|\/) | [0-9]+[;),]/)) {
        text = substr(rest, RSTART, RLENGTH); col = at + RSTART
        op = text; gsub(/[ ;),]/, "", op)
        to = op == "<" ? "<=" : op == ">" ? ">=" : op == "<=" ? "<" : op == ">=" ? ">" : op == "==" ? "!=" : op == "!=" ? "==" : op == "&&" ? "||" : \
             op == "||" ? "&&" : op == "+" ? "-" : op == "-" ? "+" : op == "*" ? "/" : op == "/" ? "*" : op + 1
        print FILENAME "\t" FNR "\t" col + 1 "\t" length(op) "\t" op "\t" to
        at += RSTART + RLENGTH - 2; rest = substr(line, at + 1)
      }
    }' "$@" >"$work/places.txt"
  # drawn without repeat, by a congruential step of our own: the same on every awk
  awk -v seed="$seed" '{ place[NR] = $0 } END { s = seed; for (i = NR; i > 1; i--) { s = (s * 16807) % 2147483647; j = s % i + 1; t = place[i]; place[i] = place[j]; place[j] = t }
    for (i = 1; i <= NR; i++) print place[i] }' "$work/places.txt" >"$work/drawn.txt"
fi

is_killed() { # file; the name of what saw it in $by
  f=$1
  base=$(basename "$f" .c)
  names=$(nm --defined-only -g "$(object "$f")" | awk '$2 == "T" { print $3 }' | paste -s -d'|')
  tests=$( { find tests/unit -name "test_$base.c" -o -name "test_${base%%_*}.c" -o -name "test_${base%%_*}s.c" | sort; grep -r -l -w -E --include='test_*.c' "$names" tests/unit | sort
             case $f in src/judge/*) ls tests/unit/judge/test_*.c tests/unit/plan/lots/test_*.c ;; esac
             case $f in src/plan/*) ls tests/unit/plan/money/test_quote.c tests/unit/plan/crew/test_tasks.c ;; src/read/*) ls tests/unit/read/test_read.c ;; esac; } | awk '!seen[$0]++')
  for t in $(printf '%s\n' $tests | awk 'NF { print "unit:" $0 } NR == 1 { print "demo:" }'); do # its own test, the demo, which is quick, the others
    by=$(basename "${t#*:}" .c)
    case $t in
      demo:) by=demo; sees 30 sh tests/readme.sh $b/pitwright && return 0 ;;
      *) sees 40 "$b/tests/$by" && return 0 ;;
    esac
  done
  by=cases
  timeout 60 sh tests/parts/cases.sh $b 2>&1 | grep -q FAIL && return 0
  while read -r seconds by; do
    case " $(echo $tests) " in *"/$by.c "*) ;; *) sees 40 "$b/tests/$by" && return 0 ;; esac
  done <"$work/times.txt"
  by=nobody
  return 1
}

sees() { # seconds, command: true when it fails
  limit=$1
  shift
  case $1 in */test_allocate) export CK_RUN_CASE=few ;; *) unset CK_RUN_CASE ;; esac
  timeout "$limit" "$@" >/dev/null 2>&1 </dev/null
  status=$?
  [ $status != 124 ] || by="$by, out of time"
  [ $status != 0 ]
}

# Every test without a mutant: it passes, and this is how long it takes.
for t in $b/tests/test_*; do
  from=$(date +%s)
  by=$(basename "$t")
  if sees 120 "$t"; then echo "fails without a mutant: $by"; exit 1; fi
  echo "$(($(date +%s) - from)) $by"
done | sort -n | awk -v most=$SLOWEST '/fails/ { print; exit } $1 <= most' >"$work/times.txt"
grep fails "$work/times.txt" && exit 1

tried=0 killed=0 late=0
: >"$work/survivors.txt"
: >"$work/seen.txt"
tab=$(printf '\t')
while IFS=$tab read -r file line col len from to; do
  [ $tried -ge "$count" ] && break
  cp "$work/sound/${file#src/}" "$file"
  awk -v l="$line" -v c="$col" -v n="$len" -v to="$to" 'NR == l { $0 = substr($0, 1, c - 1) to substr($0, c + n) } { print }' "$work/sound/${file#src/}" >"$file"
  o=$(object "$file")
  cp "$o" "$work/kept.o"
  if cc $flags -c -o "$o" "$file" 2>/dev/null && ! cmp -s "$o" "$work/kept.o" && link; then
    tried=$((tried + 1))
    if is_killed "$file"; then
      killed=$((killed + 1))
      case $by in *time) late=$((late + 1)) ;; esac
      printf '%s:%s %s -> %s: %s\n' "$file" "$line" "$from" "$to" "$by" >>"$work/seen.txt"
    else
      printf '%s:%s:%s %s -> %s: %s\n' "$file" "$line" "$col" "$from" "$to" "$(sed -n "${line}p" "$work/sound/${file#src/}")" >>"$work/survivors.txt"
    fi
    [ $((tried % 20)) = 0 ] && echo "$killed of $tried seen"
  fi
  cp "$work/kept.o" "$o"
  cp "$work/sound/${file#src/}" "$file"
done <"$work/drawn.txt"
link
echo "$tried mutants, $killed seen by the tests ($((100 * killed / (tried > 0 ? tried : 1))) %), $late of them by running out of time; survivors in $work/survivors.txt"
