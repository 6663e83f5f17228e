"""Rows of every file of a pack, as a reader meets them: (section, cells).  Python's standard library only."""
import csv
import html.parser
import io
import os
import re
import xml.etree.ElementTree as ET
import zipfile

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"  # ECMA-376, part 1, 18.3


class Page(html.parser.HTMLParser):
    """Table rows, list items, paragraphs; drawings are left out."""

    def __init__(self):
        super().__init__()
        self.rows, self.section, self.skip = [], "", 0
        self.head = self.cells = self.cell = self.text = None

    def handle_starttag(self, tag, attrs):
        if tag in ("style", "script", "title", "svg"):
            self.skip += 1
        elif tag == "tr":
            self.cells = []
        elif tag in ("td", "th"):
            self.cell = ""
        elif tag in ("h1", "h2", "h3"):
            self.head = ""
        elif tag in ("p", "li", "dt"):
            self.text = ""

    def handle_endtag(self, tag):
        if tag in ("style", "script", "title", "svg"):
            self.skip -= 1
        elif tag in ("td", "th") and self.cells is not None:
            self.cells.append(" ".join((self.cell or "").split()))
            self.cell = None
        elif tag == "tr" and self.cells is not None:
            self.rows.append((self.section, self.cells))
            self.cells = None
        elif tag in ("h1", "h2", "h3") and self.head is not None:
            self.section = " ".join(self.head.split())
            self.rows.append((self.section, [self.section]))
            self.head = None
        elif tag == "dt":
            self.text = (self.text or "") + "\0"
        elif tag in ("p", "li", "dd") and self.text is not None:
            self.rows.append((self.section, [" ".join(c.split()) for c in self.text.split("\0")]))
            self.text = None

    def handle_data(self, data):
        if self.skip:
            return
        if self.cell is not None:
            self.cell += data
        elif self.head is not None:
            self.head += data
        elif self.text is not None:
            self.text += data


def page_rows(text):
    page = Page()
    page.feed(text)
    return page.rows


def text_rows(text):
    out, section = [], ""
    for line in text.split("\n"):
        head = re.match(r"(\S.*?) -{3,}$", line)
        if head:
            section = head[1]
            out.append((section, [section]))
            continue
        cells = [c for c in re.split(r"\s{2,}", line.strip()) if c]
        if cells:
            out.append((section, cells))
    return out


def column(ref):
    n = 0
    for letter in re.match(r"[A-Z]+", ref)[0]:
        n = n * 26 + ord(letter) - 64
    return n - 1


def book_rows(path):
    """Cells stand in their columns; numbers as the file has them."""
    book, out, shared = zipfile.ZipFile(path), [], []
    if "xl/sharedStrings.xml" in book.namelist():
        for item in ET.fromstring(book.read("xl/sharedStrings.xml")).findall(MAIN + "si"):
            shared.append("".join(t.text or "" for t in item.iter(MAIN + "t")))
    for k, sheet in enumerate(ET.fromstring(book.read("xl/workbook.xml")).iter(MAIN + "sheet")):
        for row in ET.fromstring(book.read("xl/worksheets/sheet%d.xml" % (k + 1))).iter(MAIN + "row"):
            cells = []
            for cell in row.findall(MAIN + "c"):
                value = cell.find(MAIN + "v")
                text = value.text if value is not None and value.text else ""
                if cell.get("t") == "s":
                    text = shared[int(text)]
                elif cell.get("t") == "inlineStr":
                    text = "".join(t.text or "" for t in cell.iter(MAIN + "t"))
                at = column(cell.get("r"))
                cells += [""] * (at + 1 - len(cells))
                cells[at] = text
            if any(cells):
                out.append((sheet.get("name"), cells))
    return out


def calendar_rows(text):
    """Unfolded as RFC 5545, 3.1 says; one row an event."""
    out, event = [], None
    for line in text.replace("\r\n ", "").replace("\r", "").split("\n"):
        if line == "BEGIN:VEVENT":
            event = []
        elif line == "END:VEVENT":
            out.append(("event", event))
            event = None
        elif event is not None:
            event.append(re.sub(r"\\([,;\\])", r"\1", line).replace("\\n", " "))
    return out


def pack_rows(folder):
    out = {}
    for name in sorted(os.listdir(folder)):
        path = os.path.join(folder, name)
        if re.fullmatch(r"plan(-\d+)?\.json|files\.txt", name):
            continue
        if name.endswith(".xlsx"):
            out[name] = book_rows(path)
            continue
        with open(path, encoding="utf-8", newline="") as file:
            text = file.read()
        if name.endswith(".html"):
            out[name] = page_rows(text)
        elif name.endswith(".ics"):
            out[name] = calendar_rows(text)
        elif name.endswith(".csv"):
            out[name] = [("", row) for row in csv.reader(io.StringIO(text))]
        else:
            out[name] = text_rows(text)
    return out


def goes_on(tasks, t):
    """Of tasks of plan.json: back to the guests without anything in between, which the line before on the person's sheet says."""
    mine = sorted((x for x in tasks if x["person"] == t["person"] and x["kind"] != "feed"), key=lambda x: x["at_min"])
    before = mine[mine.index(t) - 1] if t["kind"] == "serve" and mine.index(t) > 0 else None
    return before and before["kind"] == "serve" and before["service"] == t["service"] and before["at_min"] + before["minutes"] >= t["at_min"]
