#!/bin/sh
# README.md's picture is the timeline of the demo's crew file: picture.sh PROGRAM [update]
# The mark before the picture holds the checksum of the markup it was taken of; without "update" it is only compared.
# "update" takes the picture anew, with Chromium.
set -eu
cd "$(dirname "$0")/.."
program=$1
picture=events/family-party.png
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$program" plan events/family-party.yaml -o "$work/pack" --quiet
awk '/<section id="day-1"/ { is_in = 1 } is_in { print } is_in && /<\/section>/ { exit }' "$work/pack/crew.html" > "$work/timeline"
[ -s "$work/timeline" ] || { echo "the crew file has no timeline"; exit 1; }
mark="<!-- picture of $(sha256sum < "$work/timeline" | cut -c 1-16) -->"
if [ "${2:-}" != update ]; then
  grep -q -x -F -e "$mark" README.md || { echo "README.md's picture shows another plan; take it anew: sh tests/picture.sh $program update"; exit 1; }
  exit 0
fi
{ sed '/<body/q' "$work/pack/crew.html"; cat "$work/timeline"; echo '</body></html>'; } > "$work/sheet.html"
cat > "$work/measure.html" <<HTML
<!DOCTYPE html><iframe id="f" src="file://$work/sheet.html" style="width:960px;height:100px;border:0"></iframe>
<script>onload=()=>{const d=document.getElementById("f").contentDocument.documentElement;document.body.append("tall "+d.scrollHeight)}</script>
HTML
browser() {
  HOME=$work chromium --headless --no-sandbox --disable-gpu --disable-background-networking --no-first-run --hide-scrollbars \
    --allow-file-access-from-files "--user-data-dir=$work/browser" "$@" 2>"$work/err"
}
tall=$(browser --virtual-time-budget=4000 --dump-dom "file://$work/measure.html" | sed -n 's/.*tall \([0-9][0-9]*\).*/\1/p')
browser "--window-size=960,$tall" "--screenshot=$work/new.png" "file://$work/sheet.html"
mv "$work/new.png" "$picture"
sed "s,^<!-- picture of .* -->\$,$mark," README.md > "$work/readme"
cat "$work/readme" > README.md
