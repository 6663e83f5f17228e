"""What hostile names became in everything the program wrote: hostile.py FOLDER (outputs, among them stdout and stderr).
Prints one "ok hostile NAME" or "FAIL hostile NAME" per kind of file."""
import base64, csv, glob, hashlib, io, json, os, re, sys, zipfile
import xml.etree.ElementTree as ET
from html.parser import HTMLParser

folder = sys.argv[1]
files = sorted(glob.glob(folder + "/**/*", recursive=True))
files = [f for f in files if os.path.isfile(f)]
of = lambda *ends: [f for f in files if f.endswith(ends)]


def say(name, wrong, n):
    if n == 0:
        wrong = ["nothing to look at"]
    for line in wrong[:10]:
        print("  " + line)
    print(("FAIL" if wrong else "ok") + " hostile " + name)


# Nothing a terminal would obey, nothing that turns the writing round.
CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff]")
wrong, texts = [], [f for f in files if not f.endswith(".xlsx")]
for f in texts:
    text = open(f, "rb").read().decode("utf-8")
    wrong += ["%s: %r" % (f, text[max(0, m.start() - 20):m.end() + 20]) for m in CONTROL.finditer(text)]
    if not f.endswith((".ics", ".csv")) and "\r" in text:
        wrong.append(f + ": a carriage return")
say("no-control-characters", wrong, len(texts))
names = set(re.findall("HOSTILE[0-9]+", "".join(open(f, encoding="utf-8").read() for f in texts)))
say("names-are-kept", ["HOSTILE%d is nowhere" % i for i in range(1, 22) if "HOSTILE%d" % i not in names and i not in (8,)], len(texts))

# Fields of a table: a program that opens it must not take one for a formula.
wrong = []
for f in of(".csv"):
    rows = list(csv.reader(open(f, encoding="utf-8-sig", newline="")))
    wrong += ["%s: rows of different length" % f] if len({len(r) for r in rows}) > 1 else []
    wrong += ["%s: %r" % (f, c) for r in rows for c in r
              if c[:1] in ("=", "+", "-", "@", "\t", "\r") and not re.fullmatch(r"-?[0-9.]+", c)]
say("csv-fields-are-no-formulas", wrong, len(of(".csv")))


class Page(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.wrong, self.open, self.data, self.script = [], [], "", None

    def handle_starttag(self, tag, attrs):
        bad = [k for k, v in attrs if k.startswith("on") or "hostile" in k.lower() or (v or "").lower().startswith("javascript:")]
        self.script = "" if tag == "script" else self.script
        if tag in ("hostile", "iframe", "object", "embed", "base", "link") or bad or (tag == "script" and attrs):
            self.wrong.append("<%s> %s" % (tag, bad))
        for k, v in attrs:
            if k in ("href", "src") and not (v or "").startswith(("#", "data:")):
                self.wrong.append("<%s %s=%s>" % (tag, k, v))

    def handle_endtag(self, tag):
        if tag == "script":  # the page's own: the one whose digest its policy names
            digest = base64.b64encode(hashlib.sha256(self.script.encode()).digest()).decode()
            if "script-src 'sha256-%s'" % digest not in self.text:
                self.wrong.append("<script> that the policy does not name: %.60r" % self.script)
            self.script = None

    def handle_data(self, data):
        if self.script is not None:
            self.script += data
        else:
            self.data += data


wrong = []
for f in of(".html"):
    page = Page()
    page.text = open(f, encoding="utf-8").read()
    page.feed(page.text)
    wrong += ["%s: %s" % (f, w) for w in page.wrong]
    if "HOSTILE" not in page.data:
        wrong.append(f + ": the names are not in its text")
say("html-and-svg-escape-everything", wrong, len(of(".html")))

wrong = []
for f in of(".ics"):
    raw = open(f, "rb").read()
    lines = re.sub(rb"\r\n[ \t]", b"", raw).split(b"\r\n")
    wrong += ["%s: %r" % (f, l[:60]) for l in lines if l and not re.match(rb"[A-Z-]+[;:]", l)]
    wrong += ["%s: %r" % (f, l[:60]) for l in lines if l.startswith((b"X-HOSTILE", b"ATTENDEE", b"ATTACH"))]
    stack = []
    for l in lines:
        if l.startswith(b"BEGIN:"):
            stack.append(l[6:])
        elif l.startswith(b"END:") and (not stack or stack.pop() != l[4:]):
            wrong.append(f + ": blocks do not match")
    if stack or any(len(l) > 75 for l in raw.split(b"\r\n")):
        wrong.append(f + ": open block or long line")
say("calendars-keep-their-shape", wrong, len(of(".ics")))

wrong = []
for f in of(".json"):
    try:
        json.load(open(f, encoding="utf-8"))
    except ValueError as e:
        wrong.append("%s: %s" % (f, e))
say("json-is-json", wrong, len(of(".json")))

S = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
wrong, cells = [], 0
for f in of(".xlsx"):
    with zipfile.ZipFile(f) as z:
        for name in z.namelist():
            try:
                tree = ET.fromstring(z.read(name))
            except ET.ParseError as e:
                wrong.append("%s %s: %s" % (f, name, e))
                continue
            wrong += ["%s %s: leads outside" % (f, name) for r in tree.iter() if r.get("TargetMode") == "External"]
            for c in tree.iter(S + "c"):
                formula = c.find(S + "f")
                cells += 1
                if formula is not None and re.search("HOSTILE|HYPERLINK|cmd", formula.text or ""):
                    wrong.append("%s %s %s: %s" % (f, name, c.get("r"), formula.text[:80]))
        text = z.read("xl/sharedStrings.xml").decode() if "xl/sharedStrings.xml" in z.namelist() else ""
        if "HOSTILE" not in text:
            wrong.append(f + ": the names are not among its texts")
say("workbook-cells-stay-text", wrong, cells)

allowed = re.compile(r"[A-Za-z0-9._-]+")
say("file-names-stay-in-the-folder", [f for f in files if not allowed.fullmatch(os.path.basename(f))], len(files))
