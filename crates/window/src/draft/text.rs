//! The plan a draft makes, as TOML.

use super::{Draft, angle, length};
use record::PointKind;
use record::plan::{Attitude, Side};
use record::point::{Design, Place, Row};
use std::fmt::Write;

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
    let mut t = String::from("# What this wing should be. Lengths in mm, angles in degrees.\nformat = 1\n");
    let side = if d.side == Side::Left { "left" } else { "right" };
    let attitude = match d.attitude {
        Attitude::ChordLevel => "chord-level",
        Attitude::LeadingEdgeDown => "leading-edge-down",
        Attitude::LeadingEdgeUp => "leading-edge-up",
    };
    line(
        &mut t,
        format_args!("\n[wing]\nname = {}\nside = \"{side}\"\nattitude = \"{attitude}\"", quoted(&d.name)),
    );
    let mut tolerances = d.tolerances.iter().filter(|t| !t.text.trim().is_empty()).peekable();
    if tolerances.peek().is_some() {
        line(&mut t, format_args!("\n[tolerance]  # from the kit maker's data"));
    }
    for tolerance in tolerances {
        let value = super::base(&tolerance.text, tolerance.kind);
        line(&mut t, format_args!("{} = {}", tolerance.name, float(value)));
    }
    for s in &d.stations {
        line(
            &mut t,
            format_args!(
                "\n[[station]]\nname = {}\nspan = {}\nchord = {}\nincidence = {}",
                quoted(&s.name),
                float(length(&s.span)),
                float(length(&s.chord)),
                float(angle(&s.incidence))
            ),
        );
    }
    for s in &d.spars {
        line(
            &mut t,
            format_args!(
                "\n[[spar]]\nname = {}\naft_root = {}\naft_tip = {}",
                quoted(&s.name),
                float(length(&s.aft_root)),
                float(length(&s.aft_tip))
            ),
        );
    }
    jig(&mut t, d);
    instrument(&mut t, d);
    stages(&mut t, d);
    t
}

fn line(t: &mut String, what: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = t.write_fmt(what);
    t.push('\n');
}

fn jig(t: &mut String, d: &Draft) {
    let (turn, travel) = (float(length(&d.screw_per_turn)), float(length(&d.travel)));
    let screw = format!("screw = {{ per_turn = {turn}, clockwise = \"raises\" }}");
    for p in &d.posts {
        line(
            t,
            format_args!(
                "\n[[post]]\nname = {}\nspan = {}\nfoot = [",
                quoted(&p.name),
                float(length(&p.span))
            ),
        );
        for (fore, aft) in [("fore", -1.0), ("aft", 1.0)] {
            for (side, out) in [("inboard", -1.0), ("outboard", 1.0)] {
                let name = quoted(&format!("{} {fore} {side} foot", p.name.trim()));
                let (aft, out) = (length(&p.half_aft).map(|h| h * aft), length(&p.half_out).map(|h| h * out));
                line(
                    t,
                    format_args!(
                        "  {{ name = {name}, aft = {}, out = {}, travel = {travel}, {screw} }},",
                        float(aft),
                        float(out)
                    ),
                );
            }
        }
        line(t, format_args!("]"));
    }
    for p in &d.posts {
        for s in &d.spars {
            line(
                t,
                format_args!(
                    "\n[[support]]\nname = {}\nspan = {}\nspar = {}\ndirection = \"up\"\ntravel = {travel}\n{screw}",
                    quoted(&format!("{} {}", p.name.trim(), s.name.trim())),
                    float(length(&p.span)),
                    quoted(&s.name)
                ),
            );
        }
    }
}

fn instrument(t: &mut String, d: &Draft) {
    let super::LevelDraft { name, step, accuracy } = &d.instrument;
    if name.trim().is_empty() {
        return;
    }
    line(
        t,
        format_args!(
            "\n[[instrument]]\nname = {}\nkind = \"inclinometer\"\nresolution = {}",
            quoted(name),
            float(angle(step))
        ),
    );
    if !accuracy.trim().is_empty() {
        line(t, format_args!("accuracy = {}", float(angle(accuracy))));
    }
}

/// Patterns for every point of the requested kinds.
fn every(asked: impl Fn(&Row) -> bool) -> String {
    let kinds = PointKind::all().filter(|kind| asked(kind.row()));
    kinds.map(|kind| format!("\"{}@*\"", kind.word())).collect::<Vec<_>>().join(", ")
}

fn stages(t: &mut String, d: &Draft) {
    for s in &d.stages {
        let asks = |row: &Row| {
            (row.place == Place::Post && s.level && !d.posts.is_empty())
                || (row.design == Design::Incidence && s.incidence)
        };
        line(t, format_args!("\n[[stage]]\nname = {}\nrequires = [{}]", quoted(&s.name), every(asks)));
        if s.disturbs {
            line(t, format_args!("disturbs = [{}]", every(|row| row.design == Design::Incidence)));
        }
    }
}
