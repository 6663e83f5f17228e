#!/usr/bin/env python3
"""lies.py PROGRAM PLAN.json ...: good plans told otherwise, several fields that hang together at a time; the judge finds each.

In: the program and plan files that hold.  Each lie edits the parsed plan and says whether it applies to it; `verify` is asked of
every edited plan.  Out: one line for each lie that passes, and a count; exit status 1 when one passes, or when a lie applies to
none of the plans.  tests/soak/edits.c changes every number by itself; tests/unit/judge/test_plan_lies.c holds the labels."""
import copy
import json
import os
import subprocess
import sys
import tempfile

LIES = []


def lie(f):
    LIES.append((f.__doc__.strip(), f))
    return f


def tasks(p, *kinds):
    return [t for t in p["tasks"] if t["kind"] in kinds]


def drop_tasks(p, gone):
    """Takes tasks out as a careful liar would: what came after them comes after what they came after."""
    gone = {t["id"]: t for t in gone}
    if not gone:
        return False
    for t in p["tasks"]:
        while any(a in gone for a in t["after"]):
            t["after"] = sorted({b for a in t["after"] for b in (gone[a]["after"] if a in gone else [a])})
    p["tasks"] = [t for t in p["tasks"] if t["id"] not in gone]
    return True


def first_lot(p, stage="smoke"):
    return next((x["lot"] for x in p["loads"] if x["stage"] == stage), None)


def of(items, **want):
    return [x for x in items if all(x.get(k) == v for k, v in want.items())]


# ---- what is eaten -----------------------------------------------------------------------------------------------

@lie
def less_meat(p):
    """a guest is said to get less meat than the dishes give"""
    told = [s["meat"] for s in p["services"] if "meat" in s]
    for meat in told:
        meat["per_guest_kg"] *= 0.9
    return told


@lie
def meat_unwarned(p):
    """a meal outside the usual meat a guest is warned of by nothing"""
    told = [s["meat"] for s in p["services"] if "meat" in s and "usual_most_kg" in s["meat"]]
    for meat in told:
        meat["usual_most_kg"] = meat["per_guest_kg"] * 0.9
    p["warnings"] = [w for w in p["warnings"] if w["code"] != "meat-per-guest"]
    return told


# ---- ways out ----------------------------------------------------------------------------------------------------

@lie
def way_out_of_nothing(p):
    """a way out is told of a job in which all has a place and each meal its chance"""
    if p["remedies"] or any(x["missed"] for x in p["lots"]):
        return False
    role = p["crew"][0]["role"]
    p["remedies"] = [{"what": "one more hand", "cost_cents": 100, "missed_after": 0, "missed_portions_after": 0,
                      "plan_cost_cents": p["quote"]["cost_cents"] + 100,
                      "parts": [{"kind": "hand", "id": role, "is_new": False}],
                      "lines": ["---", "crew:", "  - {role: %s}" % role],
                      "chances_after": [{"service": s["id"], "name": s["id"], "on_time_frac": 1.0,
                                         "target_frac": s["chance"]["target_frac"]} for s in p["services"]]}]
    return True


# ---- cores and safety -------------------------------------------------------------------------------------------

@lie
def no_core(p):
    """the core of a raw meat is not told"""
    raw = of(p["cores"], is_raw=True)
    if raw:
        p["cores"].remove(raw[0])
    return raw


@lie
def called_cooked(p):
    """all raw meat is called cooked"""
    raw = of(p["cores"], is_raw=True)
    for c in raw:
        c["is_raw"] = False
    return raw


@lie
def core_target_low(p):
    """core rule and target 5 C lower in cores and lots"""
    for c in p["cores"]:
        if c["is_raw"]:
            for k in ("rule_core_c", "end_core_c"):
                c[k] -= 5
            for l in of(p["lots"], id=c["lot"]):
                for k in ("smoke_to_c", "finish_to_c"):
                    if l.get(k):
                        l[k] -= 5
            return True
    return False


