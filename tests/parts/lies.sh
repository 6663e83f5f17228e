#!/bin/sh
# Lies that hang together, each told of two example plans (of a third, what they give no occasion to): the judge finds every one.  lies.sh BUILD_DIR
set -u
. "$(dirname "$0")/begin"
plans=
for event in family-party lakeside-wedding county-fair; do
  "$build/pitwright" plan "$here/events/$event.yaml" --json "$tmp/$event.json" >/dev/null 2>"$tmp/why" || cat "$tmp/why"
  plans="$plans $tmp/$event.json"
done
# shellcheck disable=SC2086
if python3 "$here/tests/lies.py" "$build/pitwright" $plans >"$tmp/why" 2>&1; then echo "ok lies $(tail -n 1 "$tmp/why")"
else sed 's/^/  /' "$tmp/why"; echo "FAIL lies that-hang-together"; fi
