#!/usr/bin/env python3
"""Plays the printed sheets as a tired cook would: each line in the order printed, blindly, and stops at the first that cannot
be done.  play_sheets.py PACK...: folders written by `pitwright plan EVENT -o PACK`.  play_sheets.py --swaps PACK: is a good pack
found good, and is every pair of lines that hang together found when the two change places?

In: tasks.csv and shift-sheet.txt as printed, nothing of the plan behind them.  Where pieces are (prepared, on a pit, wrapped, in
a box, cut) is counted by lot and place, from the words of the lines alone; so are fires, and what each role has in hand.
Out: one line for each fault, "PACK: Sat 05:45 Wrap 3 x ...: why not"; exit status 1 when there is one."""
import collections
import csv
import datetime
import os
import re
import sys

FAULTS_SHOWN = 12
FIRE_LINE = "Fire list of "  # points to the fire list, where the feeds stand; nothing to do at its minute


class Impossible(Exception):
    pass


def need(is_so, words):
    if not is_so:
        raise Impossible(words)


class Lot:
    """Pieces of one lot: how many are ready, and how many lie where, open or wrapped."""

    def __init__(self):
        self.ready = 0
        self.loaded = 0
        self.off = 0
        self.cut = 0
        self.chilled = 0
        self.brined = []  # (when, least min, most min)
        self.at = collections.Counter()  # (place, state): state is open, wrapped, done
        self.scratched = collections.Counter()
        self.service = None
        self.wave = 1

    def there(self, place, states=("open", "wrapped", "done")):
        return sum(self.at[(place, s)] for s in states)

    def take(self, place, states, n):
        """n pieces leave a place; returns how many were wrapped or not."""
        need(self.there(place, states) >= n, f"{self.there(place, states)} of {n} are {' or '.join(states)} at {place}; {self.where()}")
        for s in states:
            k = min(n, self.at[(place, s)])
            self.at[(place, s)] -= k
            n -= k

    def where(self):
        return ", ".join(f"{n} {s} at {p}" for (p, s), n in sorted(self.at.items()) if n) or "nothing lies anywhere"


OPEN_AIR = ("covered", "table", "kitchen")  # rested under a cover, out of the wind
HEAT = r"Heat .+ to \d+|Fill .+ with hot water"


class Day:
    """All that is true at one line of the sheet."""

    def __init__(self, rows, kinds_of_lot):
        self.lots = collections.defaultdict(Lot)
        self.kinds = kinds_of_lot  # lot: verbs that it has anywhere on the sheet
        self.lit = set()
        self.hot = set()
        self.clean = set()
        self.served = set()
        self.cooled = set()
        self.ordered = set()
        self.home = False
        self.pits = {m.group(1) for r in rows for m in [re.match(r"Light (.+?)(?: with .*)?$", r["what"])] if m}
        self.places = sorted(self.pits, key=len, reverse=True)

    def place(self, words):
        """The pit or box that words begin with: 'Wide offset, main rack' is the Wide offset."""
        for p in self.places:
            if words == p or words.startswith(p + ","):
                return p
        return words.split(",")[0].strip()

    def goes_into(self, place):
        """Food for an oven or a box: somebody made it hot before."""
        need(place is None or place in self.pits or place in OPEN_AIR or place in self.hot, f"{place} is cold")

    def from_to(self, where):
        """'Wide offset, main rack to Hot box 1' and 'to Oven'."""
        if where.startswith("to "):
            return None, self.place(where[3:])
        for p in self.places:
            if where.startswith(p) and " to " in where[len(p):]:
                return p, self.place(where[len(p):].rsplit(" to ", 1)[1])
        if " to " in where:
            a, b = where.rsplit(" to ", 1)
            return self.place(a), self.place(b)
        return self.place(where), None


def count(what):
    m = re.search(r"(\d+) × ", what)
    return int(m.group(1)) if m else 0


# ---- one function for each kind of line ---------------------------------------------------------------------------------


def in_minutes(words):
    """1 h 30 min is 90."""
    return sum(int(n) * {"d": 1440, "h": 60, "min": 1}[unit] for n, unit in re.findall(r"(\d+) (d|h|min)", words))


def brine(day, lot, row):
    need(lot.ready == 0, "some of it is made ready")
    hours = re.search(r"in it (.+?) at least, (.+?) at most", row["target"])
    lot.brined.append((when(row) + datetime.timedelta(minutes=int(row["minutes"])), *map(in_minutes, hours.groups())))