@lie
def no_warnings(p):
    """every warning removed"""
    must = [w for w in p["warnings"] if w["code"] in ("hands-short", "nobody-on-shift", "roast-chart", "come-up", "lethality")]
    p["warnings"] = []
    return must


@lie
def blanket_excuse(p):
    """a wrap two hours late, and a warning that hands are short somewhere"""
    for t in tasks(p, "wrap", "wrap_carry", "off"):
        t["at_min"] += 120
        t["latest_min"] += 120
        p["warnings"].append({"code": "hands-short", "text": "Hands are short.", "late_min": 120, "tasks": [p["tasks"][0]["id"]]})
        return True
    return False


@lie
def nobody_excused(p):
    """nobody serves, and a warning names another task"""
    for t in tasks(p, "serve"):
        t["person"], t["role"] = None, ""
        p["warnings"].append({"code": "nobody-on-shift", "text": "Nobody is there.", "late_min": 0, "tasks": [p["tasks"][0]["id"]]})
        return True
    return False


# ---- need and pieces --------------------------------------------------------------------------------------------

@lie
def fewer_pieces(p):
    """a quarter fewer pieces in lots, needs, loads and tasks"""
    for l in p["lots"]:
        n = l["pieces"]
        if n < 4:
            continue
        keep = n * 3 // 4
        l["pieces"] = keep
        for r in p["raw_needs"]:
            if r.get("lot") == l["id"] or (r.get("service"), r.get("cut")) == (l.get("service"), l.get("cut")):
                r["pieces"] = keep
        for x in of(p["loads"], lot=l["id"]):
            at = [i for i, q in enumerate(x["piece_ids"]) if q < keep]
            x["piece_ids"] = [x["piece_ids"][i] for i in at]
            if x.get("rects"):
                x["rects"] = [x["rects"][i] for i in at if i < len(x["rects"])]
            x["pieces"] = len(at)
        p["loads"] = [x for x in p["loads"] if x["pieces"]]
        for t in of(p["tasks"], lot=l["id"]):
            t["piece_ids"] = [q for q in t["piece_ids"] if q < keep]
            t["pieces"] = min(t["pieces"], len(t["piece_ids"]))
        return True
    return False


@lie
def half_the_guests_eat(p):
    """a dish asked for by half, with need, mean and spread halved"""
    for d in p["demand"]:
        if d.get("need_kg"):
            for k in ("mean_kg", "need_kg", "sd_kg"):
                if d.get(k):
                    d[k] *= 0.5
            return True
    return False


@lie
def better_yield(p):
    """a raw need whose yield is a third better and whose raw weight is less"""
    for r in p["raw_needs"]:
        if r.get("yield_frac") and r.get("raw_mean_kg"):
            r["yield_frac"] *= 1.3
            r["cook_frac"] *= 1.3
            return True
    return False


# ---- tasks ------------------------------------------------------------------------------------------------------

@lie
def no_tasks(p):
    """every task deleted"""
    p["tasks"] = []
    return True


for KIND in ("order", "take_in", "prep", "light", "feed", "fire_check", "load", "core", "wrap", "wrap_carry", "probe",
             "off", "cut", "pan_up", "drive", "set_up", "serve", "clear", "cool", "cool_check", "burn_down", "ash",
             "hold_check", "bark_test"):
    def no_kind(p, kind=KIND):
        return drop_tasks(p, tasks(p, kind))
    LIES.append(("every task of kind %s deleted" % KIND, no_kind))


@lie
def load_late(p):
    """a load put on half an hour late in its task alone"""
    for t in tasks(p, "load"):
        t["at_min"] += 31
        return True


@lie
def load_and_task_late(p):
    """a load put on and taken off half an hour late, tasks, visits and all that comes after it left"""
    x = p["loads"][0]
    x["start_min"] += 30
    x["end_min"] += 30
    return True


@lie
def lot_late(p):
    """every load and task of one lot half an hour later"""
    lot = first_lot(p)
    for x in of(p["loads"], lot=lot):
        x["start_min"] += 30
        x["end_min"] += 30
    for t in of(p["tasks"], lot=lot):
        t["at_min"] += 30
        t["latest_min"] += 30
    return lot


