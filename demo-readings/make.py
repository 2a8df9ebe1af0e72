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


def papers(serial, drawing, issue, place):
    """What stands on the papers: which wing it is, the drawing it is built to, and where."""
    lines = (("serial", serial), ("drawing", drawing), ("issue", issue), ("place", place))
    return "\n".join(f'{key} = "{text}"' for key, text in lines)


def plan(case, identity, side, attitude, spans, stages, tolerances=TOLERANCES, extra=""):
    root, tip = spans[0][1], spans[-1][1]
    plumb = "" if attitude == "chord-level" else \
        '\nplumb_side = "lower"       # the plumb lines hang beside the lower surface'
    # A tolerance of what nobody measures would hold the gate for ever.
    limits = "\n".join(f"{key} = {TOLERANCES[key]}" for key in tolerances)
    out = [f"""# An invented wing on an invented jig. Its tolerances are invented with it: never use them for a real wing.
format = 1

[wing]
name = "{case}"
{identity}
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


def apart(eta):
    """Between the spars, fore and aft, in mm."""
    return (980 - 350) + ((900 - 330) - (980 - 350)) * eta


SHARE = 0.7  # of the twist that the supports put in, what arrives in this invented wing; its ribs resist the rest


def turned(spans, eta, moves):
    """By how many degrees the incidence changes there, when supports at "root" and "tip" are moved by (front, rear) mm."""
    root, tip = spans[0][1], spans[-1][1]

    def rigid(eta):
        out = (root + (tip - root) * eta) / (tip + 100)
        front, rear = (moves["root"][i] * (1 - out) + moves["tip"][i] * out for i in (0, 1))
        return math.degrees((front - rear) / apart(eta))

    return rigid(0.5) + SHARE * (rigid(eta) - rigid(0.5))


def walk(s, spans, names, setting, twist):
    for name, span in spans:
        if name in names:
            eta = eta_of(spans, span)
            s.pair(f"incidence@{name}", design(eta) + setting + twist(eta))


def heights(s, spans, setting, twist):
    """Heights of both spars above the datum line, from which the incidence follows."""
    for name, span in spans:
        eta = eta_of(spans, span)
        angle = math.radians(design(eta) + setting + twist(eta))
        for spar, z in (("front", 240.0 + apart(eta) * math.sin(angle)), ("rear", 240.0)):
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
    s.add("move", "tip rear", "9 1/2 turns anticlockwise", wait=4)
    s.add("move", "root rear", "3 mm")
    moves = {"root": (0.0, 3.0), "tip": (0.0, -9.5 * 1.25)}
    walk(s, spans, first, 0.06, lambda e: -0.95 * e + turned(spans, e, moves))

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
        plan("Orrelby trainer, left wing", papers("07-L", "OT-200", "C", "shed 2, jig 1"), "left", "chord-level", spans,
             ALL_STAGES, extra=BUSHES))


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
        plan("Orrelby trainer, second left wing", papers("09-L", "OT-200", "C", "shed 2, jig 1"), "left", "chord-level", spans,
             ALL_STAGES, extra=BUSHES))


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
    (HERE / "sixty" / "plan.toml").write_text(
        plan("Orrelby long wing, left", papers("03-L", "OL-100", "A", "shed 1"), "left", "chord-level", spans, stages, TWIST))


def upright():
    spans = stations(8, 250, 4200)
    s = Steps(14)
    stages = [("ribs on", ["plumb@*"], [], []), ("ready to skin", ["plumb@*", "offset@*"], ["plumb@*"], [])]

    def plumb(twist):
        for name, span in spans:
            eta = eta_of(spans, span)
            angle = math.radians(design(eta) + 0.08 + twist(eta))
            for spar, d in (("front", 200 + apart(eta) * math.sin(angle)), ("rear", 200.0)):
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
        plan("Orrelby trainer, right wing", papers("07-R", "OT-201", "C", "shed 2, jig 2"), "right", "leading-edge-down",
             spans, stages, TWIST + ["straightness"]))


RIGGED = """# An invented aeroplane. Its limits are invented with it: never use them for a real one; those are in the type's own data.
format = 1

[aeroplane]
name = "Orrelby trainer"
@PAPERS@
note = "invented, as are all its readings"

[fuselage]                     # levelled first; its tilt is taken off every angle
pitch = 0.5
roll = 0.5

[[angle]]
name = "left wing"
of = "dihedral"
side = "left"
design = 5.0
tolerance = 0.25

[[angle]]
name = "right wing"
of = "dihedral"
side = "right"
design = 5.0
tolerance = 0.25

[[angle]]
name = "left root"
of = "incidence"
side = "left"
design = 2.0
tolerance = 0.25

[[angle]]
name = "right root"
of = "incidence"
side = "right"
design = 2.0
tolerance = 0.25

[[angle]]
name = "left tip"
of = "incidence"
side = "left"
design = -0.5
tolerance = 0.35

[[angle]]
name = "right tip"
of = "incidence"
side = "right"
design = -0.5
tolerance = 0.35

[[difference]]                 # the fuselage's tilt drops out of it
name = "left root less right root"
of = "rig-incidence@left root"
less = "rig-incidence@right root"
tolerance = "0°15'"

[[difference]]
name = "washout left"
of = "rig-incidence@left root"
less = "rig-incidence@left tip"
design = 2.5
tolerance = 0.25

[[difference]]
name = "washout right"
of = "rig-incidence@right root"
less = "rig-incidence@right tip"
design = 2.5
tolerance = 0.25

[[angle]]
name = "left wing"
of = "sweep"
side = "left"
design = 1.5
base = 3500                    # mm along the span from one plumb line to the other
tolerance = 0.2

[[angle]]
name = "right wing"
of = "sweep"
side = "right"
design = 1.5
base = 3500
tolerance = 0.2

[[angle]]
name = "fin"
of = "upright"
tolerance = 0.3

[[mark]]
name = "sternpost"
aft = 4300
right = 0

[[mark]]
name = "nose"
aft = -1500
right = 0

[[mark]]
name = "left wing"
aft = 0
right = -4000
up = 350

[[mark]]
name = "right wing"
aft = 0
right = 4000
up = 350

[[distance]]
name = "sternpost to left"
from = "sternpost"
to = "left wing"

[[distance]]
name = "sternpost to right"
from = "sternpost"
to = "right wing"

[[distance]]
name = "nose to left"
from = "nose"
to = "left wing"

[[distance]]
name = "nose to right"
from = "nose"
to = "right wing"

[[symmetry]]
name = "wing"
pair = [
  { left = "sternpost to left", right = "sternpost to right" },
  { left = "nose to left", right = "nose to right" },
]
yaw = 0.1
offset = 6

[[control]]
name = "left aileron"
laid = "fore-aft"              # the level lies in line with the aeroplane
hinge_sweep = 3.0
hinge_dihedral = 5.0
up = { lower = 19, upper = 21 }
down = { lower = 14, upper = 16 }
play = 2.0

[[control]]
name = "right aileron"
laid = "fore-aft"
hinge_sweep = 3.0
hinge_dihedral = 5.0
up = { lower = 19, upper = 21 }
down = { lower = 14, upper = 16 }
play = 2.0

[[control]]
name = "elevator"
laid = "square"
up = { lower = 24, upper = 26 }
down = { lower = 19, upper = 21 }

[[control]]
name = "rudder"                # up is to the left, down to the right
by = "chord"                   # straight from the trailing edge at neutral to where it is now
chord = 420
up = { lower = 24, upper = 26 }
down = { lower = 24, upper = 26 }

[[difference]]
name = "ailerons up"
of = "travel-up@left aileron"
less = "travel-up@right aileron"
tolerance = 1.0

[[cable]]
name = "rudder left"
chart = [{ at = "0 °C", tension = "41 lbf" }, { at = "20 °C", tension = "50 lbf" }, { at = "40 °C", tension = "60 lbf" }]
tolerance = "4 lbf"

[[cable]]
name = "rudder right"
chart = [{ at = "0 °C", tension = "41 lbf" }, { at = "20 °C", tension = "50 lbf" }, { at = "40 °C", tension = "60 lbf" }]
tolerance = "4 lbf"

[[bolt]]
name = "left front spar"
lower = 33.0
upper = 38.0
lever = 300
extension = 50
drag_rule = "add"

[[bolt]]
name = "right front spar"
lower = 33.0
upper = 38.0
lever = 300
extension = 50
drag_rule = "add"

[[instrument]]
name = "beam level"
number = "1042"
kind = "inclinometer"
resolution = 0.05
accuracy = 0.1
repeatability = 0.03
checked = "2031-01-10"
due = "2032-01-10"

[[instrument]]
name = "steel tape"
number = "2077"
kind = "tape"
resolution = 0.5
accuracy = 0.3
repeatability = 0.2
expansion = 11.5e-6
checked = "2031-01-10"
due = "2032-01-10"

[[instrument]]
name = "torque wrench"
number = "3015"
kind = "torque-wrench"
resolution = 0.1
accuracy = 0.3
repeatability = 0.1
checked = "2031-01-10"
due = "2032-01-10"

[[instrument]]
name = "tensiometer"
number = "4090"
kind = "tensiometer"
resolution = "1 lbf"
accuracy = "1 lbf"
repeatability = "0.5 lbf"
checked = "2031-01-10"
due = "2032-01-10"

[[rework]]                     # what goes stale with a wing that is moved
of = ["distance@*"]
stales = ["distance@*", "sweep@*", "rig-incidence@*"]

[[stage]]
name = "wings on"
requires = ["pitch@*", "roll@*", "dihedral@*", "rig-incidence@*", "sweep@*", "distance@*", "drag@*", "torque@*"]

[[stage]]
name = "tail on"
requires = ["upright@*"]

[[stage]]
name = "controls rigged"
requires = ["neutral@*", "travel-up@*", "travel-down@*", "play@*", "tension@*"]

[[stage]]
name = "rigged"
requires = ["pitch@*", "roll@*", "dihedral@*", "rig-incidence@*", "sweep@*", "distance@*", "upright@*", "neutral@*",
            "travel-up@*", "travel-down@*", "play@*", "tension@*", "drag@*", "torque@*"]
"""


def rigged():
    """A rigged aeroplane: a wing turned, a travel short and a tension low, each put right."""
    s = Steps(21)
    pitch, roll = 0.12, -0.06
    level = lambda point, truth: s.pair(point, truth)

    def angles(yaw):
        level("pitch@fuselage", pitch)
        level("roll@fuselage", roll)
        for side, sign in (("left", -1), ("right", 1)):
            level(f"dihedral@{side} wing", 5.02 + sign * roll)
        incidences()
        sweeps(yaw)

    def incidences():
        for side, off in (("left", 0.03), ("right", -0.02)):
            level(f"rig-incidence@{side} root", 2.0 + off + pitch)
            level(f"rig-incidence@{side} tip", -0.5 + 0.5 * off + pitch)

    def sweeps(yaw):
        for side, sign in (("left", -1), ("right", 1)):
            s.take(f"sweep@{side} wing", 3500 * math.tan(math.radians(1.5 + sign * yaw)), "steel tape", 0.5, 0.2, 1)

    def distances(yaw):
        w = math.radians(yaw)
        for mark, aft in (("sternpost", 4300), ("nose", -1500)):
            for side, sign in (("left", -1), ("right", 1)):
                x, y = sign * 4000 * math.sin(w), sign * 4000 * math.cos(w)
                s.take(f"distance@{mark} to {side}", math.hypot(math.hypot(x - aft, y), 350), "steel tape", 0.5, 0.2, 1)

    def shown(turned):
        sweep, dihedral = math.radians(3.0), math.radians(5.0)
        slope = math.tan(math.radians(turned)) * math.cos(sweep) + math.sin(dihedral) * math.sin(sweep)
        return math.degrees(math.atan(slope / math.cos(dihedral)))

    def surface(point, truth):
        s.take(point, truth, "beam level", 0.05, 0.025, 2, "", 0.12)

    s.add("stage", "wings on")
    angles(0.30)
    distances(0.30)
    s.add("rework", ";".join(f"distance@{m} to {side}" for m in ("sternpost", "nose") for side in ("left", "right")),
          note="left wing let aft at its drag fitting", wait=90)
    incidences()
    sweeps(0.01)
    distances(0.01)
    for side in ("left", "right"):
        s.take(f"drag@{side} front spar", 2.1, "torque wrench", 0.1, 0.05, 1)
        s.take(f"torque@{side} front spar", (35.4 + 2.1) * 300 / 350, "torque wrench", 0.1, 0.08, 1)

    s.add("stage", "tail on", wait=DAY // 60)
    level("upright@fin", 0.05 - roll)

    s.add("stage", "controls rigged", wait=DAY // 60)
    for side, up in (("left", 17.4), ("right", 20.1)):
        surface(f"neutral@{side} aileron", shown(0.0))
        surface(f"travel-up@{side} aileron", shown(up))
        surface(f"travel-down@{side} aileron", shown(-15.1))
        s.take(f"play@{side} aileron", 0.5, "steel tape", 0.5, 0.2, 1)
    s.add("rework", "travel-up@left aileron", note="stop let out", wait=25)
    surface("neutral@left aileron", shown(0.0))
    surface("travel-up@left aileron", shown(20.0))
    surface("travel-down@left aileron", shown(-15.1))
    for point, truth in (("neutral", 0.0), ("travel-up", 25.1), ("travel-down", -19.9)):
        surface(f"{point}@elevator", truth)
    for point in ("travel-up", "travel-down"):
        s.take(f"{point}@rudder", 2 * 420 * math.sin(math.radians(12.5)), "steel tape", 0.5, 0.2, 1)
    s.take("tension@rudder left", 50.4, "tensiometer", 1, 0.4, 0, temperature="21.0")
    s.take("tension@rudder right", 38.2, "tensiometer", 1, 0.4, 0, temperature="21.0")
    s.add("rework", "tension@rudder right", note="turnbuckle taken up and locked", wait=20)
    s.take("tension@rudder right", 50.6, "tensiometer", 1, 0.4, 0, temperature="21.0")
    s.add("stage", "rigged", wait=DAY // 60)
    s.write("rigged")
    (HERE / "rigged" / "plan.toml").write_text(
        RIGGED.replace("@PAPERS@", papers("07", "OT-010", "B", "field hangar")))
    truth = {"yaw of wing": 0.01, "travel up of left aileron": 20.0, "travel up of right aileron": 20.1,
             "incidence of left root": 2.03, "dihedral of right wing": 5.02, "difference washout left": 2.515,
             "torque of left front spar": 35.4, "sweep of left wing": 1.49}
    text = json.dumps({"gate": "clear", "exit": 0, "rigging": truth, "reasons": {}}, indent=2)
    (HERE / "rigged" / "outcome.json").write_text(text + "\n")


for make in (two_post, hold, sixty, upright, rigged):
    make()
