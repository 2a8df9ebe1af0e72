//! `symmetry`: distances from marks on the fuselage to the left and the right wing, fitted for yaw and offset.

use super::table::{Table, length};
use crate::exit::Exit;
use crate::refusal::{Refusal, TableFault};
use crate::show::Show;
use crate::view::wrap::wrap;
use clap::Args;
use numerics::rigging::symmetry::{OneEquation, Pair, SymmetryError, Turned, fit};
use quantity::shown::{Scale, fixed};
use quantity::{Kind, Units};
use serde::Serialize;
use session::{SessionError, shown};
use std::path::PathBuf;

/// Below this probability, distances contradict each other.
const DOUBT: f64 = 0.001;

#[derive(Debug, Args)]
#[command(
    after_long_help = "A row for each mark on the fuselage. Columns: left and right (left_mm, right_mm), its distances to a mark on \
    either wing; out (out_mm), how far each wing mark is from the middle; aft (aft_mm), how far the fuselage mark lies aft of the \
    line through the wing marks, negative ahead of it. Where known: up (up_mm), its height over the wing marks; u (u_mm), the \
    standard uncertainty of a distance; mark, a name.\n\nTape pull, sag and temperature that are the same for left and right \
    cancel. The wings' marks must be equally high: level the fuselage across first."
)]
pub struct Symmetry {
    /// The table (CSV with a header row), or - for standard input
    table: PathBuf,
    /// Standard uncertainty of a distance, if the table has no column u
    #[arg(long)]
    u: Option<String>,
}

#[derive(Default, Serialize)]
struct Answer {
    /// Positive with the right wing aft; null if it cannot be judged.
    yaw_deg: Option<f64>,
    yaw_u_deg: Option<f64>,
    /// How far the line of the fuselage marks passes right of the wing's middle.
    offset_mm: Option<f64>,
    offset_u_mm: Option<f64>,
    /// Pairs beyond the two that are needed.
    dof: usize,
    /// Probability that the distances contradict each other this much by chance.
    p: Option<f64>,
    /// The distances contradict each other.
    doubtful: bool,
    /// Why there is no yaw, if there is none.
    cannot_judge: Option<String>,
    /// With one equation: the yaw if the marks are on the middle.
    if_turned_deg: Option<f64>,
    /// With one equation: the offset if the wing is not turned.
    if_off_centre_mm: Option<f64>,
    marks: Vec<Mark>,
}

#[derive(Serialize)]
struct Mark {
    mark: String,
    difference_mm: f64,
    /// What yaw and offset leave of it.
    left_over_mm: Option<f64>,
}

impl Symmetry {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let table = Table::read(&self.table)?;
        let pairs = self.pairs(&table)?;
        let units = show.units(Units::INSIDE);
        let name = table.row_names("mark");
        table.remark_unread(show);
        let mut answer = Answer {
            dof: pairs.len().saturating_sub(2),
            cannot_judge: misplaced(&pairs, &name, units),
            marks: (0..pairs.len())
                .map(|i| Mark {
                    mark: name(i),
                    difference_mm: pairs[i].left - pairs[i].right,
                    left_over_mm: None,
                })
                .collect(),
            ..Answer::default()
        };
        if answer.cannot_judge.is_none() {
            answer.fitted(fit(&pairs), pairs.len(), units)?;
        }
        show.answer(|| text(&answer, units), &answer)?;
        Ok(if answer.yaw_deg.is_some() && !answer.doubtful { Exit::Done } else { Exit::Open })
    }

    fn pairs(&self, table: &Table) -> Result<Vec<Pair>, SessionError> {
        let lengths = |name: &str| table.required(name, Kind::Length);
        let (left, right, out, aft) = (lengths("left")?, lengths("right")?, lengths("out")?, lengths("aft")?);
        let up = table.quantity("up", Kind::Length)?;
        let column = table.quantity("u", Kind::Length)?;
        let every = self.u.as_deref().map(length).transpose()?;
        if every.is_some() && column.is_some() {
            return Err(Refusal::UTwice.into());
        }
        let pair = |i: usize| {
            let u = column.as_ref().map(|u| u[i]).or(every);
            let pair = Pair {
                aft: aft[i],
                out: out[i],
                up: up.as_ref().map_or(0.0, |up| up[i]),
                left: left[i],
                right: right[i],
                u,
            };
            if !(pair.left > 0.0 && pair.right > 0.0 && pair.out > 0.0) {
                return Err(table.wrong(TableFault::Distance(i + 1)));
            }
            if u.is_some_and(|u| u <= 0.0) {
                return Err(table.wrong(TableFault::Uncertainty(i + 1)));
            }
            Ok(pair)
        };
        (0..table.rows()).map(pair).collect()
    }
}

