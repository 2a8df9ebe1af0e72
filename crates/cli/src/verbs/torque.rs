//! `torque`: what to set a wrench to, with an extension and the nut's own drag.

use super::table::{given, unit_written};
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use clap::{Args, ValueEnum};
use numerics::rigging::torque::{DragRule, Extension, with_drag};
use quantity::shown::{exact, significant};
use quantity::{Kind, Unit, Units, possible, typed, typed_in, unit_named};
use serde::Serialize;
use session::SessionError;

/// What the drawing or the manual says about the nut's own drag.
#[derive(Clone, Copy, Debug, ValueEnum, Serialize)]
#[serde(rename_all = "kebab-case")]
enum Rule {
    /// Add it always
    Add,
    /// Add it if it is at least 0.33 of the torque wanted, else leave it out
    AddFromThird,
}

/// The longest extension, in lever lengths.
const MOST: f64 = 10.0;

#[derive(Debug, Args)]
#[command(
    after_long_help = "LEVER is from the drive of the wrench to the middle of the grip, EXTENSION from the drive to the nut. \
    At --angle 0 the extension points straight ahead; at 90 it changes nothing.\n\nThe drawing, the maker's manual or the \
    standard they name says which torque, dry or lubricated, and what is done about drag. jigtrue has no table of its own."
)]
pub struct Torque {
    /// The torque wanted at the nut: 300 with --unit in-lb, or "34 N·m"
    #[arg(allow_hyphen_values = true)]
    wanted: String,
    /// From the drive to the middle of the grip
    #[arg(
        long,
        value_name = "L",
        requires = "extension",
        required_unless_present = "drag",
        allow_hyphen_values = true
    )]
    lever: Option<String>,
    /// From the drive to the nut
    #[arg(long, value_name = "E", requires = "lever", allow_hyphen_values = true)]
    extension: Option<String>,
    /// The extension's angle from straight ahead [default: 0]
    #[arg(long, value_name = "A", requires = "extension", allow_hyphen_values = true)]
    angle: Option<String>,
    /// Drag of the nut: what a wrench straight on it (no extension) shows while it runs down freely
    #[arg(long, value_name = "D", requires = "drag_rule", allow_hyphen_values = true)]
    drag: Option<String>,
    /// How drag is treated
    #[arg(long, value_enum, requires = "drag")]
    drag_rule: Option<Rule>,
    /// Unit of the answer, and of torques typed without one: N·m, in-lb, ft-lb
    #[arg(long, value_name = "U")]
    unit: Option<String>,
}

#[derive(Serialize)]
struct Answer {
    /// The unit of `wanted`, `drag`, `at_nut` and `set`.
    unit: &'static str,
    #[serde(skip)]
    in_unit: Unit,
    wanted: f64,
    drag: Option<f64>,
    drag_rule: Option<Rule>,
    at_nut: f64,
    /// Torque at the nut for each unit shown by the wrench.
    gain: f64,
    set: f64,
    set_nm: f64,
}

impl Torque {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let unit = self.unit.as_deref().map(torque_unit).transpose()?;
        let value = |text: &str| match unit {
            Some(unit) => typed_in(text, unit).map_err(|why| Refusal::Value { text: text.to_owned(), why }),
            None if !unit_written(text) => Err(Refusal::NoUnit(text.to_owned())),
            None => typed(text, Kind::Torque).map_err(|why| Refusal::Value { text: text.to_owned(), why }),
        };
        let asked = value(&self.wanted)?;
        let unit = unit.unwrap_or(asked.unit);
        let wanted = asked.amount.base();
        let drag = self.drag.as_deref().map(value).transpose()?.map(|t| t.amount.base());
        if wanted <= 0.0 || drag.is_some_and(|d| d < 0.0) {
            return Err(Refusal::Torque.into());
        }
        let at_nut = match (drag, self.drag_rule) {
            (Some(drag), Some(Rule::Add)) => with_drag(wanted, drag, DragRule::Add),
            (Some(drag), Some(Rule::AddFromThird)) => with_drag(wanted, drag, DragRule::AddFromThird),
            _ => wanted,
        };
        let gain = self.gain()?;
        let set = at_nut / gain;
        if !possible(Kind::Torque, set) || set <= 0.0 {
            return Err(Refusal::NoWrench.into());
        }
        let answer = Answer {
            unit: unit.symbol(),
            in_unit: unit,
            wanted: unit.from_base(wanted),
            drag: drag.map(|d| unit.from_base(d)),
            drag_rule: self.drag_rule,
            at_nut: unit.from_base(at_nut),
            gain,
            set: unit.from_base(set),
            set_nm: set,
        };
        show.done(|| text(&answer, show.units(Units::INSIDE.with(unit)).of(Kind::Torque)), &answer)
    }

    /// The factor from the wrench to the nut; 1 without an extension.
    fn gain(&self) -> Result<f64, SessionError> {
        let (Some(lever), Some(extension)) = (&self.lever, &self.extension) else { return Ok(1.0) };
        if unit_written(lever) != unit_written(extension) {
            return Err(Refusal::LeverUnits.into());
        }
        let read = |what, text: &str, kind| given(what, text, kind).map(|t| t.amount.base());
        let lever = read("lever", lever, Kind::Length)?;
        let length = read("extension", extension, Kind::Length)?;
        let degrees = self.angle.as_deref().map_or(Ok(0.0), |a| read("angle", a, Kind::Angle))?;
        if lever <= 0.0 || length < 0.0 {
            return Err(Refusal::Lever.into());
        }
        if degrees.abs() > 180.0 {
            return Err(Refusal::Angle.into());
        }
        // A lever of almost no length cannot be held.
        if length > MOST * lever {
            return Err(Refusal::LongExtension.into());
        }
        let extension = Extension { lever, length, angle: degrees.to_radians() };
        Ok(extension.gain().ok_or(Refusal::NutBehind)?)
    }
}

fn torque_unit(text: &str) -> Result<Unit, SessionError> {
    let unit = unit_named(text).filter(|unit| unit.kind() == Kind::Torque);
    Ok(unit.ok_or_else(|| Refusal::NoTorqueUnit(text.to_owned()))?)
}

fn text(a: &Answer, shown_in: Unit) -> String {
    let with_unit = |value: f64| {
        let value = shown_in.from_base(a.in_unit.to_base(value));
        format!("{} {}", significant(value, 4), shown_in.symbol())
    };
    let mut out =
        vec![format!("set the wrench to {} for {} at the nut", with_unit(a.set), with_unit(a.at_nut))];
    match (a.drag, a.at_nut > a.wanted) {
        (Some(drag), true) => {
            out.push(format!("{} wanted and {} of drag", with_unit(a.wanted), with_unit(drag)))
        }
        (Some(drag), false) if drag > 0.0 => {
            out.push(format!(
                "drag of {} is below 0.33 of the torque wanted: ignored by this rule",
                with_unit(drag)
            ));
        }
        _ => {}
    }
    if (a.gain - 1.0).abs() > 1e-9 {
        out.push(format!("at the nut it is {} times what the wrench shows", exact(a.gain)));
    }
    out.join("\n")
}
