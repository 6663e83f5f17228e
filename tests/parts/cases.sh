#!/bin/sh
# Whole-run cases: cases.sh BUILD_DIR.  A folder tests/cases/[faults/]NAME/ with event.yaml is a case; it is run against the
# small catalog beside it (tests/cases/catalog), with its house.yaml, if any, and the files of its own catalog/ on top ("x.yaml.absent" takes x.yaml away).
#   error.txt   `check` must end with status 3 and say exactly these lines (source lines and carets are not compared)
#   expect.txt  `check` must end with status 0, print exactly this, and warn of exactly the lines of warn.txt (if any)
# Inputs that no text file should hold (huge, deep, broken bytes) are made here.
set -u
build=$(cd "$1" && pwd)
cases=$(cd tests/cases && pwd)
work=$build/cases
rm -rf "$work"
mkdir -p "$work"

# lay NAME [CASE_DIR]: a fresh working folder with the catalogs
lay() {
  mkdir -p "$work/$1"
  cp -r "$cases/catalog" "$work/$1/catalog"
  [ $# -gt 1 ] && [ -d "$2/catalog" ] || return 0
  for f in "$2"/catalog/*; do
    case $f in
      *.absent) rm "$work/$1/catalog/$(basename "$f" .absent)" ;;
      *) cp "$f" "$work/$1/catalog/" ;;
    esac
  done
}

# run NAME EXPECTED_FILE STATUS STREAM: runs check in the working folder and compares
run() {
  (cd "$work/$1" && "$build/pitwright" check --catalogs catalog event.yaml >out.txt 2>err.txt </dev/null; echo $? >status.txt)
  grep -E '^[^ ].*: (error|warning): ' "$work/$1/err.txt" >"$work/$1/said.txt"
  got=$work/$1/said.txt
  if [ "$4" = out ]; then
    got=$work/$1/out.txt
    [ -f "$work/$1/warn.txt" ] || : >"$work/$1/warn.txt"
    diff -u "$work/$1/warn.txt" "$work/$1/said.txt" || { echo "FAIL case $1"; return; }
  fi
  if [ "$(cat "$work/$1/status.txt")" != "$3" ]; then
    echo "status $(cat "$work/$1/status.txt"), wanted $3"; head -n 5 "$work/$1/err.txt"; echo "FAIL case $1"
  elif ! diff -u "$2" "$got"; then
    echo "FAIL case $1"
  else
    echo "ok case $1"
  fi
}

for dir in "$cases"/*/ "$cases"/faults/*/; do
  dir=${dir%/}
  name=${dir#"$cases"/}
  [ -f "$dir/event.yaml" ] || continue
  lay "$name" "$dir"
  cp "$dir/event.yaml" "$work/$name/"
  [ -f "$dir/house.yaml" ] && cp "$dir/house.yaml" "$work/$name/"
  [ -f "$dir/warn.txt" ] && cp "$dir/warn.txt" "$work/$name/"
  if [ -f "$dir/error.txt" ]; then run "$name" "$dir/error.txt" 3 err
  elif [ -f "$dir/expect.txt" ]; then run "$name" "$dir/expect.txt" 0 out
  else echo "FAIL case $name (neither error.txt nor expect.txt)"; fi
done

# made NAME MESSAGE: event.yaml lies in the working folder; one message is expected
made() {
  printf 'event.yaml:%s\n' "$2" >"$work/$1/wanted.txt"
  run "$1" "$work/$1/wanted.txt" 3 err
}
# head_of NAME: opens a case with the first line of an event
head_of() { lay "made/$1"; printf '# a line before\nevent: {name: ' >"$work/made/$1/event.yaml"; }

head_of huge
head -c 1100000 /dev/zero | tr '\0' 'x' >>"$work/made/huge/event.yaml"
made made/huge ' error: the file is larger than 1 MiB: this is not an event or a catalog'

head_of deep
head -c 60000 /dev/zero | tr '\0' '[' >>"$work/made/deep/event.yaml"
made made/deep '2:77: error: more than 64 levels of lists and maps inside each other'

head_of utf8
printf 'caf\351}\n' >>"$work/made/utf8/event.yaml"
made made/utf8 '2:18: error: the byte 0xE9 is not UTF-8 text: save the file as UTF-8'

head_of overlong
printf 'caf\300\257}\n' >>"$work/made/overlong/event.yaml"
made made/overlong '2:18: error: the byte 0xC0 is not UTF-8 text: save the file as UTF-8'

head_of surrogate
printf 'x\355\240\200}\n' >>"$work/made/surrogate/event.yaml"
made made/surrogate '2:16: error: the byte 0xED is not UTF-8 text: save the file as UTF-8'

head_of zero-byte
printf '\303\251t\303\251 \000}\n' >>"$work/made/zero-byte/event.yaml"
made made/zero-byte '2:19: error: a control character (U+0000) is hidden here: delete it'

head_of escape-code
printf 'a \033[2J}\n' >>"$work/made/escape-code/event.yaml"
made made/escape-code '2:17: error: a control character (U+001B) is hidden here: delete it'

head_of c1-control
printf 'a \302\205}\n' >>"$work/made/c1-control/event.yaml"
made made/c1-control '2:17: error: a control character (U+0085) is hidden here: delete it'

head_of bidi
printf 'a \342\200\256b}\n' >>"$work/made/bidi/event.yaml"
made made/bidi '2:17: error: a character that changes the writing direction (U+202E) is hidden here: delete it'

head_of lone-return
printf 'a\rb}\n' >>"$work/made/lone-return/event.yaml"
made made/lone-return '2:16: error: a control character (U+000D) is hidden here: delete it'

lay made/utf16
printf '\377\376e\000v\000' >"$work/made/utf16/event.yaml"
made made/utf16 '1:1: error: the file is UTF-16: save it as UTF-8'

# A byte-order mark and DOS line ends are no fault: the same event reads as before.
lay made/dos
{ printf '\357\273\277'; sed 's/$/\r/' "$cases/plain/event.yaml"; } >"$work/made/dos/event.yaml"
run made/dos "$cases/plain/expect.txt" 0 out

# Every fault of one run is counted, fifty are shown.
lay made/many
{ cat "$cases/plain/event.yaml"; i=0; while [ $i -lt 70 ]; do echo "extra$i: 1"; i=$((i + 1)); done; } >"$work/made/many/event.yaml"
(cd "$work/made/many" && "$build/pitwright" check --catalogs catalog event.yaml >out.txt 2>err.txt </dev/null)
if [ "$(grep -c ': error: ' "$work/made/many/err.txt")" = 50 ] && grep -q '20 more' "$work/made/many/err.txt"; then echo "ok case made/many"
else tail -n 3 "$work/made/many/err.txt"; echo "FAIL case made/many"; fi

# A folder, a missing file and an unreadable name are input/output faults: status 5.
lay made/io
for what in . nowhere.yaml; do
  (cd "$work/made/io" && "$build/pitwright" check --catalogs catalog "$what" >out.txt 2>err.txt </dev/null; echo $? >status.txt)
  if [ "$(cat "$work/made/io/status.txt")" = 5 ] && grep -q 'error: the file cannot be read: ' "$work/made/io/err.txt"; then echo "ok case made/io $what"
  else cat "$work/made/io/status.txt" "$work/made/io/err.txt"; echo "FAIL case made/io $what"; fi
done
