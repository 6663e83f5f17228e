#!/bin/sh
# Hostile input from end to end: names that try to be formulas, markup, calendar properties or folders, through every
# command; bombs, giants and abysses, which end at once with a message.  hostile.sh BUILD_DIR
set -u
. "$(dirname "$0")/begin"
event=tests/hostile/event.yaml
out=$tmp/out
mkdir -p "$out"
why=
expect() { # a condition and what it means
  what=$1
  shift
  "$@" || why="$why  $what
"
}
verdict() {
  if [ -z "$why" ]; then echo "ok hostile $1"; else printf '%s' "$why"; echo "FAIL hostile $1"; fi
  why=
}
esc=$(printf '\033')

# ---- every command on the hostile event -------------------------------------------------------------------------

call() { # name, wanted status, arguments
  name=$1 wanted=$2
  shift 2
  "$pw" "$@" >"$out/$name.stdout" 2>"$out/$name.stderr" </dev/null
  status=$?
  expect "$name: status $status, wanted $wanted: $(head -n 2 "$out/$name.stderr")" [ "$status" = "$wanted" ]
}
call check 0 check $event
call quote 0 quote $event
call compare 0 quote $event $event
call buy 0 buy $event -u us
call plan 0 plan $event -o "$out/pack"
call plan-two 1 plan $event $event -o "$out/two" # twice the food on one small pit: short, told, written all the same
call plan-json 0 plan $event --json "$out/plan.json"
call explain 0 explain $event
call verify 0 verify "$out/pack/plan.json"
call curve 0 curve pork-butt --pit offset --event $event
# faults that quote hostile words, and hostile words on the command line
sed "s/- slaw/- 'HOSTILE1 =1 <hostile>'/; s/^site: {place/site: {'%s%n=HOSTILE': 1, place/" $event >"$tmp/faulty.yaml"
call faults 3 check "$tmp/faulty.yaml"
call no-file 5 check "$(printf '%s/a\033]0;x\007\nb\302\233' "$tmp")"
call no-command 2 "$(printf 'pl\033[2Jan')"
call no-option 2 plan $event "$(printf -- '--o\033[2J')"
call no-cut 3 curve "$(printf 'x\033[2J')" --pit offset
# a plan file somebody edited: control characters in it as JSON escapes
sed 's/HOSTILE7/HOSTILE7\\u001b]0;x\\u0007\\u202e\\ufffe/g; s/"tax_cents": *[0-9]*/"tax_cents": 1/' "$out/pack/plan.json" >"$tmp/edited.json"
call verify-edited 4 verify "$tmp/edited.json"
expect "really edited" grep -q 'u001b' "$tmp/edited.json"
verdict every-command

for python in python3 /usr/bin/python3; do
  command -v "$python" >/dev/null && { "$python" tests/hostile.py "$out"; break; }
done
expect "no file beside the pack" [ "$(cd "$tmp" && echo *)" = "edited.json faulty.yaml out" ]
expect "nor elsewhere" [ ! -e "$tmp/HOSTILE13" ]
verdict nothing-outside-the-folder

# ---- ways out of the folder, and characters no workbook can hold ---------------------------------------------------

refused() { # name, status, pattern, arguments
  name=$1 wanted=$2 pattern=$3
  shift 3
  (ulimit -t 20; exec "$pw" "$@") >"$tmp/o" 2>"$tmp/e" </dev/null
  status=$?
  expect "$name: status $status, wanted $wanted" [ "$status" = "$wanted" ]
  expect "$name says $pattern, not $(head -c 200 "$tmp/e")" grep -q -e "$pattern" "$tmp/e"
  expect "$name: no escape sequence" sh -c '! grep -q "$1" "$2"' sh "$esc" "$tmp/e"
}
for zone in ../../../../etc/passwd /etc/passwd Europe/../../../../etc/passwd . Europe "Europe/Berlin/"; do
  sed "s|zone: Europe/Berlin|zone: $zone|" $event >"$tmp/zone.yaml"
  refused "zone $zone" 3 'zone.*\(no time zone\|cannot be read\)' check "$tmp/zone.yaml"
done
verdict no-file-by-a-zone-name

for code in 'ufffe' 'uffff' 'u0001' 'x1b' 'u0085' 'u202e' 'u2028' 'ud800' 'U0000fffe'; do
  sed "s|name: Table.*||; s|- HOSTILE3||; s|  customer: .*|  customer: \"a\\\\${code}b\"|" $event >"$tmp/code.yaml"
  "$pw" plan "$tmp/code.yaml" -o "$tmp/code" >"$tmp/o" 2>"$tmp/e" </dev/null
  status=$?
  if [ "$status" = 0 ]; then
    expect "\\$code in a plan: every part of the workbook is XML" sh -c 'mkdir -p "$1/x" && cd "$1/x" && unzip -qo ../code/workbook.xlsx && find . -name "*.xml" | xargs xmllint --noout' sh "$tmp"
  else
    expect "\\$code: status $status, wanted 3" [ "$status" = 3 ]
  fi
done
verdict xml-illegal-characters

# ---- bombs, giants, abysses -------------------------------------------------------------------------------------------

printf 'a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b]\nd: [*c,*c,*c,*c,*c,*c,*c,*c,*c]\n' >"$tmp/bomb.yaml"
refused alias-bomb 3 'anchor\|alias' check "$tmp/bomb.yaml"
if truncate -s 1G "$tmp/giant" 2>/dev/null; then
  (ulimit -v 400000 2>/dev/null; case $1 in *san*) ulimit -v unlimited ;; esac
    refused giant-event 3 'larger than 1 MiB' check "$tmp/giant"
    refused giant-plan 3 'larger\|MiB' verify "$tmp/giant"
    printf '%s' "$why") >"$tmp/w"
  why=$why$(cat "$tmp/w")
fi
awk 'BEGIN { for (i = 0; i < 10000; i++) printf "["; }' >"$tmp/deep.yaml"
refused deep-event 3 'levels' check "$tmp/deep.yaml"
awk 'BEGIN { for (i = 0; i < 10000; i++) { printf "%*sa:\n", i % 900, "" } }' >"$tmp/deep2.yaml"
refused deep-blocks 3 'error' check "$tmp/deep2.yaml"
awk 'BEGIN { for (i = 0; i < 10000; i++) printf "["; for (i = 0; i < 10000; i++) printf "]" }' >"$tmp/deep.json"
refused deep-plan 3 'error' verify "$tmp/deep.json"
head -c 900000 /dev/zero | tr '\0' '"' >"$tmp/quotes.yaml"
refused quotes 3 'error' check "$tmp/quotes.yaml"
verdict bombs-giants-abysses