def prepare(day, lot, row):
    if "brine" in day.kinds[row["lot"]]:
        need(lot.brined, "none of it has been in brine")
        at, least, most = lot.brined[0]
        need(least <= (when(row) - at).total_seconds() / 60 <= most, f"in brine since {at}, {least} to {most} min")
    lot.ready += count(row["what"])


def load(day, lot, row):
    n, place = count(row["what"]), day.place(row["where"])
    need(place in day.lit, f"no fire in {place}")
    need(place in day.clean, f"nobody has looked whether the fire in {place} is clean")
    if "prepare" in day.kinds[row["lot"]]:
        need(lot.ready - lot.loaded >= n, f"{lot.ready - lot.loaded} of {n} are ready")
    lot.loaded += n
    lot.at[(place, "open")] += n


def scratch(day, lot, row):
    place = day.place(row["where"])
    need(lot.at[(place, "open")] > 0, f"none is open at {place}; {lot.where()}")
    lot.scratched[place] += 1


def mop(day, lot, row):
    place = day.place(row["where"])
    need(lot.at[(place, "open")] >= count(row["what"]), f"{lot.at[(place, 'open')]} are open at {place}; {lot.where()}")
    need(lot.scratched[place] > 0, f"the rub at {place} was never scratched")


def core(day, lot, row):
    place = day.place(row["where"])
    need(lot.there(place) > 0, f"none is at {place}; {lot.where()}")


def wrap(day, lot, row):
    n, (a, b) = count(row["what"]), day.from_to(row["where"])
    need(a is not None, "wrapped where?")
    lot.take(a, ("open",), n)
    day.goes_into(b)
    lot.at[(b or a, "wrapped")] += n


def carry(day, lot, row):
    n, (a, b) = count(row["what"]), day.from_to(row["where"])
    states = ("wrapped",) if "wrap" in day.kinds[row["lot"]] else ("open",)
    if a is None:
        a = max((p for p in {p for p, _ in lot.at} if p != b), key=lambda p: lot.there(p, states), default=None)
        need(a is not None, "carried from where?")
    lot.take(a, states, n)
    day.goes_into(b)
    lot.at[(b, states[0])] += n


def off(day, lot, row):
    n, (a, b) = count(row["what"]), day.from_to(row["where"])
    lot.take(a, ("wrapped",) if "wrap" in day.kinds[row["lot"]] else ("open",), n)
    lot.off += n
    day.goes_into(b)
    lot.at[(b or "table", "done")] += n


def rest_over(day, lot, row):
    n, (a, b) = count(row["what"]), day.from_to(row["where"])
    day.goes_into(b)
    if a is not None and lot.there(a, ("done",)) >= n:
        if b:
            lot.take(a, ("done",), n)
            lot.at[(b, "done")] += n
        return
    place = b or a
    source = max((p for p in {p for p, _ in lot.at} if p != place), key=lambda p: lot.there(p, ("done",)), default=None)
    need(source is not None, f"none is off; {lot.where()}")
    lot.take(source, ("done",), n)
    lot.at[(place, "done")] += n


def hold_check(day, lot, row):
    place = day.place(row["where"])
    need(lot.there(place, ("done",)) > 0, f"none is held in {place}; {lot.where()}")


def cut(day, lot, row):
    n = count(row["what"])
    need(lot.off - lot.cut >= n, f"{lot.off - lot.cut} of {n} are off and not yet cut; {lot.where()}")
    lot.cut += n
    for p, s in sorted(lot.at):
        if s == "done":
            k = min(n, lot.at[(p, s)])
            lot.at[(p, s)] -= k
            n -= k


def chill(day, lot, row):
    n = count(row["what"])
    need(lot.off - lot.chilled >= n, f"{lot.off - lot.chilled} of {n} are off")
    lot.chilled += n


def cut_cold(day, lot, row):
    need("chill" not in day.kinds[row["lot"]] or lot.chilled >= lot.cut + count(row["what"]), "it is not chilled")
    lot.cut += count(row["what"])


def reheat(day, lot, row):
    need("cut" not in day.kinds[row["lot"]] or lot.cut > 0, "nothing is cut up")
    day.goes_into(day.place(row["where"]))


def heat_up(day, lot, row):
    day.hot.add(day.place(row["where"]))


def light(day, lot, row):
    pit = re.match(r"Light (.+?)(?: with .*)?$", row["what"]).group(1)
    need(pit not in day.lit, f"{pit} burns already")
    day.lit.add(pit)


def fire_check(day, lot, row):
    place = day.place(row["where"])
    need(place in day.lit, f"no fire in {place}")
    day.clean.add(place)


