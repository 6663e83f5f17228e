"""Each number of plan.json against every place of the pack that shows it.

same_numbers.py PACK us|si [--told] [--self]
PACK is what `plan EVENT -o PACK` wrote.  A table says of each field which file shows it, in which section and row, and how it
is written there; every such row must be there and show it.  --told lists the numeric fields that no place shows and the sections
with most numbers that no field explains.  --self changes each number that is compared, one at a time, in the rows read from
the pack, and counts how many of the changes are seen.
"""
import collections
import datetime
import json
import math
import os
import re
import sys
import zoneinfo

from pack_rows import goes_on, pack_rows

LB_KG, GAL_L = 0.45359237, 3.785411784  # NIST Special Publication 811 (2008), appendix B.8
SIGNS = {"USD": "$", "EUR": "\u20ac", "GBP": "\u00a3"}


def pans_out(plan, service, line, pans, w):
    """When which pans go out: by the waves of the cut, else by quarters of the guests, each out before they come."""
    start, length = service["at_min"], service["length_min"]
    shares = service.get("arrivals") or [1.0]
    last = max(i for i, s in enumerate(shares) if s > 0) + 1
    end = start + math.ceil(length * last / len(shares) - 1e-9)
    waves = sorted((l["by_min"], l["pieces"]) for l in plan["lots"]
                   if (l["service"], l["cut"]) == (service["id"], line["cut"]) and l.get("waves", 1) > 1)

    def come(minute):
        if minute >= length:
            return 1
        step = length / len(shares)
        return sum(s * min(1, max(0, (minute - i * step) / step)) for i, s in enumerate(shares))

    at, quarter_at = [], 0
    for q in range(4):
        while q and start + quarter_at + 5 < end and come(quarter_at + 5) <= q / 4 + 1e-9:
            quarter_at += 5
        at.append((start + quarter_at, (q + 1) / 4))
    if waves:
        all_pieces, seen, at = sum(n for _, n in waves), 0, []
        for by, n in waves:
            seen += n
            at.append((by, seen / all_pieces))
    out, dealt = [], 0
    for minute, share in at:
        upto = math.ceil(pans * share - 1e-9)
        if upto > dealt and out and out[-1][0] == minute:
            out[-1] = (minute, out[-1][1] + upto - dealt)
        elif upto > dealt:
            out.append((minute, upto - dealt))
        dealt = upto
    words = str(out[0][1]) if out else ""
    for k, (minute, n) in enumerate(out[1:], 1):
        words += ", %s" % w.clock(minute) if k > 1 and n == out[k - 1][1] else "; +%d %s" % (n, w.clock(minute))
    return words


def half_up(value, decimals=0):
    scale = 10**decimals
    return math.copysign(math.floor(abs(value) * scale * (1 + 1e-11) + 0.5), value) / scale


def number(value, decimals):
    text = "%.*f" % (decimals, abs(half_up(value, decimals)))
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    whole, _, tail = text.partition(".")
    whole = "{:,}".format(int(whole))
    return ("-" if value < 0 and float(text) else "") + whole + ("." + tail if tail else "")