@lie
def lit_late(p):
    """a fire lit two hours late in burn and task"""
    b = p["burns"][0]
    for t in tasks(p, "light"):
        if t["place"] == b["pit"] and t["at_min"] == b["lit_min"]:
            t["at_min"] += 120
            t["latest_min"] += 120
    b["lit_min"] += 120
    return True


@lie
def burn_moved(p):
    """a whole burn an hour later with its feeds and fire tasks"""
    b = p["burns"][0]
    for t in tasks(p, "light", "feed", "fire_check", "burn_down", "ash",
             "hold_check", "bark_test"):
        if t["place"] == b["pit"] and b["lit_min"] <= t["at_min"] <= b["out_min"] + 240:
            t["at_min"] += 60
            t["latest_min"] += 60
    for k in ("lit_min", "ready_min", "out_min"):
        b[k] += 60
    for f in b["feeds"]:
        f["at_min"] += 60
    return True


@lie
def day_moved(p):
    """everything on site half an hour later, but for the service"""
    for x in p["loads"] + p["visits"]:
        for k in ("start_min", "end_min", "at_min"):
            if k in x:
                x[k] += 30
    for b in p["burns"]:
        for k in ("lit_min", "ready_min", "out_min"):
            b[k] += 30
        for f in b["feeds"]:
            f["at_min"] += 30
    for t in p["tasks"]:
        if t["at_hand"] == "site" and t["kind"] != "serve":
            t["at_min"] += 30
            t["latest_min"] += 30
    return True


@lie
def no_such_pieces(p):
    """a load task with pieces that do not exist"""
    for t in tasks(p, "load"):
        t["piece_ids"] = [q + 1000 for q in t["piece_ids"]]
        return True


@lie
def more_pieces(p):
    """a task with more pieces than its lot has"""
    for t in tasks(p, "off"):
        t["pieces"] += 1000
        return True


@lie
def no_such_place(p):
    """a task at a pit that does not exist"""
    for t in tasks(p, "load"):
        t["place"] = t["to_place"] = "another-pit"
        return True


@lie
def other_place(p):
    """food put on another pit than its load says"""
    pits = [x["id"] for x in p["pits"]]
    for t in tasks(p, "load"):
        others = [q for q in pits if q != t["to_place"]]
        if others:
            t["place"] = t["to_place"] = others[0]
            return True
    return False


@lie
def five_at_once(p):
    """five tasks of one person at one minute"""
    who = next(t["person"] for t in p["tasks"] if t["person"])
    mine = [t for t in p["tasks"] if t["person"] == who and t["minutes"] > 0]
    busiest = max({t["person"] for t in p["tasks"] if t["person"]}, key=lambda q: len(of(p["tasks"], person=q)))
    mine = [t for t in of(p["tasks"], person=busiest) if t["minutes"] > 0][-5:]
    for t in mine:
        t["at_min"] = t["latest_min"] = mine[0]["at_min"]
    return len(mine) == 5


@lie
def two_persons_swapped(p):
    """two people of different roles trade their tasks, roles left"""
    a = next((q for q in p["people"] for r in p["people"] if q["role"] != r["role"]), None)
    b = next((r for r in p["people"] if a and a["role"] != r["role"] and of(p["tasks"], person=r["id"])), None)
    if not a or not b:
        return False
    for t in p["tasks"]:
        t["person"] = {a["id"]: b["id"], b["id"]: a["id"]}.get(t["person"], t["person"])
    return True


@lie
def two_of_one_name(p):
    """two people on shift at once are called alike"""
    for a in p["people"]:
        for b in p["people"]:
            if a["id"] != b["id"] and a["from_min"] < b["to_min"] and b["from_min"] < a["to_min"]:
                b["name"] = a["name"]
                return True
    return False