def feed(day, lot, row):
    need(day.place(row["where"]) in day.lit, f"no fire in {row['where']}")


def burn_down(day, lot, row):
    place = day.place(row["where"])
    need(place in day.lit, f"no fire in {place}")
    for name, lot in day.lots.items():
        need(lot.there(place) == 0, f"{lot.there(place)} of lot {name} are still in {place}")
    day.lit.discard(place)
    day.clean.discard(place)


def ash(day, lot, row):
    need(day.place(row["where"]) not in day.lit, "it still burns")


def serve(day, lot, row):
    name = re.match(r"(?:Serve|Hand over) (.+?): \d+ guests?$", row["what"]).group(1)
    day.served.add(name)
    for key, lot in day.lots.items():
        if lot.service != name or lot.wave > 1:  # later waves come off and are cut while guests eat
            continue
        need(lot.off > 0 or not day.kinds[key] & {"off"}, f"none of lot {key} is off")
        need(lot.cut > 0 or "cut" not in day.kinds[key], f"none of lot {key} is cut")


def clear(day, lot, row):
    name = re.sub(r", one of \d+ hands$", "", row["what"].split(" ", 1)[1])
    need(name in day.served, "nobody has served it")


def cool(day, lot, row):
    need(row["where"] in day.served, "nobody has served it")
    day.cooled.add(row["where"])


def cool_check(day, lot, row):
    need(row["where"] in day.cooled, "they were never cooled")
    need(not day.home, "the crew has driven home")


def order(day, lot, row):
    day.ordered.add(row["where"])


def take_in(day, lot, row):
    need(row["where"] in day.ordered, "it was never ordered")


def drive(day, lot, row):
    day.home = row["what"].startswith("Drive home")


def nothing(day, lot, row):
    pass


# the words of a line, its kind, what it does; the first that matches
LINES = [
    (r"Brine \d+ × ", "brine", brine),
    (r"(Trim and rub|Make ready|Check for bones and season) \d+ × ", "prepare", prepare),
    (r"Load \d+ × ", "load", load),
    (r"Scratch test: ", "scratch", scratch),
    (r"Mop \d+ × ", "mop", mop),
    (r"(Turn|Roll)( about)? \d+ × ", "core", core),
    (r"(Core temperature of|Probe) ", "core", core),
    (r"Wrap( and carry)? \d+ × ", "wrap", wrap),
    (r"(Move|Carry) \d+ × ", "carry", carry),
    (r"Take off( and rest)? \d+ × ", "off", off),
    (r"(Rest is over, now holding|Into the hold): \d+ × ", "rest_over", rest_over),
    (r"Holding temperature of ", "hold_check", hold_check),
    (r"Cut up cold and pan: \d+ × ", "cut", cut_cold),
    (r"(Slice|Pull|Chop|Portion|Dish up|Carve) \d+ × ", "cut", cut),
    (r"Chill \d+ × ", "chill", chill),
    (r"Reheat \d+ × ", "reheat", reheat),
    (r"(Core of the chill|Middle of every pan)", "read", nothing),
    (HEAT, "heat_up", heat_up),
    (r"Light ", "light", light),
    (r"Is the fire clean|Are the coals grey", "fire_check", fire_check),
    (r"Feed ", "feed", feed),
    (r"No more (wood|charcoal)", "burn_down", burn_down),
    (r"Ash out|Rake the old ash out|Is the fire out\?|Fires-out check", "ash", ash),
    (r"Serve |Hand over ", "serve", serve),
    (r"Clear ", "clear", clear),
    (r"Cool the hot leftovers", "cool", cool),
    (r"Temperature of the leftovers", "cool_check", cool_check),
    (r"Order ", "order", order),
    (r"Take in ", "take_in", take_in),
    (r"Drive ", "drive", drive),
    (r"Wood and charcoal on hand|Freezer to refrigerator|Set up|Pan up|Make |Count out |Cut and portion |Cook ", "other", nothing),
]


def kind_of(what):
    for pattern, kind, play in LINES:
        if re.match(pattern, what):
            return kind, play
    return None, None


# ---- sheets ---------------------------------------------------------------------------------------------------------------


def when(row):
    return datetime.datetime.fromisoformat(row["start"])


def words_of(row):
    return f"{when(row):%a %H:%M} {row['what']} ({row['where']})"


