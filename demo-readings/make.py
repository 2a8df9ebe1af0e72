#!/usr/bin/env python3
"""Makes the plans and the steps of the demo cases. Everything is invented: the wing, the jig, the readings.

A simulated wing with a known twist is read with simulated instruments (seeded), so the files never change unless this does.
Run it in this folder: python3 make.py
"""
import json
import math
import random
from pathlib import Path

HERE = Path(__file__).parent
DAY = 86_400


def stations(n, first, last):
    return [(f"S{i + 1}", round(first + (last - first) * i / (n - 1), 1)) for i in range(n)]


TOLERANCES = {
    "setting": '"0.5 deg"',
    "washout": "0.25             # degrees where no unit is written, both ways",
    "station": "0.25",
    "neighbour": "0.35",
    "left_right": '"0°18\'"',
    "straightness": '"1.2 mm"',
    "level": "0.15",
    "cross": "0.15",
    "square": "{ lower = -0.1, upper = 0.1 }",
    "spacing": '"1.5 mm"',
}
TWIST = ["setting", "washout", "station", "neighbour", "left_right"]


def plan(case, side, attitude, spans, stages, tolerances=TOLERANCES, extra=""):
    root, tip = spans[0][1], spans[-1][1]
    plumb = "" if attitude == "chord-level" else \
        '\nplumb_side = "lower"       # the plumb lines hang beside the lower surface'
    # A tolerance of what nobody measures would hold the gate for ever.
    limits = "\n".join(f"{key} = {TOLERANCES[key]}" for key in tolerances)
    out = [f"""# An invented wing on an invented jig. Its tolerances are invented with it: never use them for a real wing.
format = 1

[wing]
name = "{case}"
side = "{side}"
attitude = "{attitude}"{plumb}
note = "invented, as are all its readings"

[wing.material]            # of the aluminium, for lengths at 20 degrees
expansion = 23.0e-6
expansion_u = 0.2e-6

[rule]
acceptance = "guarded"
level = 0.95

[tolerance]                # from the kit maker's data; leave out what has none
{limits}
"""]
    for name, span in spans:
        eta = (span - root) / (tip - root)
        out.append(f"""[[station]]
name = "{name}"
span = {span}
chord = {1400 - 150 * eta:.1f}
incidence = {design(eta):.2f}
""")
    out.append(f"""[[spar]]
name = "front"
aft_root = 350
aft_tip = 330

[[spar]]
name = "rear"
aft_root = 980
aft_tip = 900
""")
    for post, span in (("root-post", 0), ("tip-post", tip + 150)):
        who = post.split("-")[0]
        out.append(f"""[[post]]
name = "{post}"
span = {span}
foot = [
  {{ name = "{who} fore foot", aft = -450, out = 150, travel = 15, screw = {{ per_turn = 1.5, clockwise = "raises" }} }},
  {{ name = "{who} aft foot", aft = 450, out = 150, travel = 15, screw = {{ per_turn = 1.5, clockwise = "raises" }} }},
  {{ name = "{who} inboard foot", aft = 0, out = -200, travel = 15, screw = {{ per_turn = 1.5, clockwise = "raises" }} }},
]
""")
    for where, span in (("root", 0), ("tip", tip + 100)):
        for spar in ("front", "rear"):
            adjust = 'screw = { per_turn = 1.25, clockwise = "raises" }'
            if (where, spar) == ("root", "rear"):
                adjust = "shims = [0.1, 0.2, 0.5, 1.0]"
            out.append(f"""[[support]]
name = "{where} {spar}"
span = {span}
spar = "{spar}"
direction = "up"
travel = 12
{adjust}
""")
    for name, kind, resolution, accuracy, repeat, more in (
        ("beam level", "inclinometer", "0.05", "0.1", "0.03", ""),
        ("line gauge", "caliper", "0.05", "0.1", "0.05", ""),
        ("depth gauge", "caliper", "0.01", "0.02", "0.005", ""),
        ("steel tape", "tape", "0.5", "0.3", "0.2", "expansion = 11.5e-6\n"),
        ("torque wrench", "torque-wrench", "0.1", "0.15", "0.1", ""),
    ):
        number = f'{sum(map(ord, name)) % 9000 + 1000}'
        out.append(f"""[[instrument]]
name = "{name}"
number = "{number}"
kind = "{kind}"
resolution = {resolution}
accuracy = {accuracy}
repeatability = {repeat}
{more}checked = "2031-01-10"
due = "2032-01-10"
""")
    out.append(extra)
    for name, requires, disturbs, left_open in stages:
        lists = [f'requires = [{", ".join(chr(34) + r + chr(34) for r in requires)}]']
        if disturbs:
            lists.append(f'disturbs = [{", ".join(chr(34) + d + chr(34) for d in disturbs)}]')
        if left_open:
            lists.append(f'open = [{", ".join(chr(34) + o + chr(34) for o in left_open)}]')
        out.append(f'[[stage]]\nname = "{name}"\n' + "\n".join(lists) + "\n")
    return "\n".join(out)


