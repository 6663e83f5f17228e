#!/usr/bin/env python3
"""One name for each person, in every file: who.py PACK...: folders written by `pitwright plan` or `pitwright mend`.

In: people and tasks of plan.json, rows of every other file (pack_rows.py).  Asked: a person's sheet has their tasks and no others, in
text, page and workbook; lists, fires, calendar, changes and warnings call the one whose task it is by the same name; an id that is
no name stands nowhere; two people on shift at once are not called alike.
Out: one line for each fault; exit status 1 when there is one, or when nothing was compared."""
import collections
import datetime
import json
import os
import re
import sys

import pack_rows

TIRED = ("long-shift", "long-day", "tired-driver", "alone-at-night")
FAULTS_SHOWN = 12
LOGS = {"core", "hold", "line", "cool", "reheat", "fire"}  # at the far end of a line: where its reading is written
PART = re.compile(r"Fire: |[A-Z][a-z]+day \d+ [A-Z][a-z]+ \d{4}$")  # what the workbook says of a line beside it
CLOCK = re.compile(r"(?:[A-Z][a-z]{2} )?(\d\d:\d\d)[a-z+*]?(?= |$)")


class Pack:
    def __init__(self, folder):
        with open(os.path.join(folder, "plan.json"), encoding="utf-8") as file:
            self.plan = json.load(file)
        self.files = pack_rows.pack_rows(folder)
        self.folder, self.faults, self.seen = folder, [], collections.Counter()
        self.name = {p["id"]: p["name"] for p in self.plan["people"]}
        self.begin = datetime.datetime.fromisoformat(self.plan["event"]["date"])
        self.tasks = [t for t in self.plan["tasks"] if t["person"]]

    def need(self, kind, is_so, words):
        self.seen[kind] += 1
        if not is_so:
            self.faults.append("%s: %s" % (kind, words))

    def clock(self, at_min):
        """Local time where no clock changes between: examples have none."""
        return (self.begin + datetime.timedelta(minutes=at_min)).strftime("%H:%M")

    def day(self, at_min):
        return (self.begin + datetime.timedelta(minutes=at_min)).strftime("%a")


def act(task):
    """What to do as sheets print it: without the meal, which the letter of the lot tells."""
    return re.sub(r" \([^()]*\)$", "", task["what"]) if task["lot"] else task["what"]


def squeezed(text):
    return re.sub(r"[\W_]+", "", text)


def sheets(p):
    """{file: {title: text of the timed lines}}, sections that are headed by a person's name."""
    names = set(p.name.values())

    def called(head):
        """A head begins with a capital where the name is made of a role."""
        return head if head in names else head[:1].lower() + head[1:]

    out = collections.defaultdict(lambda: collections.defaultdict(list))
    for file, at in (("crew.html", 1), ("workbook.xlsx", 1)):
        for section, cells in p.files[file]:
            who = called(section if file == "crew.html" else cells[4] if section == "People" and len(cells) > 4 else "")
            if who in names and len(cells) > at + 1 and CLOCK.match(cells[at]):
                out[file][who].append((CLOCK.match(cells[at])[1], cells[at + 1]))
    last = None
    for section, cells in p.files["shift-sheet.txt"]:
        section = called(section)
        if section not in names:
            continue
        head, _, log = cells[-1].rpartition(" ")
        if cells[0].startswith("[ ]") and log in (LOGS if not head else LOGS - {"fire"}):  # "before the next fire"
            cells = cells[:-1] + [head]
        found = re.match(r"\[ \] +(?:[A-Z][a-z]{2} )?(\d\d:\d\d)[a-z+*]?(.*)", " ".join(cells))
        if found:
            last = [found[1], found[2]]
            out["shift-sheet.txt"][section].append(last)
        elif last:
            last[1] += " " + " ".join(c for c in cells if not re.fullmatch(r"latest|\d\d:\d\d[a-z+*]?", c))  # beside the words
    return out


