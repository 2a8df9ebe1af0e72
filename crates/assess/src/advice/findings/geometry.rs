//! Bays by their corners, stations by their place, shafts by their bushes.

use super::super::decide::again_at;
use super::super::finding::{Finding, Remedy};
use super::{Sources, only_open, plain, stayed};
use crate::conformity::conformity;
use crate::view::{BayView, BoreLine, BushView, Obligation, Shift, Verdict};
use quantity::Kind;
use record::plan::Plan;
use record::{Limits, Point, PointKind};

/// Which corners to bring closer together.
pub(super) fn square(from: Sources<'_>, out: &Obligation) -> Finding {
    let bay = from.plan.bays.iter().find(|b| b.name == out.about);
    let view = from.assessment.bays.iter().find(|b| b.bay == out.about);
    let diagonals: Vec<Point> =
        bay.iter().flat_map(|b| &b.diagonals).map(|d| Point::at(PointKind::Diagonal, d)).collect();
    let again = out.state == Verdict::Undecided
        && again_at(from.fold, from.assessment, |p| diagonals.contains(&p.point));
    let stayed = view.filter(|_| again).map(|view| stayed(&view.out_of_square));
    let moves = |view: &&BayView| out.state == Verdict::Outside || (again && square_is_met(from.plan, view));
    let (Some(bay), Some(view)) = (bay, view.filter(moves)) else {
        let points = diagonals.iter().map(ToString::to_string).collect();
        let words = "Measure both diagonals again, from the same corners, before you move a corner.";
        return plain(out, Remedy::Measure { points }, vec![stayed.unwrap_or_else(|| words.to_owned())]);
    };
    // A bay that leans by a small angle φ has its side b shifted by b·φ along a.
    let shift_mm = (bay.b.value() * view.out_of_square.value.to_radians()).abs();
    let longer = &bay.diagonals[usize::from(view.difference_mm < 0.0)];
    let scale = from.plan.shown_in.scale(Kind::Length);
    let words = format!(
        "{longer} is the longer diagonal, by {}: push its two corners toward each other until one side of the bay has \
         shifted by {} along itself; then measure both diagonals again.",
        scale.fixed_with(view.difference_mm.abs(), 1),
        scale.fixed_with(shift_mm, 1)
    );
    let mend = std::iter::once(words).chain(stayed).collect();
    plain(out, Remedy::Square { longer: longer.clone(), shift_mm }, mend)
}

/// Whether a bay that was measured this well would be met if it were square.
fn square_is_met(plan: &Plan, view: &BayView) -> bool {
    let judged = &view.out_of_square;
    let limits = Limits { lower: judged.lower, upper: judged.upper };
    conformity(&plan.rule, 0.0, &judged.error(), limits).verdict == Verdict::Within
}

/// How far a station is from its place.
pub(super) fn spacing(from: Sources<'_>, out: &Obligation) -> Finding {
    let view = from.assessment.spacing.iter().find(|s| s.station == out.about);
    let (Some(view), false) = (view, only_open(out.state)) else {
        let points = vec![Point::at(PointKind::Spacing, &out.about).to_string()];
        let words = "Measure the distance again, from the root datum in one go, before you move the rib.";
        return plain(out, Remedy::Measure { points }, vec![words.to_owned()]);
    };
    let by = -view.deviation.value;
    let way = if by > 0.0 { "outboard" } else { "inboard" };
    let words = format!(
        "No screw mends it. Move rib {0} {1} {way}, fit it again, then jigtrue rework {0} --what \
            \"moved\"; its other readings become stale. If it is drilled already, ask the kit maker.",
        out.about,
        from.plan.shown_in.scale(Kind::Length).fixed_with(by.abs(), 1)
    );
    plain(out, Remedy::Station { outboard_mm: by }, vec![words])
}

/// Which bush, and how far.
pub(super) fn clearance(from: Sources<'_>, out: &Obligation) -> Finding {
    let line = from.assessment.bore_line.as_ref().filter(|b| b.shaft == out.about);
    let least = line.and_then(|line| line.ways().first().copied());
    let mend = |line: &BoreLine, words: String| line.advice.iter().cloned().chain([words]).collect();
    match (line, least) {
        (Some(line), Some((BushView { bush, .. }, Shift { aft: aft_mm, up: up_mm }))) => {
            let words = format!(
                "{bush} needs the smallest move. Then measure its centre again, and turn the shaft by hand."
            );
            plain(out, Remedy::Bush { bush: bush.clone(), aft_mm, up_mm }, mend(line, words))
        }
        (Some(line), None) if !line.passes || out.state == Verdict::Outside => {
            let words =
                "Move the two bushes farthest from the line, or ream for a bush that can be adjusted.";
            plain(out, Remedy::Nothing, mend(line, words.to_owned()))
        }
        _ => {
            let bush = |kind| move |b: &record::plan::Bush| Point::at(kind, &b.name).to_string();
            let points = from
                .plan
                .bushes
                .iter()
                .flat_map(|b| [bush(PointKind::BoreAft)(b), bush(PointKind::BoreUp)(b)]);
            let words = "The clearance is too near its limit for these readings: measure the centres again, or turn the shaft \
                         by hand and ream the bush that binds.";
            plain(out, Remedy::Measure { points: points.collect() }, vec![words.to_owned()])
        }
    }
}