@lie
def two_persons_swapped_whole(p):
    """two people of different roles and shifts trade their tasks, roles with them"""
    for a in p["people"]:
        for b in p["people"]:
            if a["from_min"] != b["from_min"] and a["role"] != b["role"] and of(p["tasks"], person=a["id"]) and of(p["tasks"], person=b["id"]):
                for t in p["tasks"]:
                    if t["person"] in (a["id"], b["id"]):
                        other = b if t["person"] == a["id"] else a
                        t["person"], t["role"] = other["id"], other["role"]
                return True
    return False


@lie
def lots_swapped(p):
    """the loads of two lots trade their lots"""
    two = list(dict.fromkeys(x["lot"] for x in p["loads"]))[:2]
    for x in p["loads"]:
        x["lot"] = {two[0]: two[-1], two[-1]: two[0]}.get(x["lot"], x["lot"])
    return len(two) == 2


@lie
def tasks_of_lots_swapped(p):
    """the tasks of two lots trade their lots"""
    two = list(dict.fromkeys(x["lot"] for x in p["loads"]))[:2]
    for t in p["tasks"]:
        t["lot"] = {two[0]: two[-1], two[-1]: two[0]}.get(t["lot"], t["lot"])
    return len(two) == 2


@lie
def work_in_no_time(p):
    """every task takes one minute"""
    for t in p["tasks"]:
        t["minutes"] = min(t["minutes"], 1)
    return True


@lie
def loading_in_no_time(p):
    """loading, wrapping and taking off take no time"""
    hit = tasks(p, "load", "wrap", "wrap_carry", "off", "cut", "prep")
    hit = [t for t in hit if t["minutes"] > 1 and t["lot"]]
    for t in hit:
        t["minutes"] = 0
    return hit


@lie
def no_order_of_work(p):
    """nothing comes after anything"""
    for t in p["tasks"]:
        t["after"] = []
    return True


@lie
def cut_before_off(p):
    """a piece is cut before it is off"""
    for t in tasks(p, "cut"):
        for u in tasks(p, "off"):
            if u["lot"] == t["lot"] and set(u["piece_ids"]) & set(t["piece_ids"]):
                t["at_min"] = u["at_min"] - 60
                t["after"] = []
                return True
    return False


@lie
def items_of_prep(p):
    """nothing is used by any preparation"""
    hit = [t for t in tasks(p, "prep", "brine", "thaw") if t["items"] and t["lot"]]
    for t in hit:
        t["items"] = []
    return hit


@lie
def taken_in_empty(p):
    """what is taken in is not said"""
    hit = [t for t in tasks(p, "take_in") if t["items"]]
    for t in hit:
        t["items"] = []
    return hit


# ---- fire -------------------------------------------------------------------------------------------------------

@lie
def a_third_of_the_wood(p):
    """wood of all burns and of the purchase at 30 %"""
    for b in p["burns"]:
        b["fuel_kg"] *= 0.3
        for f in b["feeds"]:
            f["kg"] *= 0.3
    for f in p["fuels"]:
        if not f["is_charcoal"]:
            for k in ("need_kg", "buy_kg"):
                f[k] *= 0.3
    return True


@lie
def shell_by_ten(p):
    """ten times the heat through the shell for the same wood"""
    for b in p["burns"]:
        b["shell_kw"] *= 10
    return True


@lie
def no_start_charcoal(p):
    """fires start without charcoal, and none is bought"""
    hit = [b for b in p["burns"] if b.get("start_charcoal_kg")]
    for b in hit:
        b["start_charcoal_kg"] = 0
    for q in p["pits"]:
        if "start_charcoal_kg" in q:
            q["start_charcoal_kg"] = 0
    return hit


@lie
def less_bought_than_burnt(p):
    """half the fuel bought"""
    for f in p["fuels"]:
        f["buy_kg"] *= 0.5
    return True


@lie
def fed_once(p):
    """all the wood of a fire laid on at once"""
    for b in p["burns"]:
        if len(b["feeds"]) > 2:
            b["feeds"] = [dict(b["feeds"][0], kg=b["fuel_kg"])]
            return True
    return False


