#!/bin/sh
# Every seventh number and list entry of a small plan changed: what the judge lets pass is on its list.  edits.sh BUILD_DIR
set -u
. "$(dirname "$0")/begin"
if [ ! -x "$build/edits" ]; then
  echo "SKIPPED edits: not built"
elif "$build/pitwright" plan events/garden-lunch.yaml --json "$tmp/plan.json" >/dev/null 2>"$tmp/why" && "$build/edits" -s 7 "$tmp/plan.json" >"$tmp/why" 2>&1; then
  echo "ok edits every-seventh"
else
  sed 's/^/  /' "$tmp/why"
  echo "FAIL edits every-seventh"
fi
