#!/bin/sh
# Runs the fuzzer: fuzz.sh DIR SECONDS TARGET...  The corpus grows in DIR/corpus; finds land in DIR/finds.  One process.
# Half of the time goes to the quick build, half to the one with the sanitizers, which begins with what the first kept.
set -u
dir=$1 seconds=$2
shift 2
mkdir -p "$dir/finds"
status=0
for target in "$@"; do
  seeds=$dir/seeds/$target
  mkdir -p "$dir/corpus/$target" "$seeds"
  case $target in
    event | whole) for f in tests/cases/*/event.yaml tests/cases/faults/*/event.yaml events/*.yaml templates/starter.yaml; do
      cp "$f" "$seeds/$(printf '%s' "$f" | tr / -)"; done ;;
    catalog) cp tests/cases/catalog/*.yaml "$seeds/"; cat tests/cases/catalog/*.yaml >"$seeds/all.yaml" ;;
    plan) cp tests/data/plan-good.json "$seeds/" ;;
    quantity)
      i=0
      for text in '8 lb 4 oz' '6 h 30 min' '12.5 %' '250 F' '4.20 per lb' '36 in' '1.5 m2' '3 per h' '1 1/2 lb' '2027-06-12' '17:30' '12 each' '0.001 MJ/kg'; do
        printf 'a%s' "$text" >"$seeds/$i"
        i=$((i + 1))
      done ;;
  esac
  case $target in whole) long=20000 time=60 ;; quantity) long=100 time=5 ;; *) long=20000 time=20 ;; esac
  for build in fast fuzz; do
    log=$dir/$target-$build.log
    FUZZ_TARGET=$target ASAN_OPTIONS=allocator_may_return_null=1 nice -n 15 "$dir/$build" "$dir/corpus/$target" "$seeds" \
      tests/fuzz/corpus/"$target" -max_total_time=$((seconds / 2)) -max_len=$long -timeout=$time -rss_limit_mb=2048 \
      -artifact_prefix="$dir/finds/$target-" -print_final_stats=1 >"$log" 2>&1 || { status=1; tail -n 40 "$log"; }
    echo "$target ($build): $(grep -a 'stat::number_of_executed_units' "$log"), $(grep -a -o 'cov: [0-9]* ft: [0-9]* corp: [0-9/a-zA-Z]*' "$log" | tail -n 1)"
  done
done
exit $status