# ---- purchases --------------------------------------------------------------------------------------------------

@lie
def parts_doubled(p):
    """parts of a mix doubled"""
    for m in p["mixes"]:
        for q in m["parts"]:
            for k in list(q):
                if isinstance(q[k], (int, float)) and not isinstance(q[k], bool):
                    q[k] *= 2
        return True
    return False


@lie
def order_without_rows(p):
    """an order of a supplier that sells nothing"""
    if not p["orders"]:
        return False
    p["orders"].append(dict(copy.deepcopy(p["orders"][0]), supplier="Another shop"))
    return True


@lie
def half_the_packs(p):
    """half the packs of a line at half its cost"""
    for q in p["purchases"]:
        if q["packs"] > 1:
            q["cost_cents"] = q["cost_cents"] * (q["packs"] // 2) // q["packs"]
            q["packs"] //= 2
            return True
    return False


@lie
def delivered_late(p):
    """delivery after the event, with its keeping time"""
    for q in p["purchases"]:
        if q.get("deliver_min") is not None:
            for k in ("deliver_min", "order_by_min", "keeps_to_min"):
                if q.get(k) is not None:
                    q[k] += 20160
            return True
    return False


# ---- money ------------------------------------------------------------------------------------------------------

@lie
def cheap_rung(p):
    """a rung of the ladder at half its price and total"""
    for r in p["quote"]["ladder"]:
        for k in ("price_cents", "total_cents", "per_guest_cents"):
            r[k] //= 2
        return True
    return False


@lie
def rung_misses_less(p):
    """a rung that is said to fit where pieces were missing, or to miss what fits"""
    hit = False
    for r in p["quote"]["ladder"]:
        if r.get("missed"):
            r["missed"] = 0
            hit = True
    return hit


@lie
def dues_swapped(p):
    """due dates in the wrong order"""
    d = p["quote"]["dues"]
    if len(d) < 2 or d[0]["date"] == d[-1]["date"]:
        return False
    d[0]["date"], d[-1]["date"] = d[-1]["date"], d[0]["date"]
    return True


@lie
def due_never(p):
    """a due date that does not exist"""
    for d in p["quote"]["dues"]:
        d["date"] = d["date"][:5] + "02-30"
        return True
    return False


@lie
def other_head_count(p):
    """ten guests more in event and quote"""
    p["event"]["head_count"] += 10
    p["quote"]["guests"] += 10
    return True


@lie
def offset_against_zone(p):
    """the clock an hour beside its zone"""
    p["event"]["utc_offset_min"] += 60
    return True


@lie
def cheaper_solution(p):
    """cost, gap and a part of the solution lower"""
    s = p["solution"]
    part = max((k for k in s["parts"]), key=lambda k: s["parts"][k])
    s["parts"][part] -= s["cost"] * 0.1
    s["cost"] *= 0.9
    s["gap_frac"] = max(0, (s["cost"] - s["bound"]) / s["cost"]) if s.get("bound") else s.get("gap_frac")
    return True


@lie
def ovens_longer(p):
    """ovens used five hours longer"""
    if not p.get("ovens") or p["ovens"].get("hours") is None:
        return False
    p["ovens"]["hours"] += 5
    return True


@lie
def cheaper_crew(p):
    """the crew's wage lower in crew and people, labour as it was"""
    hit = [c for c in p["crew"] if c["cents_per_h"] > 0]
    for c in hit + [q for q in p["people"] if q["cents_per_h"] > 0]:
        c["cents_per_h"] *= 0.9
    return hit


@lie
def crew_longer(p):
    """a shift two hours longer in crew and people, labour as it was"""
    for c in p["crew"]:
        if c["cents_per_h"] > 0 and c["count"] > 0:
            for q in p["people"]:
                if q["role"] == c["role"] and q["from_min"] == c["from_min"] and q["to_min"] == c["to_min"]:
                    q["to_min"] += 120
            c["to_min"] += 120
            return True
    return False


# ---- doors and racks --------------------------------------------------------------------------------------------

@lie
def doors_joined(p):
    """a visit of a load left out"""
    for x in p["loads"]:
        for v in p["visits"]:
            if v["at_min"] == x["start_min"]:
                p["visits"].remove(v)
                for t in p["tasks"]:
                    if t["visit"] == v["id"]:
                        t["visit"] = None
                return True
    return False


@lie
def no_reasons(p):
    """a visit to read or mop alone ten minutes after another of its pit, without a word why"""
    last = {}
    for v in sorted(p["visits"], key=lambda v: v["at_min"]):
        free = set(v["does"]) <= {"mop", "core", "bark_test", "probe"}
        if v["pit"] in last and free and v["at_min"] - last[v["pit"]] > 10:
            by = v["at_min"] - last[v["pit"]] - 10
            v["at_min"] -= by
            v["reason"] = None
            for t in p["tasks"]:
                if t["visit"] == v["id"]:
                    t["at_min"] -= by
            return True
        last[v["pit"]] = v["at_min"]
    return False


@lie
def all_on_one_spot(p):
    """all pieces of a load on one spot"""
    for x in p["loads"]:
        if len(x.get("rects") or []) > 1:
            x["rects"] = [copy.deepcopy(x["rects"][0]) for _ in x["rects"]]
            return True
    return False


@lie
def shorter_smoke(p):
    """a smoke an hour shorter, the finish begins sooner and is longer"""
    for x in of(p["loads"], stage="smoke"):
        for y in of(p["loads"], lot=x["lot"], stage="finish"):
            if y["start_min"] == x["end_min"] and set(y["piece_ids"]) & set(x["piece_ids"]):
                for z in of(p["loads"], lot=x["lot"]):
                    if z["stage"] == "smoke" and z["end_min"] == x["end_min"] and z is not x:
                        z["end_min"] -= 60
                y["start_min"] -= 60
                x["end_min"] -= 60
                return True
    return False


@lie
def no_rest(p):
    """no lot rests: least rests and rests of nothing"""
    hit = False
    for l in p["lots"]:
        if l.get("rest_min", 0) > 0:
            l["rest_min"] = 0
            hit = True
    return hit


@lie
def fewer_portions_than_usual(p):
    """of guests who need not book, fewer portions for a full day than for a usual one"""
    walk_ups = [s["id"] for s in p["services"] if s.get("walk_most_frac", 1) > s.get("walk_least_frac", 1)]
    for d in p["demand"]:
        if d["service"] in walk_ups and d["portions"] >= 50 and d["cover"] >= 0.9:
            d["portions_cover"] = d["portions"] - 10
            return True
    return False


def main():
    program, plans = sys.argv[1], sys.argv[2:]
    used = [0] * len(LIES)
    told = passed = 0
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "plan.json")
        for nth, name in enumerate(plans):
            with open(name, encoding="utf-8") as f:
                good = json.load(f)
            for i, (words, f) in enumerate(LIES):
                plan = copy.deepcopy(good)
                if nth == 2 and used[i]:  # the large one only for what the others give no occasion to
                    continue
                if not f(plan):
                    continue
                assert plan != good, words
                used[i] += 1
                told += 1
                with open(path, "w", encoding="utf-8") as out:
                    json.dump(plan, out)
                got = subprocess.run([program, "verify", "-q", path], capture_output=True, text=True)
                if got.returncode not in (0, 1, 3) and "[J" not in got.stderr + got.stdout:
                    print("%s: %s: status %d: %s" % (os.path.basename(name), words, got.returncode, got.stderr[:200]))
                    passed += 1
                elif got.returncode == 0:
                    print("%s: passes: %s" % (os.path.basename(name), words))
                    passed += 1
    for i, (words, _) in enumerate(LIES):
        if not used[i]:
            print("applies to no plan: %s" % words)
    print("%d lies told of %d plans, %d pass" % (told, len(plans), passed))
    return 1 if passed or not all(used) else 0


sys.exit(main())
