#!/bin/sh
# Runs the fuzzer: fuzz.sh DIR PROGRAM SECONDS TARGET...  The corpus grows in DIR/corpus; finds land in DIR/finds.  One process.
# Half of the time goes to the quick build, half to the one with the sanitizers, which begins with what the first kept.
set -u
dir=$1 program=$2 seconds=$3
shift 3
mkdir -p "$dir/finds"
status=0
for target in "$@"; do
  seeds=$dir/seeds/$target
  mkdir -p "$dir/corpus/$target" "$seeds" tests/fuzz/corpus/"$target"
  words=$seeds.words
  case $target in
    plan) : >"$words" ;;
    quantity) words= ;;
    log) "$program" state --help | sed -n 's/^ *02:30 //p' | tr ' ' '\n' | sort -u >"$words" ;;
    *) { { "$program" schema event; "$program" schema catalog; } | grep -o '"[A-Za-z][A-Za-z0-9_-]*"' | tr -d '"'
         sed -n 's/^  \([a-z0-9-]*\):.*/\1/p' tests/cases/catalog/*.yaml templates/*.yaml; } | sort -u >"$words" ;;
  esac
  case $target in
    event | whole) for f in tests/cases/*/event.yaml tests/cases/faults/*/event.yaml; do cp "$f" "$seeds/$(printf '%s' "$f" | tr / -)"; done ;;
    job) cp tests/data/events/*.yaml templates/starter.yaml "$seeds/" ;;
    catalog) cp tests/cases/catalog/*.yaml "$seeds/"; cat tests/cases/catalog/*.yaml >"$seeds/all.yaml" ;;
    plan)
      cp tests/data/plan-good.json "$seeds/"
      for f in tests/data/events/*.yaml; do
        "$program" quote "$f" -q --json "$seeds/$(basename "$f" .yaml).json" >/dev/null
      done
      for f in tests/cases/*/event.yaml; do
        "$program" quote "$f" -q --catalogs tests/cases/catalog --json "$seeds/$(basename "$(dirname "$f")").json" >/dev/null 2>&1
      done
      cat "$seeds"/*.json | grep -o '"[A-Za-z][A-Za-z0-9_/-]*"' | tr -d '"' | sort -u >"$words" ;;
    log) "$program" state --help | sed -n 's/^ *\(02:30 .*\)/\1/p' >"$seeds/table"; cp tests/fuzz/corpus/log/* "$seeds/" ;;
    quantity)
      i=0
      for text in '8 lb 4 oz' '6 h 30 min' '12.5 %' '250 F' '4.20 per lb' '36 in' '1.5 m2' '3 per h' '1 1/2 lb' '2027-06-12' '17:30' '12 each' '0.001 MJ/kg'; do
        printf 'a%s' "$text" >"$seeds/$i"
        i=$((i + 1))
      done ;;
  esac
  case $target in whole) long=20000 time=60 ;; log) long=4000 time=20 ;; quantity) long=100 time=5 ;; plan) long=70000 time=20 ;; *) long=20000 time=20 ;; esac
  for build in fast fuzz; do
    log=$dir/$target-$build.log
    FUZZ_TARGET=$target FUZZ_WORDS=$words ASAN_OPTIONS=allocator_may_return_null=1 nice -n 15 "$dir/$build" "$dir/corpus/$target" "$seeds" \
      tests/fuzz/corpus/"$target" -max_total_time=$((seconds / 2)) -runs="${RUNS:--1}" -max_len=$long -timeout=$time -rss_limit_mb=2048 \
      -artifact_prefix="$dir/finds/$target-" -print_final_stats=1 >"$log" 2>&1 || { status=1; tail -n 40 "$log"; }
    echo "$target ($build): $(grep -a 'stat::number_of_executed_units' "$log"), $(grep -a -o 'cov: [0-9]* ft: [0-9]* corp: [0-9/a-zA-Z]*' "$log" | tail -n 1)"
  done
done
exit $status