def design(eta):
    return 2.0 - 2.5 * eta


class Steps:
    """What happens, line by line; `at` is minutes since the start."""

    def __init__(self, seed):
        self.lines = ["minute,action,what,value,facing,instrument,temperature_C,by,note"]
        self.minute = 0
        self.random = random.Random(seed)
        self.by = "builder"

    def add(self, action, what, value="", facing="", instrument="", temperature="", note="", by=None, wait=1):
        self.minute += wait
        self.lines.append(f'{self.minute},{action},{what},{value},{facing},{instrument},{temperature},{by or self.by},{note}')

    def take(self, point, truth, instrument, step, sd, decimals, facing="", zero=0.0, temperature="", note=""):
        sign = -1 if facing == "aft" else 1
        shown = round((sign * truth + zero + self.random.gauss(0, sd)) / step) * step
        self.add("take", point, f"{shown:.{decimals}f}", facing, instrument, temperature, note)

    def pair(self, point, truth, zero=0.12):
        for facing in ("forward", "aft"):
            self.take(point, truth, "beam level", 0.05, 0.025, 2, facing, zero)

    def write(self, folder):
        (HERE / folder / "steps.csv").write_text("\n".join(self.lines) + "\n")


def outcome(case, gate, exit_code, setting, washout, reasons=None):
    """What must come out: the truth the readings were made from, and at least these reasons."""
    truth = {"setting_deg": setting, "washout_error_deg": washout}
    text = json.dumps({"gate": gate, "exit": exit_code, "truth": truth, "reasons": reasons or {}}, indent=2)
    (HERE / case / "outcome.json").write_text(text + "\n")


BUSHES = """[shaft]
name = "torque tube"
diameter = 30.0
clearance = 0.05

""" + "\n".join(f"""[[bush]]
name = "B{i + 1}"
span = {span}
bore = 30.3
""" for i, span in enumerate((400, 1500, 2700, 3800))) + """
[[line]]
spar = "front"
direction = "up"
weight = 0.0151   # newtons per metre of wire
tension = 50      # newtons

[[line]]
spar = "rear"
direction = "up"
weight = 0.0151
tension = 50

[[bay]]
name = "inboard bay"
a = 718.2
b = 627.5
diagonals = ["D1", "D2"]

""" + "\n".join(f"""[[spot]]
name = "BR{i + 1}"
quantity = "torque"
lower = 8.0
upper = 11.0
""" for i in range(4)) + "\n" + "\n".join(f"""[[spot]]
name = "CS{i + 1}"
quantity = "length"
lower = 0.0
upper = 0.15
row = "front spar top, countersinks"
place = {i + 1}
""" for i in range(10))

ALL_STAGES = [
    ("jig empty", ["level@*", "cross@*"], [], []),
    ("spar bolted", ["offset@front:*", "spot@BR*"], [], ["tip post brace held by clamps only"]),
    ("ribs inboard", [f"incidence@S{i}" for i in range(1, 7)] + [f"spacing@S{i}" for i in range(1, 7)],
     ["incidence@*"], []),
    ("ribs outboard", ["incidence@*", "spacing@*"], ["incidence@*"], ["prop still under the rear spar at S9"]),
    ("rear spar on", ["height@*", "offset@rear:*", "diagonal@*", "bore*"],
     ["incidence@*", "offset@front:*", "bore-aft@*", "bore-up@*"], []),
    ("ready to skin",
     ["level@*", "cross@*", "diagonal@*", "spacing@*", "offset@*", "incidence@*", "bore*", "spot@*"],
     ["incidence@*", "height@*", "level@*", "cross@*"], []),
]

# Ribs stand closer where the loads come in: at the root, at the strut and at the tip.
TWELVE = [(f"S{i + 1}", float(span)) for i, span in
          enumerate((250, 520, 860, 1240, 1640, 1980, 2290, 2560, 2910, 3350, 3820, 4200))]


def eta_of(spans, span):
    return (span - spans[0][1]) / (spans[-1][1] - spans[0][1])


