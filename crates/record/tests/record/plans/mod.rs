//! A plan for the tests, and a way to spoil it.

#![allow(dead_code, reason = "each test uses what it needs of this")]

/// One part of every kind, all valid.
pub const WHOLE: &str = r#"format = 1
[wing]
name = "whole"
side = "left"
attitude = "chord-level"
root = 0
tip = "1.5 m"
note = "one of each"
[wing.material]
expansion = 23.0e-6
expansion_u = 2e-7
[rule]
acceptance = "guarded"
level = 0.95
max_order = 3
[tolerance]
setting = "0.5 deg"
washout = { upper = 0.35 }
station = { lower = "-0°20'", upper = "0°40'" }
straightness = "1/16 in"
spacing = 2
[[station]]
name = "S1"
span = 0
chord = 1000
incidence = "2°"
fixture = 0.1
height_angle = -0.2
[[station]]
name = "S2"
span = "1.5 m"
chord = 1000
incidence = 1
[[spar]]
name = "front"
aft_root = 250
[[spar]]
name = "rear"
aft_root = 700
aft_tip = 600
[[post]]
name = "post"
span = -100
foot = [{ name = "fore", aft = -400, travel = 10, screw = { per_turn = 1.5, clockwise = "raises" } }]
[[support]]
name = "root front"
span = 0
spar = "front"
direction = "up"
travel = { minus = 4, plus = 8 }
shims = [0.5, 0.1, "0.2 mm"]
[[support]]
name = "tip front"
span = 1500
spar = "front"
direction = "aft"
travel = 5
screw = { per_turn = "1/16 in", clockwise = "forward" }
[[support]]
name = "tip rear"
span = 1500
spar = "rear"
direction = "up"
[[line]]
spar = "front"
direction = "up"
weight = 0.0151
tension = 50
[[bay]]
name = "bay"
a = 1000
b = 450
diagonals = ["D1", "D2"]
[shaft]
name = "tube"
diameter = 30
clearance = 0.05
[[bush]]
name = "B2"
span = 1400
bore = 30.3
[[bush]]
name = "B1"
span = 100
bore = 30.3
[[spot]]
name = "bolt 1"
quantity = "torque"
lower = "80 in-lb"
upper = "95 in-lb"
[[spot]]
name = "CS1"
quantity = "length"
upper = 0.1
row = "top"
place = 1
[[instrument]]
name = "beam level"
number = "0417"
kind = "inclinometer"
resolution = "0°06'"
accuracy = 0.1
repeatability = 0.04
scale = 0.001
checked = "2031-01-10"
due = 2032-01-10
[[stage]]
name = "bare"
requires = ["level@*"]
[[stage]]
name = "ready"
requires = ["spot@*", "height@*", "offset@front:*", "incidence@*", "incidence@S1"]
disturbs = ["*@S1"]
open = ["bolts not torqued"]
"#;

/// The whole plan with one thing changed.
#[track_caller]
pub fn spoiled(from: &str, to: &str) -> String {
    assert!(WHOLE.contains(from), "the plan has no {from:?}");
    WHOLE.replacen(from, to, 1)
}
