#!/bin/sh
# A new sheet is one edit, and so is a line more on a sheet, a line or a column more on a page, a line of the cost, a column of what is
# bought: each is written into one file of src/sheet, compiled and linked with the library as it is, and must then stand in every file of the pack that lays it out.
# sheets.sh BUILD_DIR
set -u
cd "$(dirname "$0")/../.." || exit 1
build=$1
tmp=$(mktemp -d "${TMPDIR:-/tmp}/pw-sheets-XXXXXX") || exit 1
trap 'rm -rf "$tmp"' EXIT
flags="-std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude -Isrc -Wall -Werror $(pkg-config --cflags yaml-0.1 jansson xlsxwriter)"
libs="-lglpk $(pkg-config --libs yaml-0.1 jansson xlsxwriter) -lz -lpthread -lm"

verdict() { # verdict NAME: from $bad
  if [ "$bad" = 0 ]; then echo "ok sheets $1"; else echo "FAIL sheets $1"; fi
  bad=0
}
bad=0

# files PACK WORDS: which files of the pack say so; the workbook's words are in its list of strings
files() {
  mkdir -p "$tmp/book" && unzip -qo "$1/workbook.xlsx" -d "$tmp/book" || echo damaged
  for f in "$1"/*; do
    case $f in
      *.xlsx) grep -q "$2" "$tmp/book/xl/sharedStrings.xml" && echo "${f##*/}" ;;
      *) grep -q "$2" "$f" && echo "${f##*/}" ;;
    esac
  done | tr '\n' ' '
}