/// The first mark whose distances are impossible for marks placed so, for any yaw and offset.
fn misplaced(pairs: &[Pair], name: impl Fn(usize) -> String, units: Units) -> Option<String> {
    let i = pairs.iter().position(|p| !p.fits())?;
    let (p, mark) = (pairs[i], name(i));
    let length = units.scale(Kind::Length);
    Some(format!(
        "marks placed as the row of {} says are about {} apart, but the two distances together say {}; check \
            both, and out, aft and up",
        shown(&mark),
        length.fixed_with(p.expected(), 0),
        length.fixed_with(p.both(), 0)
    ))
}

impl Answer {
    fn fitted(
        &mut self,
        found: Result<Turned, SymmetryError>,
        pairs: usize,
        units: Units,
    ) -> Result<(), SessionError> {
        match found {
            Ok(turned) => {
                self.yaw_deg = Some(turned.yaw.to_degrees());
                self.offset_mm = Some(turned.offset);
                self.yaw_u_deg = turned.u.map(|u| u.yaw.to_degrees());
                self.offset_u_mm = turned.u.map(|u| u.offset);
                self.p = turned.p;
                self.doubtful = turned.p.is_some_and(|p| p < DOUBT);
                for (mark, left) in self.marks.iter_mut().zip(turned.left_over) {
                    mark.left_over_mm = Some(left);
                }
            }
            Err(SymmetryError::One(one)) => self.one(one, pairs, units),
            Err(SymmetryError::TooFar) => {
                self.cannot_judge = Some("no wing is turned this far; check left, right and aft".to_owned());
            }
            Err(SymmetryError::Empty) => return Err(Refusal::NoPairs.into()),
            Err(SymmetryError::Fit(why)) => return Err(SessionError::because(why)),
        }
        Ok(())
    }

    fn one(&mut self, one: OneEquation, pairs: usize, units: Units) {
        let (angle, length) = (units.scale(Kind::Angle), units.scale(Kind::Length));
        self.if_turned_deg = one.if_turned.map(f64::to_degrees);
        self.if_off_centre_mm = Some(one.if_off_centre);
        let which = if pairs == 1 { "one pair of distances" } else { "marks that are equally far aft" };
        let turned = self.if_turned_deg.map_or_else(String::new, |t| {
            format!("a wing turned by {} with the mark on the middle, or ", angle.signed_with(t, 3))
        });
        self.cannot_judge = Some(format!(
            "{which} cannot tell a turned wing from a mark off centre: it is {turned}a mark {} right of the middle of a wing that \
             is not turned, or anything between. Measure to a second mark, well ahead of or behind the first",
            length.signed_with(one.if_off_centre, 1)
        ));
    }
}

fn text(a: &Answer, units: Units) -> String {
    let (angle, length) = (units.scale(Kind::Angle), units.scale(Kind::Length));
    let with_u = |scale: Scale, value: f64, u: Option<f64>, decimals: usize| match u {
        Some(u) if u > 0.0 => scale.with_u(value, u).signed_with(),
        _ => scale.signed_with(value, decimals),
    };
    let mut out = Vec::new();
    if a.doubtful {
        out.push(wrap(
            "",
            "doubtful: the distances contradict each other; one of them, or a mark's place, is wrong. The \
                largest remainder shows where to look first",
        ));
    }
    if let (Some(yaw), Some(offset)) = (a.yaw_deg, a.offset_mm) {
        let way = match fixed(yaw.abs(), 3).parse::<f64>() {
            Ok(shown) if shown > 0.0 && yaw > 0.0 => "right",
            Ok(shown) if shown > 0.0 => "left",
            _ => "neither",
        };
        out.push(format!("yaw {}, {way} wing aft", with_u(angle, yaw, a.yaw_u_deg, 3)));
        let offset = with_u(length, offset, a.offset_u_mm, 1);
        out.push(format!("the fuselage line passes the wing's middle at {offset}, right positive"));
        if a.yaw_u_deg.is_none() {
            out.push("no ±: give the uncertainty of a distance, or measure to a third mark".to_owned());
        }
    }
    if let Some(why) = &a.cannot_judge {
        out.push(wrap("", &format!("cannot be judged: {why}")));
    }
    let left_over = format!("left over {}", length.head());
    out.push(format!("{:<20}{:>14}{left_over:>14}", "mark", "left - right"));
    let places = length.decimals(2);
    out.extend(a.marks.iter().map(|m| {
        let left = m.left_over_mm.map_or_else(|| "-".to_owned(), |l| length.signed(l, places));
        format!("{:<20}{:>14}{left:>14}", shown(&m.mark), length.signed(m.difference_mm, places))
    }));
    out.join("\n")
}