class Words:
    """How a value is written for a reader."""

    def __init__(self, plan, units):
        self.us = units == "us"
        self.sign = SIGNS[plan["quote"]["currency"]]
        self.zone = zoneinfo.ZoneInfo(plan["event"]["zone"])
        day = datetime.date.fromisoformat(plan["event"]["date"])
        self.start = datetime.datetime(day.year, day.month, day.day, tzinfo=self.zone).astimezone(datetime.timezone.utc)

    def local(self, at_min):
        return (self.start + datetime.timedelta(minutes=at_min)).astimezone(self.zone)

    def when(self, at_min):
        return self.local(at_min).strftime("%a %H:%M")

    def clock(self, at_min):
        return self.local(at_min).strftime("%H:%M")

    def day(self, at_min):
        t = self.local(at_min)
        return "%s %d %s" % (t.strftime("%a"), t.day, t.strftime("%b"))

    def iso(self, at_min):
        return self.local(at_min).isoformat()

    def date(self, text):
        d = datetime.date.fromisoformat(text)
        return "%s %d %s %d" % (d.strftime("%a"), d.day, d.strftime("%b"), d.year)

    def money(self, cents):
        return ("-" if cents < 0 else "") + self.sign + "{:,.2f}".format(abs(cents) / 100)

    def percent(self, frac):
        return number(frac * 100, 1) + " %"

    def temp(self, c):
        return number(c * 1.8 + 32 if self.us else c, 0)

    def fuel(self, kg):
        whole = number(kg / LB_KG, 0) + " lb" if self.us else number(kg, 0) + " kg"
        return whole if kg >= (2 * LB_KG if self.us else 10) else self.weight(kg)

    def fuel(self, kg):  # wood and charcoal are not weighed to the ounce
        if not self.us and kg >= 10:
            return number(kg, 0) + " kg"
        if self.us and kg / LB_KG >= 2:
            return number(kg / LB_KG, 0) + " lb"
        return self.weight(kg)

    def weight(self, kg):
        if not self.us:
            if kg < 0.9995:
                return number(kg * 1000, 1 if kg < 0.01 else 0) + " g"
            return number(kg, 1 if kg < 99.95 else 0) + " kg"
        if half_up(kg / LB_KG * 16, 1) < 16:
            return number(kg / LB_KG * 16, 1) + " oz"
        oz = int(half_up(kg / LB_KG * 16))
        if oz >= 320:
            return number(kg / LB_KG, 0) + " lb"
        return "%d lb" % (oz // 16) + (" %d oz" % (oz % 16) if oz % 16 else "")

    def volume(self, litres):
        if not self.us:
            return number(litres * 1000, 0) + " mL" if litres < 0.9995 else number(litres, 1 if litres < 99.95 else 0) + " L"
        gallons = litres / GAL_L
        if gallons >= 0.995:
            return number(gallons, 1 if gallons < 99.95 else 0) + " gal"
        return number(gallons * 4, 1) + " qt" if gallons * 4 >= 0.995 else number(gallons * 128, 1) + " fl oz"

    def amount(self, unit, value):
        return self.weight(value) if unit == "kg" else self.volume(value) if unit == "L" else number(value, 1)

    def sold(self, unit, value):
        return value / LB_KG if unit == "kg" and self.us else value / GAL_L if unit == "L" and self.us else value

    def minutes(self, m):
        d, h, m = m // 1440, m // 60 % 24, m % 60
        parts = ["%d d" % d] * (d > 0) + ["%d h" % h] * (h > 0) + ["%d min" % m] * (m > 0 or (d == 0 and h == 0))
        return " ".join(parts)


def guests(n):
    return "1 guest" if n == 1 else "%d guests" % n


def token(text):
    """The text as a whole word: no digit, comma or point goes on before or after it."""
    return re.compile(r"(?<![\d])(?<!\d[.,])" + re.escape(text) + r"(?!\d|[.,]\d)")


class Sheets:
    """The pack's rows, and what was compared."""

    def __init__(self, rows):
        self.rows = rows
        self.faults = []
        self.seen = collections.defaultdict(list)  # (file, row) -> [(cell or None, text or number, path)]
        self.fields = collections.Counter()

    def section(self, file, section):
        return [(i, c) for i, (s, c) in enumerate(self.rows.get(file, [])) if section in s]

    def rows_with(self, file, section, anchors):
        return [(i, c) for i, c in self.section(file, section) if all(a in " | ".join(c) for a in anchors)]

    def show(self, path, text, file, section, *anchors, some=False, cell=None):
        """Rows of the section with all anchors show the text: each of them, or with `some` at least one."""
        self.fields[re.sub(r"\[\d+\]", "[]", path)] += 1
        rows = self.rows_with(file, section, anchors)
        good = [(i, c) for i, c in rows if shows(c, text, cell)]
        if not rows:
            self.faults.append("%s = %r: %s, \"%s\": no row with %s" % (path, text, file, section, list(anchors)))
        elif not good or (not some and len(good) < len(rows)):
            bad = next(c for i, c in rows if (i, c) not in good)
            self.faults.append("%s = %r: %s, \"%s\" has %s" % (path, text, file, section, bad))
        for i, _ in good[:1] if some else good:
            self.seen[(file, i)].append((cell, text, path))


def shows(cells, text, cell):
    if cell is not None:
        if cell >= len(cells):
            return False
        if isinstance(text, str):
            return cells[cell] == text
        try:
            return abs(float(cells[cell]) - text) <= 1e-6 * max(1, abs(text))
        except ValueError:
            return False
    if isinstance(text, str):
        return token(text).search(" | ".join(cells)) is not None
    return False


BOOK = "workbook.xlsx"


def valued(text):
    """How a workbook has it: one number, where one number and a unit are all there is."""
    return float(text.split(" ")[0].replace(",", "")) if re.fullmatch(r"[\d,.]+( \D+)?", text) else text


def column(s, tab, first, head):
    """The cell of a tab's rows under that head, in the table whose first head is known."""
    heads = [c for sec, c in s.rows[BOOK] if sec == tab and c[0] == first and head in c]
    return heads[0].index(head) if heads else 99


def quote_checks(s, w, plan):
    q = plan["quote"]
    for name, key in (("Food", "food_cents"), ("Disposables, supplies, deliveries", "supplies_cents"),
                      ("Wood, charcoal, ovens", "fuel_cents"), ("Crew", "labour_cents"), ("Rental", "rental_cents"),
                      ("Travel", "travel_cents"), ("Overhead", "overhead_cents")):
        path = "quote." + key
        rows = [i for i, c in s.section("costs.txt", "") if c[0] == name]
        sheet = "costs.txt"
        for i in rows[:1]:
            s.fields[path] += 1
            if not shows(s.rows[sheet][i][1], w.money(q[key]), None):
                s.faults.append("%s: %s has %s" % (path, sheet, s.rows[sheet][i][1]))
            s.seen[(sheet, i)].append((None, w.money(q[key]), path))
        if not rows:
            s.faults.append("%s: costs.txt has no line \"%s\"" % (path, name))
        book = [i for i, c in s.section(BOOK, "Costs") if c[0] == name]
        for i in book[:1]:
            s.fields[path] += 1
            if not shows(s.rows[BOOK][i][1], q[key] / 100, 1):
                s.faults.append("%s: workbook has %s" % (path, s.rows[BOOK][i][1]))
            s.seen[(BOOK, i)].append((1, q[key] / 100, path))
        if not book:
            s.faults.append("%s: the workbook has no line \"%s\"" % (path, name))
    s.show("quote.cost_cents", w.money(q["cost_cents"]), "costs.txt", "", "All of it", "100 %")
    s.show("quote.contribution_cents", w.money(q["contribution_cents"]), "costs.txt", "Margin", "Contribution")
    profit = q["net_cents"] - q["cost_cents"]
    s.show("quote.margin_frac", w.percent(q["margin_frac"]), "costs.txt", "Margin", "of the price", w.money(profit))
    s.show("quote.net_cents", w.money(profit), "costs.txt", "Margin", "of the price", w.percent(q["margin_frac"]))
    s.show("quote.food_share_frac", w.percent(q["food_share_frac"]), "costs.txt", "Margin", "Food is")
    for side in ("fewer", "more"):
        t = q[side]
        left = w.money(t["net_cents"] - t["cost_cents"])
        s.show("quote.%s.margin_frac" % side, w.percent(t["margin_frac"]), "costs.txt", "Margin", "If %d come" % t["guests"])
        s.show("quote.%s.net_cents" % side, left, "costs.txt", "Margin", "If %d come" % t["guests"])
        s.show("quote.%s.net_cents" % side, (t["net_cents"] - t["cost_cents"]) / 100, BOOK, "Costs",
               "tenth %s, %s" % (side, guests(t["guests"])), cell=1)
        s.show("quote.%s.margin_frac" % side, t["margin_frac"], BOOK, "Costs", "tenth %s, " % side, cell=2)
    if q.get("pays_from_guests"):
        s.show("quote.pays_from_guests", guests(q["pays_from_guests"]), "costs.txt", "Margin", "makes a profit from")
        s.show("quote.pays_from_guests", guests(q["pays_from_guests"]), BOOK, "Costs", "makes a profit from")
    for i, t in enumerate(q["services"]):
        name = next(v["name"] for v in plan["services"] if v["id"] == t["service"])
        path, row = "quote.services[%d]." % i, "%s, %s" % (name, guests(t["guests"]))
        s.show(path + "guests", guests(t["guests"]), "costs.txt", "Cost", row)
        s.show(path + "food_cents", w.money(t["food_cents"]), "costs.txt", "Cost", row)
        s.show(path + "other_cents", w.money(t["food_cents"] + t["other_cents"]), "costs.txt", "Cost", row)
    for i, t in enumerate(q["roles"]):
        path = "quote.roles[%d]." % i
        s.show(path + "cents", w.money(t["cents"]), "costs.txt", "Crew by role", t["role"], some=True)
        s.show(path + "paid_h", number(t["paid_h"], 1), "costs.txt", "Crew by role", t["role"], w.money(t["cents"]))
        s.show(path + "task_h", number(t["task_h"], 1), "costs.txt", "Crew by role", t["role"], w.money(t["cents"]))
    for i, t in enumerate(plan["demand"]):
        d = q["dishes"][i]
        path, name = "quote.dishes[%d]." % i, s.dish[i]
        for row, food in ((i, w.money(d["food_cents"])),):
            lines = [(k, c) for k, c in s.section("costs.txt", "Food by dish") if len(c) >= 3 and c[-1].startswith(("$", w.sign))]
            if row >= len(lines):
                s.faults.append("%s: costs.txt lacks the line of %s" % (path, name))
                continue
            k, cells = lines[row]
            for key, text in (("portions", number(math.floor(d["portions"] + 1e-9), 0)), ("food_cents", food),
                              ("portion_cents", w.money(int(half_up(d["portion_cents"]))))):
                s.fields["quote.dishes[]." + key] += 1
                if not shows(cells, text, None) or not cells[0].startswith(name[:20]):
                    s.faults.append("%s%s = %r: costs.txt has %s" % (path, key, text, cells))
                s.seen[("costs.txt", k)].append((None, text, path + key))
        label = "%s, %s" % (name, next(v["name"] for v in plan["services"] if v["id"] == t["service"]))
        s.show(path + "food_cents", d["food_cents"] / 100, BOOK, "Costs", label, cell=1)
        s.show(path + "portions", math.floor(d["portions"] + 1e-9), BOOK, "Costs", label, cell=2)
        s.show(path + "portion_cents", d["portion_cents"] / 100, BOOK, "Costs", label, cell=3)


def offer_checks(s, w, plan):
    """What the customer reads, three times: text, page, workbook."""
    q = plan["quote"]
    if not q.get("is_least_fee"):
        s.show("quote.price_cents", w.money(q["price_cents"]), "quote.txt", "Price", guests(q["guests"]) + " at ")
        s.show("quote.per_guest_cents", w.money(q["per_guest_cents"]), "quote.txt", "Price", guests(q["guests"]) + " at ")
        s.show("quote.per_guest_cents", w.money(q["per_guest_cents"]), "customer.html", "Price", guests(q["guests"]) + " at ")
        s.show("quote.per_guest_cents", q["per_guest_cents"] / 100, BOOK, "Quote", "Price per guest", cell=2)
    if q["tax_cents"]:
        s.show("quote.tax_cents", w.money(q["tax_cents"]), "quote.txt", "Price", "Tax of")
        s.show("quote.taxable_cents", w.money(q["taxable_cents"]), "quote.txt", "Price", "Tax of")
        s.show("quote.tax_frac", number(q["tax_frac"] * 100, 3) + " %", "quote.txt", "Price", "Tax of")
        s.show("quote.tax_cents", w.money(q["tax_cents"]), "customer.html", "Price", "Tax of")
        s.show("quote.taxable_cents", w.money(q["taxable_cents"]), "customer.html", "Price", "Tax of")
        s.show("quote.tax_cents", q["tax_cents"] / 100, BOOK, "Quote", "Tax, ", cell=2)
    s.show("quote.total_cents", w.money(q["total_cents"]), "quote.txt", "Price", "Total")
    s.show("quote.total_cents", w.money(q["total_cents"]), "customer.html", "Price", "Total")
    total = [i for i, c in s.section(BOOK, "Quote") if c[0] == "Total"]
    s.show("quote.total_cents", q["total_cents"] / 100, BOOK, "Quote", "Total | ", some=True, cell=2)
    s.show("quote.total_cents", w.money(q["total_cents"]), BOOK, "Plan check", "Price as planned")
    del total
    if q["discount_cents"]:
        s.show("quote.discount_cents", w.money(-q["discount_cents"]), "quote.txt", "Price", "Discount of")
        s.show("quote.net_cents", w.money(q["net_cents"]), "quote.txt", "Price", "Net")
        s.show("quote.discount_cents", w.money(-q["discount_cents"]), "customer.html", "Price", "Discount of")
        s.show("quote.net_cents", w.money(q["net_cents"]), "customer.html", "Price", "Net")
    meals = {v["id"]: v["name"] + ": " if len(plan["services"]) > 1 else "" for v in plan["services"]}
    names = {(d["service"], d["dish"]): s.dish[i] for i, d in enumerate(plan["demand"])}
    for i, o in enumerate(q.get("options", ())):
        path, more = "quote.options[%d]." % i, o["more_per_guest_cents"]
        of = "instead of " + names[o["service"], o["instead_of"]] if "instead_of" in o else "in addition"
        if o["missed_pieces"]:
            continue
        told = of + (": at the same price" if more == 0 else ": %s a guest %s" % (w.money(abs(more)), "less" if more < 0 else "more"))
        row = [(c[0], c[0][:-len(told)].strip()) for _, c in s.section("quote.txt", "Other choices") if c[0].endswith(told)]
        label = row[0][1] + " " + of if len(row) == 1 else path
        for file, section in (("quote.txt", "Other choices"), ("customer.html", "Other choices"), (BOOK, "Quote")):
            s.show(path + "more_per_guest_cents", told[len(of) + 2:], file, section, label)
        for k, key in enumerate(("cost_cents", "price_cents", "base_cost_cents", "base_price_cents", "more_per_guest_cents"), 1):
            s.show(path + key, o[key] / 100, BOOK, "Costs", label + " | ", cell=k)
            if k < 5:
                s.show(path + key, w.money(o[key]), "costs.txt", "Choices", label[:20], some=True)
    before = q["cost_cents"]
    for i, o in enumerate(q.get("leave_out", ())):
        path, name = "quote.leave_out[%d]." % i, meals[o["service"]] + names[o["service"], o["dish"]]
        said = name[:20]  # what is longer goes on in the next line
        s.show(path + "cost_cents", w.money(before - o["cost_cents"]), "costs.txt", "Margin", said)
        s.show(path + "cost_cents", w.money(o["cost_cents"]), "costs.txt", "Margin", said)
        s.show(path + "price_cents", w.money(o["price_cents"]), "costs.txt", "Margin", said)
        s.show(path + "margin_frac", number(o["margin_frac"] * 100, 1) + " %", "costs.txt", "Margin", said)
        for k, value in enumerate(((before - o["cost_cents"]) / 100, o["cost_cents"] / 100, o["price_cents"] / 100, o["margin_frac"]), 1):
            s.show(path + ("cost_cents", "cost_cents", "price_cents", "margin_frac")[k - 1], value, BOOK, "Costs", name + " | ", cell=k)
        before = o["cost_cents"]
    for i, due in enumerate(q["dues"]):
        path = "quote.dues[%d]." % i
        day = w.date(due["date"]) if due["date"] else due["name"]
        s.show(path + "cents", w.money(due["cents"]), "quote.txt", "To pay", due["name"])
        s.show(path + "date", day, "quote.txt", "To pay", due["name"])
        s.show(path + "cents", w.money(due["cents"]), "customer.html", "To pay", due["name"])
        s.show(path + "date", day, "customer.html", "To pay", due["name"])
        s.show(path + "cents", due["cents"] / 100, BOOK, "Quote", due["name"], cell=2)
    for i, r in enumerate(q["ladder"]):
        path, n = "quote.ladder[%d]." % i, str(r["guests"])
        note = ", on request" if r["missed"] else ", this quote" if r["guests"] == q["guests"] else ""
        for file, section, head in ((f, "If more", guests(r["guests"]) + note) for f in ("quote.txt", "customer.html")):
            rows = [(k, c) for k, c in s.section(file, section) if c[0] == head]
            for key in ("per_guest_cents", "total_cents"):
                s.fields["quote.ladder[]." + key] += 1
                if len(rows) != 1 or not shows(rows[0][1], w.money(r[key]), None):
                    s.faults.append("%s%s = %s: %s has %s" % (path, key, w.money(r[key]), file, rows))
                else:
                    s.seen[(file, rows[0][0])].append((None, w.money(r[key]), path + key))
        rows = [(k, c) for k, c in s.section("costs.txt", "Head counts") if c[0] == n]
        for key in ("cost_cents", "price_cents", "per_guest_cents"):
            s.fields["quote.ladder[]." + key] += 1
            if len(rows) != 1 or not shows(rows[0][1], w.money(r[key]), None):
                s.faults.append("%s%s = %s: costs.txt has %s" % (path, key, w.money(r[key]), rows))
            else:
                s.seen[("costs.txt", rows[0][0])].append((None, w.money(r[key]), path + key))
        for section, cells in (("Costs", ("cost_cents", "price_cents", "total_cents", "per_guest_cents")),
                               ("Quote", ("per_guest_cents", "total_cents"))):
            rows = [(k, c) for k, c in s.section(BOOK, section)
                    if c[0] in (n, n + note, guests(r["guests"]) + note) and len(c) > len(cells) and all(c[1:len(cells) + 1])]
            for k, key in enumerate(cells, 1):
                s.fields["quote.ladder[]." + key] += 1
                if len(rows) != 1 or not shows(rows[0][1], r[key] / 100, k):
                    s.faults.append("%s%s: workbook, %s has %s" % (path, key, section, rows))
                else:
                    s.seen[(BOOK, rows[0][0])].append((k, r[key] / 100, path + key))


def buying_checks(s, w, plan):
    first = {}
    for p in plan["purchases"]:
        first[p["supplier"]] = min(first.get(p["supplier"], 10**9), p["order_by_min"])
    for i, p in enumerate(plan["purchases"]):
        path, name = "purchases[%d]." % i, p["name"]
        if p["category"] == "fuel" and not [c for _, c in s.rows_with("purchases.csv", "", [name, p["supplier"]])]:
            continue
        lines = [(k, c) for k, c in s.section("purchases.csv", "")
                 if c[1] == name and c[2] == p["supplier"] and c[4] == p["pack"]]
        cells = {3: str(p["packs"]), 5: w.sold(p["unit"], p["amount"]), 7: str(p["pieces"]) if p["pieces"] else None,
                 8: "%.2f" % (p["cost_cents"] / 100), 10: w.iso(first[p["supplier"]]), 11: w.iso(p["deliver_min"])}
        keys = {3: "packs", 5: "amount", 7: "pieces", 8: "cost_cents", 10: "order_by_min", 11: "deliver_min"}
        fit = [(k, c) for k, c in lines if c[3] == cells[3] and c[8] == cells[8]] or lines
        for at, want in cells.items():
            if want is None:
                continue
            s.fields["purchases[]." + keys[at]] += 1
            if isinstance(want, str):
                ok = fit and fit[0][1][at] == want
            else:
                ok = fit and abs(float(fit[0][1][at] or 0) - want) <= 1e-5 * max(1, want)
            if not ok:
                s.faults.append("%s%s = %s: purchases.csv has %s" % (path, keys[at], want, fit))
            else:
                s.seen[("purchases.csv", fit[0][0])].append((at, want if isinstance(want, str) else float(fit[0][1][at]), path + keys[at]))
        amount, pack = w.amount(p["unit"], p["amount"]), several(p["pack"], p["packs"])
        s.show(path + "amount", amount, "purchases.txt", p["supplier"], pack[:8], name[:18], some=True)
        s.show(path + "cost_cents", w.money(p["cost_cents"]), "purchases.txt", p["supplier"], pack[:8], name[:18], amount, some=True)
        s.show(path + "packs", str(p["packs"]), "purchases.txt", p["supplier"], pack[:8], name[:18], amount, some=True)
        s.show(path + "order_by_min", w.day(first[p["supplier"]]), "purchases.txt", p["supplier"], "order by")
        s.show(path + "amount", amount, "crew.html", "Buying", name, pack, some=True)
        s.show(path + "packs", "%d %s" % (p["packs"], pack), "crew.html", "Buying", name, amount, some=True)
        s.show(path + "order_by_min", w.day(first[p["supplier"]]) + " " + w.clock(first[p["supplier"]]), "crew.html", "Buying",
               p["supplier"] + ": order by")
        s.show(path + "packs", float(p["packs"]), BOOK, "Purchases", name, p["supplier"], p["pack"], some=True, cell=5)
        s.show(path + "order_by_min", w.day(first[p["supplier"]]) + " " + w.clock(first[p["supplier"]]), BOOK, "Purchases",
               name, p["supplier"], cell=7)
        s.show(path + "deliver_min", w.day(p["deliver_min"]) + " " + w.clock(p["deliver_min"]), BOOK, "Purchases", name,
               p["supplier"], p["pack"], some=True, cell=8)
        s.show(path + "cost_cents", p["cost_cents"] / 100, BOOK, "Purchases", name, p["supplier"], p["pack"], some=True, cell=14)
    for i, o in enumerate(plan["orders"]):
        s.show("orders[%d].goods_cents" % i, w.money(o["goods_cents"] + o["delivery_cents"] + o["top_up_cents"]), "purchases.txt",
               o["supplier"], "order by")
    for i, f in enumerate(plan["fuels"]):
        path, buy = "fuels[%d]." % i, w.fuel(f["buy_kg"])
        bring = [c for _, c in s.rows_with("plan.txt", "Heat and fuel", ["Bring ", buy])]
        bring = [c for c in bring if w.money(f["cost_cents"]) in c] or bring  # two woods may weigh the same
        name = re.match(r"Bring (.*?):", bring[0][0])[1] if bring else "?"
        s.show(path + "buy_kg", buy, "plan.txt", "Heat and fuel", "Bring " + name)
        s.show(path + "cost_cents", w.money(f["cost_cents"]), "plan.txt", "Heat and fuel", "Bring " + name)
        s.show(path + "buy_kg", buy, "purchases.txt", "Wood and charcoal", name, w.money(f["cost_cents"]))
        s.show(path + "cost_cents", w.money(f["cost_cents"]), "purchases.txt", "Wood and charcoal", name, buy)
        s.show(path + "need_kg", w.weight(f["need_kg"]), "plan.txt", "Heat and fuel", "will burn", some=True)
        s.show(path + "buy_kg", buy, "crew.html", "Wood and charcoal", name)
        s.show(path + "buy_kg", buy, "crew.html", "Buying", name)
        s.show(path + "buy_kg", buy, BOOK, "Job", name + " | ", some=True)
        s.show(path + "buy_kg", "%g" % float("%.6g" % (f["buy_kg"] / LB_KG if w.us else f["buy_kg"])), "purchases.csv", "", name)
        s.show(path + "cost_cents", "%.2f" % (f["cost_cents"] / 100), "purchases.csv", "", name)
        if not f["is_charcoal"]:
            for file, section in (("plan.txt", "Heat and fuel"), ("purchases.txt", "Wood"), ("crew.html", "Wood and charcoal"), (BOOK, "Job")):
                s.show(path + "splits", "%d splits" % f["splits"], file, section, name, some=file == BOOK)


def cook_checks(s, w, plan):
    sol = plan["solution"]
    if sol["bound"] > 0 and sol["gap_frac"] < 1:
        text = {"cost": w.money(int(half_up(sol["cost"]))), "bound": w.money(math.floor(sol["bound"] + 1e-9)),
                "gap_frac": w.percent(math.ceil(sol["gap_frac"] * 1000 - 1e-9) / 1000)}
        whole = " ".join(" ".join(c) for _, c in s.section("plan.txt", "How good it is"))
        for key, want in text.items():
            s.fields["solution." + key] += 1
            rows = [(k, c) for k, c in s.section("plan.txt", "How good it is") if shows(c, want, None)]
            if not token(want).search(whole):
                s.faults.append("solution.%s = %s: not in plan.txt" % (key, want))
            for k, _ in rows[:1]:
                s.seen[("plan.txt", k)].append((None, want, "solution." + key))
        s.show("solution.cost", text["cost"], BOOK, "Plan check", "Cost of the allocation")
        s.show("solution.bound", text["bound"], BOOK, "Plan check", "Proved bound")
        s.show("solution.gap_frac", text["gap_frac"], BOOK, "Plan check", "Gap between")
    place = {z["id"]: next(r["pit"] for r in plan["racks"] if r["id"] == z["rack"]) for z in plan["zones"]}
    pits = {p["id"]: p["name"] for p in plan["pits"]}
    pits.update({f["id"]: f["name"] for f in plan["finishers"]})
    for i, load in enumerate(plan["loads"]):
        path = "loads[%d]." % i
        span = "%s-%s" % (w.when(load["start_min"]), w.clock(load["end_min"]))
        if w.local(load["start_min"]).date() != w.local(load["end_min"]).date():
            span = w.when(load["start_min"]) + "-" + w.when(load["end_min"])
        name = pits[place.get(load["place"], load["place"])]
        s.show(path + "start_min", span, "plan.txt", "Meat", load["stage"], name[:14], span)
        s.show(path + "pieces", str(load["pieces"]), "plan.txt", "Meat", load["stage"], name[:14], span, some=True)
    for i, b in enumerate(plan["burns"]):
        path, pit = "burns[%d]." % i, pits[b["pit"]]
        row = [pit + " | ", w.when(b["lit_min"])]
        for key, head in (("lit_min", "Light"), ("ready_min", "Food from"), ("out_min", "Food out")):
            s.show(path + key, w.when(b[key]), BOOK, "Job", *row, some=True, cell=column(s, "Job", "Fire", head))
        for cell, key in enumerate(("lit_min", "ready_min", "out_min"), 1):
            s.show(path + key, w.when(b[key]), "crew.html", "Fires", pit, w.when(b["lit_min"]), some=True, cell=cell)
        s.show(path + "lit_min", "lit " + w.when(b["lit_min"]), "plan.txt", "Fires", pit[:14], some=True)
        s.show(path + "ready_min", "from " + w.when(b["ready_min"]), "plan.txt", "Fires", "lit " + w.when(b["lit_min"]), some=True)
        s.show(path + "out_min", "out " + w.when(b["out_min"]), "plan.txt", "Fires", "lit " + w.when(b["lit_min"]), some=True)
        burns = "It burns %s of charcoal, %s of wood." % (w.fuel(b["start_charcoal_kg"]), w.fuel(b["fuel_kg"]))
        for file, section, anchors in ((BOOK, "Fire list", []), ("crew.html", "Fire: " + pit, [])):
            for key in ("fuel_kg", "start_charcoal_kg"):
                s.show(path + key, burns, file, section, w.when(b["lit_min"]) + " to ", *anchors, some=True)
        for k, feed in enumerate(b["feeds"]):
            words = "%d split%s, %s" % (feed["splits"], "" if feed["splits"] == 1 else "s", w.fuel(feed["kg"]))
            s.show(path + "feeds[%d].kg" % k, words, BOOK, "Fire list", w.clock(feed["at_min"]), "Feed", some=True)
            # the day stands over its lines
            s.show(path + "feeds[%d].at_min" % k, w.clock(feed["at_min"]), "crew.html", "Fire: " + pit, "Feed", w.clock(feed["at_min"]),
                   words, some=True)
    for i, t in enumerate(plan["demand"]):
        path, sv = "demand[%d]." % i, next(v for v in plan["services"] if v["id"] == t["service"])
        portions = "%d\u2013%d" % (t["portions"], t["portions_cover"])
        need = number(t["need_units"], 0) if t["by_count"] else w.weight(t["need_kg"])
        portion = number(t["guest"]["portion"], 2) + " each" if t["by_count"] else w.weight(t["guest"]["portion"])
        per = t.get("pan_portions")
        side = sum(p["pans"] for p in plan["side_pans"] if (p["dish"], p["service"]) == (t["dish"], t["service"]))
        pans = side or (math.ceil(t["portions_cover"] / per - 1e-9) if per else 0)
        out = pans_out(plan, sv, t, pans, w)
        page = [[(k, c) for k, c in s.section("crew.html", "Serving") if len(c) == 6 and c[0] != "Dish"][i]]
        book = [(k, c) for k, c in s.section(BOOK, "Serving")
                if (c[0] + " ").startswith(s.dish[i] + " ") and len(c) == 7 and c[6].startswith(sv["name"] + ", ")]
        for file, rows, words in (("crew.html", page, (portion, portions, need, out if pans else None)),
                                  (BOOK, book, (valued(portion), portions, valued(need), out if pans else None))):
            for cell, key, want in zip((1, 2, 3, 4), ("guest.portion", "portions", "need_kg", "pan_portions"), words):
                if want is None:
                    continue
                s.fields["demand[]." + key] += 1
                if not rows or not shows(rows[0][1], want, cell):
                    s.faults.append("%s%s = %s: %s has %s" % (path, key, want, file, [c for _, c in rows]))
                else:
                    s.seen[(file, rows[0][0])].append((cell, want, path + key))
    for i, r in enumerate(plan["raw_needs"]):
        path = "raw_needs[%d]." % i  # a cut of a service, in one lot or, in waves, in several
        name = s.lot[next(k for k, l in enumerate(plan["lots"]) if (l["service"], l["cut"]) == (r["service"], r["cut"]))]
        s.show(path + "leftover_kg", w.weight(r["leftover_kg"]), "costs.txt", "Enough", "%d \u00d7 %s" % (r["pieces"], name[:18]), some=True)
        chance = "< 0.1 %" if r["runout_frac"] < 0.001 else w.percent(r["runout_frac"])
        s.show(path + "runout_frac", chance, "costs.txt", "Enough", "%d \u00d7 %s" % (r["pieces"], name[:18]), some=True)
    for i, lot in enumerate(plan["lots"]):
        name = s.lot[i]
        s.show("lots[%d].pieces" % i, "%d \u00d7 %s" % (lot["pieces"], name[:18]), "plan.txt", "Meat", name[:18], some=True)
        s.show("lots[%d].pieces" % i, str(lot["pieces"]), "crew.html", "Lots", name, some=True, cell=2)
        s.show("lots[%d].pieces" % i, float(lot["pieces"]), BOOK, "Job", name, some=True, cell=column(s, "Job", "Lot", "Pieces"))
    for i, sv in enumerate(plan["services"]):
        n = sum(sv["guests"].values())
        at = column(s, "Job", "Food at", "Guests")
        s.show("services[%d].guests" % i, float(n), BOOK, "Job", w.when(sv["at_min"]), sv["name"], some=True, cell=at)
        for file, section in (("quote.txt", ""), ("customer.html", sv["name"]), (BOOK, "Quote")):
            s.show("services[%d].guests" % i, guests(n), file, section, sv["name"] if file == BOOK else guests(n), some=True)
        s.show("services[%d].guests" % i, str(n), "crew.html", "Meals", sv["name"], cell=2)
        s.show("services[%d].at_min" % i, w.when(sv["at_min"]), "crew.html", "Meals", sv["name"], cell=0)
        s.show("services[%d].length_min" % i, w.minutes(sv["length_min"]), "crew.html", "Meals", sv["name"])
        s.show("services[%d].at_min" % i, w.when(sv["at_min"]), BOOK, "Job", sv["name"], w.minutes(sv["length_min"]), some=True, cell=0)
        s.show("services[%d].length_min" % i, w.minutes(sv["length_min"]), BOOK, "Job", sv["name"], w.when(sv["at_min"]), some=True)
        s.show("services[%d].at_min" % i, "at " + w.clock(sv["at_min"]), "quote.txt", "", sv["name"] + ", ", some=True)


def task_checks(s, w, plan):
    for i, t in enumerate(plan["tasks"]):
        path = "tasks[%d]." % i
        utc = [w.local(m).astimezone(datetime.timezone.utc).strftime("%Y%m%dT%H%M%SZ") for m in (t["at_min"], t["at_min"] + t["minutes"])]
        start, end = "DTSTART:" + utc[0], "DTEND:" + utc[1]
        if t["kind"] == "feed":  # on the fire list, and in the feeds' own calendar
            s.show(path + "at_min", start, "calendar-feeds.ics", "event", "Feed", start, some=True)
            continue
        short = re.sub(r" \([^()]*\)$", "", t["what"]) if t["lot"] else t["what"]  # the lot's letter says which service
        rows = [(k, c) for k, c in s.section("tasks.csv", "") if c[0] == w.iso(t["at_min"]) and c[3] == t["what"] and c[4] == (t["where"] or "")
                and c[2] == (t["role"] or c[2])]
        for at, key, want in ((0, "at_min", w.iso(t["at_min"])), (1, "minutes", str(t["minutes"])), (7, "pieces", str(t["pieces"]))):
            s.fields["tasks[]." + key] += 1
            good = [r for r in rows if r[1][at] == want]
            if not good:
                s.faults.append("%s%s = %s (%s): tasks.csv has %s" % (path, key, want, t["what"], [c for _, c in rows]))
            else:
                s.seen[("tasks.csv", good[0][0])].append((at, want, path + key))
        s.show(path + "at_min", start, "calendar.ics", "event", short, start, end, some=True)
        s.show(path + "minutes", end, "calendar.ics", "event", short, start, end, some=True)
        s.show(path + "at_min", w.when(t["at_min"]), BOOK, "Shift sheet", short, w.when(t["at_min"]), some=True)
        s.show(path + "minutes", float(t["minutes"]), BOOK, "Shift sheet", short, w.when(t["at_min"]), some=True, cell=2)
        s.show(path + "at_min", w.clock(t["at_min"]), "shift-sheet.txt", "hour by hour", w.clock(t["at_min"]), t["what"][:12], some=True)
        until = t["in_time_until_min"] and w.clock(t["in_time_until_min"])
        if t["role"] and not goes_on(plan["tasks"], t):
            s.show(path + "at_min", w.clock(t["at_min"]) + (" latest " + until if until else ""), "crew.html", t["role"][:1].upper() + t["role"][1:], w.clock(t["at_min"]),
                   t["what"][:12 if t["visit"] else 24], some=True, cell=1)
        if until:
            words = "still in time until " + until
            s.show(path + "in_time_until_min", words, BOOK, "Shift sheet", short, w.when(t["at_min"]), words, some=True)
            s.show(path + "in_time_until_min", words, "calendar.ics", "event", short, start, words, some=True)
            s.show(path + "in_time_until_min", w.iso(t["in_time_until_min"]), "tasks.csv", "", t["what"], w.iso(t["at_min"]), some=True, cell=8)


def several(pack, n):
    """As sheets count packs: "trays of twelve"; purchases.csv names the kind."""
    noun, of, rest = pack.partition(" of ")
    if n != 1 and not noun.endswith("s"):
        noun = noun[:-1] + "ves" if noun.endswith("af") else noun + ("es" if re.search(r"([sxz]|ch|sh)$", noun) else "s")
    return noun + of + rest


def check(rows, plan, units):
    s, w = Sheets(rows), Words(plan, units)
    named = [c[0] for sec, c in rows[BOOK] if sec == "Costs"]
    named = named[named.index("Dish") + 1:] if "Dish" in named else []
    s.dish = [n[:-len(sv)] for n, sv in zip(named, (", " + v["name"] for d in plan["demand"] for v in plan["services"] if v["id"] == d["service"]))
              if n.endswith(sv)]
    s.lot = [re.sub(r" by [A-Z][a-z][a-z] [0-9:]+$", "", c[1]) for sec, c in rows["crew.html"] if sec.startswith("Lots") and len(c) == 3 and c[0] != "Lot"]
    if len(s.dish) != len(plan["demand"]) or len(s.lot) != len(plan["lots"]):
        s.faults.append("the sheets list %d dishes and %d lots of %d and %d" % (len(s.dish), len(s.lot), len(plan["demand"]), len(plan["lots"])))
        return s
    for part in (quote_checks, offer_checks, buying_checks, cook_checks, task_checks):
        part(s, w, plan)
    return s


def other(digits):
    """The same number but one: its last digit goes up."""
    return digits[:-1] + str((int(digits[-1]) + 1) % 10)


def self_test(s):
    """Each number of each compared text, changed alone: does its row still show what the plan says?"""
    n = seen = 0
    for (file, i), marks in s.seen.items():
        cells = s.rows[file][i][1]
        joined = " | ".join(cells)
        spots = set()
        for cell, text, _ in marks:
            if not isinstance(text, str):
                spots.add((cell, None))
            elif cell is not None:
                spots.update((cell, m.span()) for m in re.finditer(r"\d+", cells[cell]))
            else:
                at = token(text).search(joined)
                spots.update((None, (at.start() + m.start(), at.start() + m.end())) for m in re.finditer(r"\d+", text))
        for cell, span in spots:
            if cell is None:
                changed = (joined[:span[0]] + other(joined[span[0]:span[1]]) + joined[span[1]:]).split(" | ")
            elif span is None:
                changed = list(cells)
                changed[cell] = repr(float(cells[cell]) + 0.01)
            else:
                changed = list(cells)
                changed[cell] = cells[cell][:span[0]] + other(cells[cell][span[0]:span[1]]) + cells[cell][span[1]:]
            n += 1
            seen += any(not shows(changed, text, c) for c, text, _ in marks)
    return n, seen


def numeric(plan, path=""):
    if isinstance(plan, dict):
        for k, v in plan.items():
            yield from numeric(v, path + ("." if path else "") + k)
    elif isinstance(plan, list):
        for v in plan:
            yield from numeric(v, path + "[]")
    elif isinstance(plan, (int, float)) and not isinstance(plan, bool):
        yield path


def told(s, plan):
    fields = collections.Counter(numeric(plan))
    shown = set(s.fields)
    print("%d kinds of numbers in the plan, %d compared with the sheets; not shown or not compared:" %
          (len(fields), len([f for f in fields if f in shown])))
    print("  " + "\n  ".join(sorted(f for f in fields if f not in shown)))
    count = collections.Counter()
    for file, rows in s.rows.items():
        for i, (section, cells) in enumerate(rows):
            if (file, i) not in s.seen:
                count[(file, section)] += sum(len(re.findall(r"\d[\d.,:]*", c)) for c in cells)
    print("sections with numbers that no field explains:")
    for (file, section), n in count.most_common(40):
        if n:
            print("  %5d  %s, %s" % (n, file, section))


def main():
    folder, units = sys.argv[1], sys.argv[2]
    with open(os.path.join(folder, "plan.json"), encoding="utf-8") as file:
        plan = json.load(file)
    s = check(pack_rows(folder), plan, units)
    for fault in s.faults[:40]:
        print(fault)
    print("%d comparisons, %d faults" % (sum(s.fields.values()), len(s.faults)))
    if "--told" in sys.argv:
        told(s, plan)
    bad = len(s.faults) > 0
    if "--self" in sys.argv:
        n, seen = self_test(s)
        print("%d numbers changed one at a time, %d seen" % (n, seen))
        bad = bad or n < 200 or seen < 0.95 * n
    sys.exit(1 if bad else 0)


if __name__ == "__main__":
    main()