everywhere='crew.html shift-sheet.txt workbook.xlsx '
# program NAME FILE.c [EVENT]: the program with that file in the place of the library's own, and a pack it writes
program() {
  ${CC:-cc} $flags -c -o "$tmp/$1.o" "$tmp/$2" && ${CC:-cc} -o "$tmp/$1" "$build"/src/cli/*.o "$tmp/$1.o" "$build/libpitwright.a" $libs &&
    "$tmp/$1" plan "${3:-events/garden-lunch.yaml}" -q -o "$tmp/$1.pack" --catalogs templates
}

# a sheet: a maker and its row in the list, in one file
awk '/^static const struct/ && !done { done = 1
  print "static void watch(struct pw_sheet_pen *pen)\n{"
  print "  static const struct pw_sheet_column columns[] = {{PW_CELL_TICK, \"\", 3}, {PW_CELL_ACT, \"Lantern\", 0}, {PW_CELL_AMOUNT, \"Oil\", 9}};"
  print "  pw_pen_sheet(pen, PW_SHEET_OTHER, \"watch\", \"Night watch\", NULL);"
  print "  pw_pen_table(pen, NULL, NULL, columns, 3);"
  print "  pw_pen_row(pen, \"n1\", PW_SHEET_NO_TIME);\n  pw_pen_open(pen);\n  pw_pen_cell(pen, \"Lantern at the woodpile\");\n  pw_pen_cell(pen, \"7.5 gills\");\n}\n" }
  { print }
  /pw_sheet_serving}/ { print "    {\"watch\", \"Night watch\", watch}," }' src/sheet/sheets.c >"$tmp/sheets.c"
program sheet sheets.c || bad=1
for words in 'Night watch' 'Lantern at the woodpile'; do
  found=$(files "$tmp/sheet.pack" "$words")
  [ "$found" = "$everywhere" ] || { echo "\"$words\" stands in: $found"; bad=1; }
done
grep -q 'name="Night watch"' "$tmp/book/xl/workbook.xml" || { echo 'the workbook has no tab of it'; bad=1; }
grep -q '0.0&quot; gills&quot;' "$tmp/book/xl/styles.xml" && grep -q '<v>7.5</v>' "$tmp"/book/xl/worksheets/*.xml ||
  { echo 'the amount is no number with its unit'; bad=1; }
verdict a-new-sheet-is-one-edit

# a line: one row more in a maker
sed 's|^  truck_row(pen, "x3".*|&\n  truck_row(pen, "x4", "Lantern at the woodpile", NULL, "7.5 gills");|' src/sheet/sheet_kitchen.c >"$tmp/kitchen.c"
cmp -s src/sheet/sheet_kitchen.c "$tmp/kitchen.c" && { echo 'nothing was added'; bad=1; }
program line kitchen.c || bad=1
found=$(files "$tmp/line.pack" 'Lantern at the woodpile')
[ "$found" = "$everywhere" ] || { echo "the line stands in: $found"; bad=1; }
verdict a-new-line-is-one-edit

# a page: a line more, and a column more of a table
sed 's|^  pw_page_money(s, 2, "To spend", .*|&\n  pw_page_money(s, 2, "Lantern at the woodpile", 750);|' src/sheet/page/page_buy.c >"$tmp/buy.c"
sed -e 's|{1, 23, PW_CELL_WHERE, ""}|{1, 10, PW_CELL_WHERE, ""}, {1, 12, PW_CELL_NOTE, "lantern"}|' -e 's|"", where);|"", where, "7.5 gills");|' \
  src/sheet/page/page_plan.c >"$tmp/plan.c"
program page buy.c || bad=1
[ "$(files "$tmp/page.pack" 'Lantern at the woodpile *€7.50')" = 'purchases.txt ' ] || { echo 'the line does not stand in purchases.txt'; bad=1; }
program column plan.c || bad=1
grep -q '^ *lantern$' "$tmp/column.pack/plan.txt" && grep -q ' 7.5 gills$' "$tmp/column.pack/plan.txt" || { echo 'the column does not stand in plan.txt'; bad=1; }
verdict a-line-and-a-column-of-a-page-are-one-edit

# a line of the cost: a row of LINES in one file, with the formula behind it
sed 's|^    {"Travel", "Travel", CENTS_OF(travel), .*|&\n    {"Lantern at the woodpile", "Lantern", CENTS_OF(travel), "=7*[digits]"},|' src/sheet/costs.c >"$tmp/costs.c"
program cost costs.c || bad=1
found=$(files "$tmp/cost.pack" 'Lantern at the woodpile')
[ "$found" = 'costs.txt workbook.xlsx ' ] || { echo "the cost stands in: $found"; bad=1; }
grep -q '<f>7\*2</f>' "$tmp"/book/xl/worksheets/*.xml || { echo 'the workbook has no formula of it'; bad=1; }
verdict a-line-of-the-cost-is-one-edit

# what a choice of the customer costs, and what could be left out: each once, in costs.c
sed -e 's|pw_cell_words(what), pw_cell_value((double)o->|pw_cell_words("Lantern chosen"), pw_cell_value((double)o->|' \
  -e 's|pw_cell_words(what), pw_cell_value((double)(before|pw_cell_words("Lantern spared"), pw_cell_value((double)(before|' src/sheet/costs.c >"$tmp/choices.c"
cp events/house*.yaml tests/data/choices.yaml "$tmp"
program choices choices.c "$tmp/choices.yaml" || bad=1
for words in 'Lantern chosen' 'Lantern spared'; do
  found=$(files "$tmp/choices.pack" "$words")
  [ "$found" = 'costs.txt workbook.xlsx ' ] || { echo "\"$words\" stands in: $found"; bad=1; }
done
verdict choices-and-what-is-left-out-are-made-once

# a column of what is bought: its name and width in each form, and its cell, in one file
sed -e 's|^  C_CURRENCY,|&\n  C_LANTERN,|' \
  -e 's|^    \[C_CURRENCY\] = {.*|&\n    [C_LANTERN] = {PW_TABLE_WORDS, .page = {7, 1, 9, "lantern"}, .sheet = {5, 9, PW_CELL_NOTE, "Lantern"}, .grid = {16, "Lantern", 9}, .list = {14, "lantern"}},|' \
  -e 's|page = {4, 1, 28}|page = {4, 1, 18}|' -e 's|^      \[C_CURRENCY\] = pw_cell_words(ev->currency)};|      [C_LANTERN] = pw_cell_words("woodpile"),\n&|' \
  src/sheet/goods.c >"$tmp/goods.c"
program bought goods.c || bad=1
for words in 'woodpile' '[Ll]antern'; do
  found=$(files "$tmp/bought.pack" "$words")
  [ "$found" = 'crew.html purchases.csv purchases.txt shift-sheet.txt workbook.xlsx ' ] || { echo "\"$words\" stands in: $found"; bad=1; }
done
verdict a-column-of-what-is-bought-is-one-edit

# and a pack without them does not say so
"$build/pitwright" plan events/garden-lunch.yaml -q -o "$tmp/none" --catalogs templates || bad=1
[ -z "$(files "$tmp/none" '[Ll]antern\|woodpile')" ] || bad=1
verdict neither-stands-there-before
