#!/bin/sh
# The night of README.md: the wedding planned, its log of the day, the slip and what stands behind it: day.sh PROGRAM
set -eu
cd "$(dirname "$0")/.."
program=$1
mkdir -p out
"$program" plan events/lakeside-wedding.yaml -o out/wedding --quiet
echo '$ cat events/lakeside-wedding.log'
cat events/lakeside-wedding.log
echo '$ pitwright mend out/wedding events/lakeside-wedding.log -o out/wedding-2'
"$program" mend out/wedding events/lakeside-wedding.log -o out/wedding-2
