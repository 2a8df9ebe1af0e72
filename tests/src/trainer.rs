//! An invented trainer: the plan of its left wing, and of the aeroplane that takes the wing's log up.

/// A wing of three stations, its limits invented, closed by its second stage.
pub const WING: &str = r#"format = 1
[wing]
name = "Orrelby trainer, left wing"
side = "left"
serial = "0042"
drawing = "OT-20"
issue = "C"
[tolerance]
setting = 1.0
washout = 0.5
station = 0.5
[[instrument]]
name = "level"
kind = "inclinometer"
resolution = 0.05
accuracy = 0.1
repeatability = 0.03
[[station]]
name = "S1"
span = 250
chord = 1500
incidence = 2.0
[[station]]
name = "S2"
span = 2000
chord = 1400
incidence = 1.0
[[station]]
name = "S3"
span = 4000
chord = 1300
incidence = -0.5
[[stage]]
name = "ribs on"
requires = ["incidence@*"]
[[stage]]
name = "ready to skin"
requires = ["incidence@*"]
closes = true
[[stage]]
name = "off the jig"
requires = ["incidence@*"]
disturbs = ["incidence@*"]
"#;

/// The aeroplane of that wing, its limits invented.
pub const PLANE: &str = r#"format = 1
[aeroplane]
name = "Orrelby trainer"
[fuselage]
pitch = 0.5
[[angle]]
name = "left root"
of = "incidence"
side = "left"
design = 2.0
tolerance = 0.5
[[angle]]
name = "left tip"
of = "incidence"
side = "left"
design = -0.5
tolerance = 0.5
[[wing]]
name = "left wing"
side = "left"
serial = "0042"
drawing = "OT-20"
issue = "C"
station = [{ name = "S1", read = "rig-incidence@left root" }, { name = "S3", read = "rig-incidence@left tip" }]
change = 0.3
[[instrument]]
name = "level"
kind = "inclinometer"
resolution = 0.05
accuracy = 0.1
repeatability = 0.03
[[stage]]
name = "wings on"
requires = ["pitch@*", "rig-incidence@*"]
"#;
