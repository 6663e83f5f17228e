"""Letters on a rack's drawing never lie over each other.  rack_labels.py CREW_HTML: prints the pairs that do.
Width of a letter is taken as 0.6 of its height: what a condensed bold letter is wide."""
import re, sys

EM, HIGH = 0.6, 0.7
bad, n = [], 0
for svg in re.findall(r'<svg class="rackmap".*?</svg>', open(sys.argv[1]).read(), re.S):
    title, boxes = re.search(r"<title>(.*?)</title>", svg)[1], []
    for size, x, y, text in re.findall(r'<text class="mark [a-z]*" font-size="([0-9.]+)" x="([-0-9.]+)" y="([-0-9.]+)">([^<]*)<', svg):
        size, x, y = float(size), float(x), float(y)
        wide = EM * size * len(text)
        boxes.append((x - wide / 2, x + wide / 2, y - HIGH * size, y, text))
    n += len(boxes)
    for i, a in enumerate(boxes):
        for b in boxes[:i]:
            if a[0] < b[1] and b[0] < a[1] and a[2] < b[3] and b[2] < a[3]:
                bad.append("%s: %s over %s" % (title, a[4], b[4]))
if n == 0:
    bad.append("no letter on any rack")
print("\n".join(bad), end="\n" if bad else "")
sys.exit(1 if bad else 0)