def walk(s, spans, names, setting, twist):
    for name, span in spans:
        if name in names:
            eta = eta_of(spans, span)
            s.pair(f"incidence@{name}", design(eta) + setting + twist(eta))


def heights(s, spans, setting, twist):
    """Heights of both spars above the datum line, from which the incidence follows."""
    for name, span in spans:
        eta = eta_of(spans, span)
        apart = (980 - 350) + ((900 - 330) - (980 - 350)) * eta
        angle = math.radians(design(eta) + setting + twist(eta))
        for spar, z in (("front", 240.0 + apart * math.sin(angle)), ("rear", 240.0)):
            s.take(f"height@{spar}:{name}", z, "line gauge", 0.05, 0.05, 2)


def offsets(s, spans, spar, bow):
    length = spans[-1][1] - spans[0][1]
    for name, span in spans:
        y = span - spans[0][1]
        sag = 0.0151e-3 * y * (length - y) / (2 * 50)
        s.take(f"offset@{spar}:{name}", 12.0 + bow * math.sin(math.pi * y / length) + 0.0003 * y + sag,
               "line gauge", 0.05, 0.04, 2)


def bores(s):
    for i, span in enumerate((400, 1500, 2700, 3800)):
        bow = (0.0, 0.06, 0.04, 0.0)[i]
        s.take(f"bore@B{i + 1}", 30.3 + 0.01 * (i % 2), "depth gauge", 0.01, 0.004, 2)
        s.take(f"bore-aft@B{i + 1}", 402.0 - 0.002 * span + bow, "depth gauge", 0.01, 0.004, 2)
        s.take(f"bore-up@B{i + 1}", 85.0 + bow / 2, "depth gauge", 0.01, 0.004, 2)