def own_sheets(p):
    of = collections.defaultdict(list)
    for t in p.tasks:
        of[p.name[t["person"]]].append(t)
    for file, told in sheets(p).items():
        p.need("sheets", set(told) == set(of), "%s has sheets of %s, tasks are of %s" % (file, sorted(told), sorted(of)))
        for who, tasks in of.items():
            rows = [(c, squeezed(w)) for c, w in told[who]]
            for t in tasks:
                if t["kind"] != "feed" and not pack_rows.goes_on(p.tasks, t):
                    p.need("own tasks", any(c == p.clock(t["at_min"]) and squeezed(act(t)) in w for c, w in rows),
                           "%s: %s does not %s %s" % (file, who, p.clock(t["at_min"]), act(t)))
            for clock, words in rows:
                p.need("own lines", any(p.clock(t["at_min"]) == clock and (squeezed(act(t)) in words or
                                        t["kind"] == "feed" and re.match("Fromnowonfeed|Feed", words)) for t in tasks),
                       "%s: the sheet of %s says %s %s" % (file, who, clock, words[:60]))


def lists(p):
    """tasks.csv and the workbook's list name who does each line."""
    people = collections.defaultdict(set)
    for t in p.tasks:
        people[(p.clock(t["at_min"]), squeezed(act(t)))].add(p.name[t["person"]])
    where = {k: n for n, k in enumerate(p.files["tasks.csv"][0][1])}
    for _, c in p.files["tasks.csv"][1:]:
        key = (c[where["start"]][11:16], squeezed(re.sub(r" \([^()]*\)$", "", c[where["what"]]) if c[where["lot"]] else c[where["what"]]))
        if c[where["person"]] and key in people:
            p.need("tasks.csv", c[where["person"]] in people[key], "tasks.csv: %s %s: %s" % (key[0], c[where["what"]], c[where["person"]]))
    for section, c in p.files["workbook.xlsx"]:
        if section != "Shift sheet" or len(c) < 5 or not CLOCK.match(c[1]):
            continue
        clock, words = CLOCK.match(c[1])[1], squeezed(c[3])
        whose = [who for (at, what), who in people.items() if at == clock and what in words]
        if whose:
            p.need("workbook list", any(c[4] in w for w in whose), "workbook: %s %s: %s" % (clock, c[3][:50], c[4]))


def rosters(p):
    """Hours on the job sheet are those on each person's own; the office has none there."""
    told, rows = {}, p.files["crew.html"]
    for section, cells in rows:
        found = re.match(r"(.+?)\. (.+)$", cells[0]) if section.startswith("Who comes when") else None
        names = found[1].split(", ") if found else []
        for name in names:  # "hand 3, 4"
            told[name if not name.isdigit() else names[0].rsplit(" ", 1)[0] + " " + name] = found[2]  # heads, as on own sheets
    paid = {q["name"].lower() for q in p.plan["people"] if q["cents_per_h"] > 0}
    for section, cells in rows if told else []:
        own = re.match(r"On shift (.+)$", cells[0])
        if own and section.lower() in paid:
            p.need("rosters", told.get(section) == own[1], "job sheet: %s comes %s, own sheet: %s" % (section, told.get(section), own[1]))


def calendars(p):
    for file, rows in p.files.items():
        if not file.endswith(".ics"):
            continue
        for _, lines in rows:
            of = dict(re.split(r"[:;]", line, maxsplit=1) for line in reversed(lines) if re.match(r"[A-Z]+[:;]", line))
            words, said = squeezed(of["SUMMARY"]), [l for l in lines if l.startswith("DESCRIPTION:")][0][12:]
            whose = [p.name[t["person"]] for t in p.tasks
                     if t["kind"] != "feed" and squeezed(t["what"]) in words and " " + p.clock(t["at_min"]) in said]
            if whose:
                p.need("calendar", any(re.search(r"(^| )%s( |$)" % re.escape(w), said) for w in whose),
                       "%s: %s: %s, not %s" % (file, of["SUMMARY"], said[:60], whose))


