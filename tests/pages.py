"""How full the pages of a printed pack are, by the words of its PDF alone (pdftotext -bbox of poppler).
pages.py PDF MOST [EMPTY]: prints what is wrong; nothing, when there are at most MOST pages, at most EMPTY of them (none) less than a
quarter full, no word beyond the edge, and the head of a table is not the last line of a page."""
import re, subprocess, sys

FOOT_PT = 42.5  # 15 mm: the margin with the page number
TOP_PT = 28.3  # 10 mm
HEADS = {"Time", "Goods", "Dish", "Fire", "Lot", "Meat", "Food", "Inside"}  # first word of a table's head

pages, faults, empty = [], [], []
for line in subprocess.run(["pdftotext", "-bbox", sys.argv[1], "-"], check=True, capture_output=True, text=True).stdout.splitlines():
    page = re.search(r'<page width="([0-9.]+)" height="([0-9.]+)"', line)
    word = re.search(r'<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">(.*)</word>', line)
    if page:
        pages.append((float(page[1]), float(page[2]), []))
    elif word:
        pages[-1][2].append(tuple(float(word[i]) for i in range(1, 5)) + (word[5],))
for n, (wide, high, words) in enumerate(pages, 1):
    body = [w for w in words if w[3] < high - FOOT_PT]
    low = max((w[3] for w in body), default=0)
    full = (low - TOP_PT) / (high - FOOT_PT - TOP_PT)
    if full < 0.25:
        empty.append("page %d is %.0f %% full" % (n, 100 * full))
    faults += ["page %d: %r reaches beyond the edge" % (n, w[4]) for w in words if w[2] > wide - 20 or w[0] < 20]
    last = sorted((w for w in body if w[3] > low - 4), key=lambda w: w[0])
    if last and last[0][4] in HEADS and low > high / 2 and len(last) < 12 and not any(re.match(r"\d", w[4]) for w in last):
        faults.append("page %d ends with the head of a table: %s" % (n, " ".join(w[4] for w in last)))
if len(empty) > (int(sys.argv[3]) if len(sys.argv) > 3 else 0):
    faults += empty
if not pages:
    faults.append("no page")
if len(pages) > int(sys.argv[2]):
    faults.append("%d pages, %s at most" % (len(pages), sys.argv[2]))
print("\n".join(faults), end="\n" if faults else "")
sys.exit(1 if faults else 0)