def two_post():
    spans = TWELVE
    every = [n for n, _ in spans]
    s = Steps(11)
    s.add("stage", "jig empty")
    for post, level, cross in (("root-post", 0.05, 0.62), ("tip-post", -0.04, 0.03)):
        s.pair(f"level@{post}", level)
        s.pair(f"cross@{post}", cross)
    s.add("move", "root aft foot", "3 1/4 turns clockwise", wait=4)
    s.add("move", "root fore foot", "3 1/4 turns anticlockwise")
    for post, level, cross in (("root-post", 0.03, -0.001), ("tip-post", -0.04, 0.03)):
        s.pair(f"level@{post}", level)
        s.pair(f"cross@{post}", cross)

    s.add("stage", "spar bolted", wait=DAY // 60)
    offsets(s, spans, "front", 0.35)
    for i in range(4):
        s.take(f"spot@BR{i + 1}", 9.2 + 0.1 * i, "torque wrench", 0.1, 0.08, 1)

    s.add("stage", "ribs inboard", wait=DAY // 60)
    first = every[:6]
    walk(s, spans, first, 0.06, lambda e: -0.95 * e)
    for name, span in spans[:6]:
        s.take(f"spacing@{name}", (span - 250) * (1 + 11.5e-6 * 3) + 0.2, "steel tape", 0.5, 0.15, 1, temperature="23.0")
    s.add("move", "tip front", "8 1/2 turns clockwise", wait=5)
    walk(s, spans, first, 0.05, lambda e: -0.04 * e)

    s.add("stage", "ribs outboard", wait=DAY // 60)
    walk(s, spans, every, 0.05, lambda e: -0.07 * e - 0.05 * e * e)
    for name, span in spans:
        s.take(f"spacing@{name}", (span - 250) * (1 + 11.5e-6 * 1) + 0.2, "steel tape", 0.5, 0.15, 1, temperature="21.0")

    s.add("stage", "rear spar on", wait=2 * DAY // 60)
    s.take("height@front:S7", 262.5, "line gauge", 0.05, 0.0, 2)
    s.add("withdraw", "last", note="read off the neighbouring mark")
    heights(s, spans, 0.04, lambda e: -0.09 * e)
    offsets(s, spans, "front", 0.3)
    offsets(s, spans, "rear", -0.25)
    s.take("diagonal@D1", 953.9, "steel tape", 0.5, 0.15, 1, temperature="21.0")
    s.take("diagonal@D2", 953.6, "steel tape", 0.5, 0.15, 1, temperature="21.0")
    bores(s)

    s.add("stage", "ready to skin", wait=DAY // 60)
    for post, level, cross in (("root-post", 0.02, 0.01), ("tip-post", -0.03, 0.02)):
        s.pair(f"level@{post}", level)
        s.pair(f"cross@{post}", cross)
    walk(s, spans, every, 0.05, lambda e: -0.08 * e)
    for i in range(10):
        s.take(f"spot@CS{i + 1}", 0.05 + 0.004 * i, "depth gauge", 0.01, 0.004, 2)
    s.add("close", "tip post brace held by clamps only", note="bolted", wait=20)
    s.add("close", "prop still under the rear spar at S9", note="taken away")
    s.write("two-post")
    outcome("two-post", "clear", 0, 0.05, -0.08)
    (HERE / "two-post" / "plan.toml").write_text(
        plan("Orrelby trainer, left wing", "left", "chord-level", spans, ALL_STAGES, extra=BUSHES))


def hold():
    """A case that must hold: something outside, undecided, missing, stale, open and out of date."""
    spans = TWELVE
    s = Steps(12)
    s.add("stage", "ready to skin")
    for post in ("root-post", "tip-post"):
        s.pair(f"level@{post}", 0.02)
    s.pair("cross@root-post", 0.15)
    s.pair("cross@tip-post", 0.4)
    walk(s, spans, [n for n, _ in spans[:11]], 0.1, lambda e: 0.32 * e)
    offsets(s, spans, "front", 2.4)
    offsets(s, spans, "rear", 0.2)
    bores(s)
    s.add("move", "tip rear", "1/2 turn clockwise")
    walk(s, spans, [n for n, _ in spans[:8]], 0.1, lambda e: 0.3 * e)
    s.take("incidence@S9", design(eta_of(spans, spans[8][1])) + 0.9, "beam level", 0.05, 0.02, 2, "forward", 0.0)
    for i in range(4):
        s.take(f"spot@BR{i + 1}", (9.2, 8.05, 12.6, 9.6)[i], "torque wrench", 0.1, 0.05, 1)
    s.add("open", "dial stand left on the tip post")
    s.write("hold")
    outcome("hold", "hold", 10, 0.1, 0.3, {
        "outside": ["tip-post", "BR3", "S9"],
        "undecided": ["root-post", "BR2", "S8"],
        "stale": ["setting"],
        "missing": ["S12", "S2", "inboard bay", "CS1"],
        "stage": ["spar bolted", "ribs outboard"],
        "open": ["dial stand left on the tip post"],
    })
    (HERE / "hold" / "plan.toml").write_text(
        plan("Orrelby trainer, second left wing", "left", "chord-level", spans, ALL_STAGES, extra=BUSHES))


def sixty():
    spans = stations(60, 200, 6100)
    every = [n for n, _ in spans]
    s = Steps(15)
    stages = [("ribs on", ["incidence@*"], [], []),
              ("ready to skin", ["incidence@*"], ["incidence@*"], [])]
    s.add("stage", "ribs on")
    walk(s, spans, every, 0.1, lambda e: 0.05 * e - 0.2 * e * e)
    s.add("stage", "ready to skin", wait=DAY // 60)
    walk(s, spans, every, 0.05, lambda e: 0.05 * e - 0.06 * e * e)
    s.write("sixty")
    outcome("sixty", "clear", 0, 0.05, -0.01)
    (HERE / "sixty" / "plan.toml").write_text(plan("Orrelby long wing, left", "left", "chord-level", spans, stages, TWIST))


def upright():
    spans = stations(8, 250, 4200)
    s = Steps(14)
    stages = [("ribs on", ["plumb@*"], [], []), ("ready to skin", ["plumb@*", "offset@*"], ["plumb@*"], [])]

    def plumb(twist):
        for name, span in spans:
            eta = eta_of(spans, span)
            apart = (980 - 350) + ((900 - 330) - (980 - 350)) * eta
            angle = math.radians(design(eta) + 0.08 + twist(eta))
            for spar, d in (("front", 200 + apart * math.sin(angle)), ("rear", 200.0)):
                s.take(f"plumb@{spar}:{name}", d, "line gauge", 0.05, 0.05, 2)

    s.add("stage", "ribs on")
    plumb(lambda e: 0.2 * e)
    s.add("stage", "ready to skin", wait=DAY // 60)
    plumb(lambda e: 0.03 * e)
    offsets(s, spans, "front", 0.3)
    offsets(s, spans, "rear", 0.2)
    s.write("upright")
    outcome("upright", "clear", 0, 0.08, 0.03)
    (HERE / "upright" / "plan.toml").write_text(
        plan("Orrelby trainer, right wing", "right", "leading-edge-down", spans, stages, TWIST + ["straightness"]))


for make in (two_post, hold, sixty, upright):
    make()
