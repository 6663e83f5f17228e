"""The quote says the same in customer.html, quote.txt and the workbook's page: who and where, menu with allergens, what is included,
price, payments, other head counts, notes, who signs, in the same order.

same_offer.py PACK [--self]
Each is cut into its parts, and each part into words; what a form needs and another has not (heads of columns, lines to sign on)
is left out.  The price's numbers are compared as numbers, since the workbook works them out in cells of their own.
--self drops each word of one file in turn and counts how many of the losses are seen."""
import os
import re
import sys

from pack_rows import book_rows, page_rows, text_rows

PARTS = ("Menu", "What is included", "Price", "To pay", "Other choices", "If more or fewer come", "Please note", "Accepted")
HEADS = (["Guests", "Per guest, before tax", "Total"], ["Name", "Signature and date"])


def is_part(words):
    return words in PARTS or words.startswith("What is not included")


def number(word):
    bare = re.sub(r"^[^\w-]*(-?)[^\w]*", r"\1", word).replace(",", "").rstrip(".:;")
    return "%.2f" % float(bare) if re.fullmatch(r"-?\d+(\.\d+)?", bare) else word


def words_of(cells):
    text = " ".join(cells)
    text = re.sub(r"_{5,}|Signature and date:|   Date ", " ", text).replace("(", "").replace(")", "").replace(" contains ", " ")
    return [number(w.rstrip(":")) for w in text.split() if w != "Date" or "Date of" in text]


def parts(rows, is_page=False):
    """Words by part; what stands before the first of them under ""."""
    out, part = {"": []}, ""
    for cells in rows:
        cells = [c.strip() for c in cells if c is not None]
        if cells and is_part(" ".join(c for c in cells if c)):
            part = " ".join(c for c in cells if c)
            out[part] = []
        elif cells not in HEADS and [c for c in cells if c] not in HEADS:
            out[part] += words_of(cells)
    return out


def numbers(words):
    return sorted(set(w for w in words if re.fullmatch(r"-?\d+\.\d\d", w)))


def differences(files):
    page, bad = files["customer.html"], []
    for name, other in files.items():
        if list(page) != list(other):
            bad.append("%s has the parts %s, customer.html %s" % (name, list(other), list(page)))
            continue
        for part in page:
            if part == "Price":
                said = lambda words: [w for w in words if w.isalpha() and w.lower() in SENTENCES]
                same = numbers(page[part]) == numbers(other[part]) and said(page[part]) == said(other[part])
            elif part == "":
                facts = page[part][page[part].index("Number") :] if "Number" in page[part] else ["no number"]
                same = " ".join(facts) in " ".join(other[part]) and all(w in other[part] for w in page[part] if w != "Quote")
            else:
                same = page[part] == other[part]
            if not same:
                bad.append("%s, %s: %s\n  customer.html: %s" % (name, part or "head", " ".join(other[part]), " ".join(page[part])))
    return bad


pack = sys.argv[1]
read = lambda name: open(os.path.join(pack, name), encoding="utf-8").read()
files = {
    "customer.html": parts([c for _, c in page_rows(read("customer.html"))]),
    "quote.txt": parts([c for _, c in text_rows(read("quote.txt"))]),
    "workbook.xlsx": parts([c for sheet, c in book_rows(os.path.join(pack, "workbook.xlsx")) if sheet == "Quote"]),
}
# words of the sentences under "Price", which stand there besides labels and amounts
SENTENCES = set("each guest counts once at every meal they come to largest the other meals are included in price by agreed since then".split())
SENTENCES -= {"at", "guest", "price", "guests"}
bad = differences(files)
print("\n".join(bad), end="\n" if bad else "")
if "--self" in sys.argv and not bad:
    seen = n = 0
    for name in files:
        for part in files[name]:
            for i in range(len(files[name][part])):
                cut = {k: dict(v) for k, v in files.items()}
                cut[name][part] = files[name][part][:i] + files[name][part][i + 1 :]
                n += 1
                seen += bool(differences(cut))
    print("%d of %d lost words seen" % (seen, n))
    bad = [] if n > 200 and seen >= 0.9 * n else ["too few"]
sys.exit(1 if bad else 0)