def fires(p):
    """Whose feed it is, on the fire sheet and in the workbook: the minute is the feed's, rounded as the list rounds it."""
    for file in ("crew.html", "workbook.xlsx", "shift-sheet.txt"):
        said = collections.Counter()
        for section, cells in p.files[file]:
            found = re.search(r"Feed \d[^:]*: (.+?)[ _]*$", " ".join(c for c in cells if c and not PART.match(c)))
            if found and (section.startswith("Fire") or file != "crew.html"):
                who = found[1].strip()  # a long name goes on in the next line of the text
                said[next((n for n in p.name.values() if who not in p.name.values() and n.startswith(who)), who)] += 1
        due = collections.Counter(p.name[t["person"]] for t in p.tasks if t["kind"] == "feed")
        if said:
            p.need("feeds", said == due, "%s: feeds by %s, of the plan %s" % (file, dict(said), dict(due)))


def warnings(p):
    for w in p.plan["warnings"]:
        if w["code"] in TIRED:
            about = [q for q in p.plan["people"] if w["text"].startswith("%s (%s, %s %s to " % (q["name"], q["role"], p.day(q["from_min"]), p.clock(q["from_min"])))]
            p.need("warnings", len(about) >= 1, "%s: %s" % (w["code"], w["text"][:80]))


def changes(p):
    """Of a mended plan: whose the line is now."""
    if "changes.txt" not in p.files:
        return
    text, who, is_told = [" ".join(c) for _, c in p.files["changes.txt"]], None, 0
    for line in text:
        now = re.match(r"(?:new|moved) .*?(\d\d:\d\d) (?:-> \w{3} (\d\d:\d\d) )?(.*) \((.+)\)$", line) or None
        other = re.match(r"by (.+), not (.+?) +\w{3} (\d\d:\d\d) +(.*)$", line)
        head = re.match(r"(.+) from now on, ", line)
        if head:
            p.need("changes", head[1] in p.name.values(), "changes.txt: a list of %s, who is nobody" % head[1])
        clock, what, who = (now[2] or now[1], now[3], now[4]) if now else (other[3], other[4], other[1]) if other else (None, None, None)
        if clock and who != "nobody":
            verb = what.split(" ")[0]
            p.need("changes", any(p.name[t["person"]] == who and p.clock(t["at_min"]) == clock and t["what"].startswith(verb) for t in p.tasks),
                   "changes.txt: %s" % line)
            is_told += 1
    p.need("changes", is_told > 0 or not any(re.match(r"(new|moved|by) ", t) for t in text), "changes.txt: no line was understood")


def no_ids(p):
    for q in p.plan["people"]:
        if q["id"] == q["name"]:
            continue
        pattern = re.compile(r"(?<![\w-])%s(?![\w-]|\.ics)" % re.escape(q["id"]))
        for file, rows in p.files.items():
            for section, cells in rows:
                p.need("ids", not any(pattern.search(c) for c in cells), "%s, %s: the id %s" % (file, section, q["id"]))


def alike(p):
    for i, a in enumerate(p.plan["people"]):
        for b in p.plan["people"][:i]:
            p.need("alike", a["name"] != b["name"] or a["from_min"] >= b["to_min"] or b["from_min"] >= a["to_min"],
                   "two are called %s at once" % a["name"])


def main(folders):
    n_faults = 0
    for folder in folders:
        p = Pack(folder)
        for ask in (own_sheets, lists, rosters, calendars, fires, warnings, changes, no_ids, alike):
            ask(p)
        for kind in ("sheets", "own tasks", "own lines", "tasks.csv", "workbook list", "calendar", "feeds"):
            p.need(kind, p.seen[kind] > 0, "nothing was compared")
        for fault in p.faults[:FAULTS_SHOWN]:
            print("%s: %s" % (folder, fault))
        n_faults += len(p.faults)
        print("%s: %s" % (folder, ", ".join("%d %s" % (n, k) for k, n in p.seen.items())))
    return 1 if n_faults or not folders else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
