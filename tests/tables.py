"""Reads a workbook by what ECMA-376 says of table parts (18.5.1), merged cells (18.3.1.55) and filters (18.3.2), with nothing of
ours in between, and prints what an office program would offer to repair.  tables.py WORKBOOK [PLAN_JSON]"""
import json, re, sys, zipfile
import xml.etree.ElementTree as tree

MAIN = '{http://schemas.openxmlformats.org/spreadsheetml/2006/main}'
book = zipfile.ZipFile(sys.argv[1])
faults = []


def part(name):
    return tree.fromstring(book.read(name))


def cell(ref):
    letters, digits = re.fullmatch(r'\$?([A-Z]+)\$?(\d+)', ref).groups()
    col = 0
    for letter in letters:
        col = col * 26 + ord(letter) - 64
    return col, int(digits)


def area(ref):
    first, _, last = ref.partition(':')
    return cell(first) + cell(last or first)


def meet(a, b):
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


strings = [''.join(t.text or '' for t in si.iter(MAIN + 't')) for si in part('xl/sharedStrings.xml')]
names = [s.get('name') for s in part('xl/workbook.xml').iter(MAIN + 'sheet')]
wraps = []
for xf in part('xl/styles.xml').find(MAIN + 'cellXfs'):
    alignment = xf.find(MAIN + 'alignment')
    wraps.append(alignment is not None and (alignment.get('wrapText') == '1' or alignment.get('shrinkToFit') == '1'))
drawn = set()
ids, called, n_tables, n_kinds, n_filters = set(), set(), 0, 0, 0
for i, sheet_name in enumerate(names, 1):
    sheet = part('xl/worksheets/sheet%d.xml' % i)
    text = {c.get('r'): strings[int(c.find(MAIN + 'v').text)] for c in sheet.iter(MAIN + 'c') if c.get('t') == 's'}
    inside = area(sheet.find(MAIN + 'dimension').get('ref'))
    merged = [area(m.get('ref')) for m in sheet.iter(MAIN + 'mergeCell')]
    for k, m in enumerate(merged):
        faults += ['%s: merged cells overlap at %s' % (sheet_name, m) for other in merged[:k] if meet(m, other)]
    taken = [area(f.get('ref')) for f in sheet.findall(MAIN + 'autoFilter')]
    n_filters += len(taken)
    faults += ['%s: merged cells inside a filter' % sheet_name for m in merged for f in taken if meet(f, m)]
    rels = 'xl/worksheets/_rels/sheet%d.xml.rels' % i
    targets = [r.get('Target') for r in part(rels) if r.get('Type').endswith('/table')] if rels in book.namelist() else []
    for target in targets:
        table = part('xl/' + target.replace('../', ''))
        where = '%s, %s' % (sheet_name, table.get('displayName'))
        a = area(table.get('ref'))
        heads = [c.get('name') for c in table.iter(MAIN + 'tableColumn')]
        n_tables += 1
        if table.get('id') in ids or table.get('displayName').lower() in called:
            faults.append(where + ': id or name twice')
        ids.add(table.get('id'))
        called.add(table.get('displayName').lower())
        if len(heads) != a[2] - a[0] + 1 or len({h.lower() for h in heads}) != len(heads):
            faults.append('%s: columns %s' % (where, heads))
        shown = {cell(r): t for r, t in text.items()}
        faults += ['%s: column %r, cell %r' % (where, h, shown.get((a[0] + k, a[1]))) for k, h in enumerate(heads) if shown.get((a[0] + k, a[1])) != h]
        if a[3] <= a[1] or a[2] > inside[2] or a[3] > inside[3]:
            faults.append(where + ': no rows, or outside of the sheet')
        faults += ['%s: merged cells inside' % where for m in merged if meet(a, m)]
        faults += ['%s: meets another table or filter' % where for t in taken if meet(a, t)]
        taken.append(a)
    # A text wider than its column (about a character a unit of width, 18.3.1.13) is cut off by whatever stands to its right.
    wide = {}
    for c in sheet.iter(MAIN + 'col'):
        wide.update((k, float(c.get('width'))) for k in range(int(c.get('min')), min(int(c.get('max')), 60) + 1))
    filled = {cell(r) for r in text}
    for c in sheet.iter(MAIN + 'c'):
        at, words = cell(c.get('r')), text.get(c.get('r'), '')
        span = next((m for m in merged if m[0] <= at[0] <= m[2] and m[1] <= at[1] <= m[3]), at + at)
        room = sum(wide.get(k, 9) for k in range(span[0], span[2] + 1))
        if len(words) > 1.25 * room and not wraps[int(c.get('s') or 0)] and (span != at + at or (at[0] + 1, at[1]) in filled):
            faults.append('%s: %s is cut off: %r' % (sheet_name, c.get('r'), words[:60]))
    # A filter that stands on a word: rows with it are shown, rows without it hidden.
    for own in sheet.findall(MAIN + 'autoFilter'):
        first = area(own.get('ref'))
        for column in own.iter(MAIN + 'filterColumn'):
            words = [f.get('val') for f in column.iter(MAIN + 'filter')]
            for row in sheet.iter(MAIN + 'row'):
                at = {cell(c.get('r'))[0]: text.get(c.get('r'), '') for c in row}
                value = at.get(first[0] + int(column.get('colId')), '')
                if first[1] < int(row.get('r')) <= first[3]:
                    n_kinds += 1
                    if (value in words) == (row.get('hidden') == '1'):
                        faults.append('%s: row %s, %r' % (sheet_name, row.get('r'), value))
    if sheet_name == 'Rack maps':
        drawn = {w.split()[0] for w in text.values() if re.match(r'[A-Z]+\d+( |$)', w)}
# Every piece that lies on a rack of the plan beside it is drawn on a map, by its letters and number.
if len(sys.argv) > 2:
    loads = [l for l in json.load(open(sys.argv[2], encoding='utf-8'))['loads'] if l.get('rects')]
    pieces = {(l['lot'], k) for l in loads for k in l['piece_ids']}
    if len(drawn) != len(pieces):
        faults.append('Rack maps: %d pieces drawn, %d lie on racks' % (len(drawn), len(pieces)))
print('\n'.join(faults[:20] + ['%d tables, %d filters, %d filtered rows' % (n_tables, n_filters, n_kinds)]))
sys.exit(1 if faults or n_tables < 2 or n_tables + n_filters < 10 or n_kinds == 0 else 0)
