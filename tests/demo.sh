#!/bin/sh
# Plans the demo event into out/demo and shows what was written: demo.sh PROGRAM
set -eu
cd "$(dirname "$0")/.."
program=$1
mkdir -p out
"$program" plan events/family-party.yaml -o out/demo
echo
ls -l out/demo | awk 'NR > 1 { printf "%9d bytes  out/demo/%s\n", $5, $NF }'
