//! The plan a draft makes, as TOML.

use super::{Draft, LevelDraft, StageDraft, angle, length};
use record::PointKind;
use record::point::{Design, Place, Row};

fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.trim().chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// A number as TOML wants it: a float always shows a point.
fn float(value: Option<f64>) -> String {
    let text = format!("{}", value.unwrap_or(0.0));
    if text.contains('.') { text } else { text + ".0" }
}

/// Writes the plan. Numbers are in mm and degrees, whatever units were typed.
pub(super) fn write(d: &Draft) -> String {
    let mut t = Toml(
        "# What this wing should be. Lengths in mm, angles in degrees.
format = 1
"
        .to_owned(),
    );
    t.named("[wing]", &d.name);
    t.line(&format!(
        "side = \"{}\"
attitude = \"{}\"",
        d.side.word(),
        d.attitude.word()
    ));
    let mut tolerances = d.tolerances.iter().filter(|t| !t.text.trim().is_empty()).peekable();
    if tolerances.peek().is_some() {
        t.line(
            "
[tolerance]  # from the kit maker's data",
        );
    }
    for tolerance in tolerances {
        t.number(tolerance.name, super::base(&tolerance.text, tolerance.kind));
    }
    for s in &d.stations {
        t.named("[[station]]", &s.name);
        t.number("span", length(&s.span));
        t.number("chord", length(&s.chord));
        t.number("incidence", angle(&s.incidence));
    }
    for s in &d.spars {
        t.named("[[spar]]", &s.name);
        t.number("aft_root", length(&s.aft_root));
        t.number("aft_tip", length(&s.aft_tip));
    }
    t.jig(d);
    if !d.instrument.name.trim().is_empty() {
        t.level(&d.instrument);
    }
    for stage in &d.stages {
        t.stage(stage, !d.posts.is_empty());
    }
    t.0
}

struct Toml(String);

impl Toml {
    fn line(&mut self, what: &str) {
        self.0 = format!(
            "{}{what}
",
            self.0
        );
    }

    /// A table, or one more of an array of tables, with its name.
    fn named(&mut self, table: &str, name: &str) {
        self.line(&format!(
            "
{table}
name = {}",
            quoted(name)
        ));
    }

    fn number(&mut self, key: &str, value: Option<f64>) {
        self.line(&format!("{key} = {}", float(value)));
    }

    fn jig(&mut self, d: &Draft) {
        let (turn, travel) = (float(length(&d.screw_per_turn)), float(length(&d.travel)));
        let screw = format!("screw = {{ per_turn = {turn}, clockwise = \"raises\" }}");
        for p in &d.posts {
            self.named("[[post]]", &p.name);
            self.number("span", length(&p.span));
            self.line("foot = [");
            for (fore, aft) in [("fore", -1.0), ("aft", 1.0)] {
                for (side, out) in [("inboard", -1.0), ("outboard", 1.0)] {
                    let name = quoted(&format!("{} {fore} {side} foot", p.name.trim()));
                    let aft = float(length(&p.half_aft).map(|half| half * aft));
                    let out = float(length(&p.half_out).map(|half| half * out));
                    self.line(&format!(
                        "  {{ name = {name}, aft = {aft}, out = {out}, travel = {travel}, {screw} }},"
                    ));
                }
            }
            self.line("]");
        }
        for (p, s) in d.posts.iter().flat_map(|p| d.spars.iter().map(move |s| (p, s))) {
            self.named("[[support]]", &format!("{} {}", p.name.trim(), s.name.trim()));
            self.number("span", length(&p.span));
            self.line(&format!(
                "spar = {}
direction = \"up\"
travel = {travel}
{screw}",
                quoted(&s.name)
            ));
        }
    }

    fn level(&mut self, level: &LevelDraft) {
        self.named("[[instrument]]", &level.name);
        self.line("kind = \"inclinometer\"");
        self.number("resolution", angle(&level.step));
        if !level.accuracy.trim().is_empty() {
            self.number("accuracy", angle(&level.accuracy));
        }
    }

    fn stage(&mut self, stage: &StageDraft, posts: bool) {
        let asks = |row: &Row| {
            (row.place == Place::Post && stage.level && posts)
                || (row.design == Design::Incidence && stage.incidence)
        };
        self.named("[[stage]]", &stage.name);
        self.line(&format!("requires = [{}]", every(asks)));
        if stage.disturbs {
            self.line(&format!("disturbs = [{}]", every(|row| row.design == Design::Incidence)));
        }
    }
}

/// Patterns for every point of the requested kinds.
fn every(asked: impl Fn(&Row) -> bool) -> String {
    let kinds = PointKind::all().filter(|kind| asked(kind.row()));
    kinds.map(|kind| format!("\"{}@*\"", kind.word())).collect::<Vec<_>>().join(", ")
}