def play(rows, say):
    """The lines of tasks.csv one after another."""
    kinds = collections.defaultdict(set)
    services = [m.group(1) for r in rows for m in [re.match(r"(?:Serve|Hand over) (.+?): \d+ guests?$", r["what"])] if m]
    for row in rows:
        kind, _ = kind_of(row["what"])
        if row["lot"] and kind:
            kinds[row["lot"]].add(kind)
    day = Day(rows, kinds)
    for row in rows:
        if row["lot"]:
            names = [s for s in services if re.search(r"\(" + re.escape(s) + r"(, wave \d+)?\)$", row["what"])]
            lot = day.lots[row["lot"]]
            wave = re.search(r"wave (\d+)\)$", row["what"])
            lot.wave = int(wave.group(1)) if wave else lot.wave
            lot.service = lot.service or (names[0] if names else services[0] if len(set(services)) == 1 else None)
    for row in rows:
        kind, does = kind_of(row["what"])
        if does is None:
            say(f"{words_of(row)}: a line that this player does not know")
            continue
        try:
            does(day, day.lots[row["lot"]] if row["lot"] else None, row)
        except Impossible as why:
            say(f"{words_of(row)}: {why}")
    for key, lot in day.lots.items():
        if "load" in kinds[key] and lot.off < lot.loaded:
            say(f"lot {key}: {lot.loaded} went on, {lot.off} come off")


def in_time(rows, say):
    """Lines of the sheet stand in the order of time; a line for a person with a name is not begun before the last is done."""
    last = None
    busy = {}
    for row in rows:
        if last and when(row) < last:
            say(f"{words_of(row)}: stands after a line of {last:%a %H:%M}")
        last = when(row)
        who = row.get("person") or ""
        if who and busy.get(who, (last, ""))[0] > last:
            say(f"{words_of(row)}: {who} is still at {busy[who][1]}")
        if who:
            busy[who] = (last + datetime.timedelta(minutes=int(row["minutes"])), row["what"])


def sections_of(text):
    """Heading: lines (weekday, minute of the day, words) of shift-sheet.txt.  Feeds, and lines that send somebody to them, are left out."""
    out = collections.OrderedDict()
    lines, day = None, ""
    for line in text.split("\n"):
        band = re.match(r"([A-Z][a-z]{2})[a-z]*day \d+ [A-Z]", line)
        day = band.group(1) if band else day
        head = re.match(r"(.{1,70}?) -{6,}$", line)
        if head:
            lines = out.setdefault(head.group(1), [])
            continue
        task = re.match(r"\[ \] +([A-Z][a-z]{2} )?(\d\d):(\d\d)[a-z+*]?(?: [A-Z]{2,4}T)?(?: latest)? +(?:\d+ )?(.*)", line)
        if task and lines is not None and not re.match(FIRE_LINE + "|Feed |From now on feed ", task.group(4)):
            words = re.sub(r"^[A-Z]+\d*(?:\u2013[A-Z]+\d+)?(?:, [A-Z]+\d+(?:\u2013[A-Z]+\d+)?)*,?:? ?(?=\S)", "", task.group(4).strip()) \
                if re.match(r"[A-Z]+\d*[:,\u2013]", task.group(4)) else task.group(4).strip()
            lines.append(((task.group(1) or day).strip(), int(task.group(2)) * 60 + int(task.group(3)), words))
    return out


def same_order(rows, text, say):
    """The text sheet tells the same lines in the same order, for everybody and, on the sheets of people, for each role."""
    sections = sections_of(text)
    feeds = {"feed"}

    def is_line(day, at, words, row):
        """Whether a line of that day and minute begins as the row does; a long word or mark may have gone on in the next line."""
        days = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
        return days[when(row).weekday()] == day and when(row).hour * 60 + when(row).minute == at and words.startswith(row["what"].split(" ")[0])

    def compare(name, have, want):
        if len(have) != len(want):
            say(f"shift-sheet.txt, {name}: {len(have)} lines, tasks.csv has {len(want)}")
        for (day, at, words), row in zip(have, want):
            if not is_line(day, at, words, row):
                say(f"shift-sheet.txt, {name}: \"{words}\" at {at // 60:02}:{at % 60:02} where tasks.csv has {words_of(row)}")
                return

    def goes_on(row):
        """Back to the guests without anything in between: the line before, on the sheet of the same person, says it."""
        mine = [r for r in no_feeds if r["person"] == row["person"]]
        before = mine[mine.index(row) - 1] if row["what"].startswith("Serve ") and mine.index(row) > 0 else None
        return before and before["what"] == row["what"] and when(before) + datetime.timedelta(minutes=int(before["minutes"])) >= when(row)

    no_feeds = [r for r in rows if kind_of(r["what"])[0] not in feeds]
    compare("everybody", sections.get("Everybody, hour by hour", []), no_feeds)
    for role in sorted({r["role"] for r in rows if r["role"]}):
        left = [r for r in no_feeds if r["role"] == role and not goes_on(r)]
        sheets = [n for n in sections if re.fullmatch(re.escape(role) + r"( \d+)?|.* \(" + re.escape(role) + r"\)", n)]
        if left and not sheets:
            say(f"shift-sheet.txt has no sheet of a {role}")
        for name in sheets:  # each line of a sheet is the next of the role's that no other sheet has
            at_row = 0
            for day, at, words in sections[name]:
                found = next((k for k in range(at_row, len(left)) if is_line(day, at, words, left[k])), None)
                if found is None:
                    say(f"shift-sheet.txt, {name}: \"{words}\" at {at // 60:02}:{at % 60:02} is no task of a {role} here")
                    return
                del left[found]
                at_row = found
        if left:
            say(f"shift-sheet.txt, {role}: nobody's sheet has {words_of(left[0])}")


