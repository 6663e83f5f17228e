#!/bin/sh
# Plans the demo event into out/demo; the program lists what it wrote: demo.sh PROGRAM
set -eu
cd "$(dirname "$0")/.."
program=$1
mkdir -p out
"$program" plan events/family-party.yaml -o out/demo
