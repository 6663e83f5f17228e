#!/bin/sh
# Replays what the fuzzer found worth keeping, and every fault it ever found: fuzz.sh BUILD_DIR
set -u
cd "$(dirname "$0")/../.." || exit 1
variant=$(basename "$1")
make -s VARIANT="$variant" "build/$variant/fuzz/replay" || exit 1
if said=$("build/$variant/fuzz/replay" tests/fuzz/corpus/*/* 2>&1); then echo "ok fuzz replay: $(printf '%s\n' "$said" | tail -n 1)"
else printf '%s\n' "$said" | tail -n 20; echo "FAIL fuzz replay"; fi