def look_at(pack):
    faults = []
    with open(os.path.join(pack, "tasks.csv"), encoding="utf-8-sig", newline="") as f:
        rows = [r for r in csv.DictReader(f) if not r["what"].startswith(FIRE_LINE)]
    play(rows, faults.append)
    in_time(rows, faults.append)
    sheet = os.path.join(pack, "shift-sheet.txt")
    if os.path.exists(sheet):
        with open(sheet, encoding="utf-8") as f:
            same_order(rows, f.read(), faults.append)
    for fault in faults[:FAULTS_SHOWN]:
        print(f"{pack}: {fault}")
    if len(faults) > FAULTS_SHOWN:
        print(f"{pack}: and {len(faults) - FAULTS_SHOWN} more")
    return len(rows), len(faults)


# Lines that hang together, by kind: the first comes first, whatever stands between them.
PAIRS = [
    ("order", "take_in"), ("brine", "prepare"), ("prepare", "load"), ("light", "fire_check"), ("fire_check", "load"), ("load", "scratch"), ("load", "core"),
    ("load", "mop"), ("load", "wrap"), ("scratch", "mop"), ("scratch", "wrap"), ("mop", "wrap"), ("wrap", "carry"), ("wrap", "off"),
    ("carry", "off"), ("carry", "burn_down"), ("off", "rest_over"), ("off", "hold_check"), ("off", "cut"), ("hold_check", "cut"),
    ("rest_over", "cut"), ("cut", "serve"), ("off", "serve"), ("serve", "clear"), ("serve", "cool"), ("cool", "cool_check"), ("cool_check", "drive"),
    ("light", "burn_down"), ("burn_down", "ash"), ("heat_up", "carry"), ("heat_up", "off"),
]


def swaps(pack):
    """0 when the pack is good and each of PAIRS, put the wrong way round, is found."""
    with open(os.path.join(pack, "tasks.csv"), encoding="utf-8-sig", newline="") as f:
        rows = [r for r in csv.DictReader(f) if not r["what"].startswith(FIRE_LINE)]
    kinds = [kind_of(r["what"])[0] for r in rows]
    faults = []
    play(rows, faults.append)
    in_time(rows, faults.append)
    n_tried = n_unseen = 0
    for a, b in PAIRS:
        for i in range(len(rows)):
            for k in range(i + 1, len(rows)):
                if kinds[i] != a or kinds[k] != b:
                    continue
                changed = list(rows)
                changed[i], changed[k] = dict(rows[k], start=rows[i]["start"]), dict(rows[i], start=rows[k]["start"])
                found = []
                play(changed, found.append)
                n_tried += 1
                if not found:
                    n_unseen += 1
                    print(f"{pack}: {words_of(rows[i])} and {words_of(rows[k])} change places, and nothing is found")
        if not any(kinds[i] == a and b in kinds[i + 1:] for i in range(len(rows))):
            n_unseen += 1
            print(f"{pack}: no line {a} before a line {b}")
    for fault in faults:
        print(f"{pack}: {fault}")
    print(f"{n_tried} pairs changed places, {n_unseen} unseen")
    return 1 if faults or n_unseen or n_tried == 0 else 0


def main():
    if sys.argv[1:2] == ["--swaps"]:
        return swaps(sys.argv[2])
    n_rows = n_faults = 0
    for pack in sys.argv[1:]:
        rows, faults = look_at(pack)
        n_rows += rows
        n_faults += faults
    print(f"{len(sys.argv) - 1} packs, {n_rows} lines played, {n_faults} that cannot be done")
    return 1 if n_faults or n_rows == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
