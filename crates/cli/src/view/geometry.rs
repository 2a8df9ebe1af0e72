//! Posts, spars, bays, spacing, bores and rows of spot checks.

use super::judged::{NAME, line};
use super::wrap::{width, wrap, wrap_hang};
use assess::view::{
    Assessment, BoreLine, BushView, PointView, PostView, RowStep, RowTrend, RowView, SpacingView, SparView,
    Verdict,
};
use quantity::shown::{fixed, signed, significance};
use quantity::{Kind, Units};
use record::point::Judgement;

/// Everything measured besides the twist, section by section.
pub fn lines(a: &Assessment, units: Units) -> Vec<String> {
    let mut out = Vec::new();
    a.posts.iter().for_each(|p| post(p, &mut out));
    a.spars.iter().for_each(|s| spar(s, units, &mut out));
    for bay in &a.bays {
        out.push(line(&format!("square {}", bay.bay), &bay.out_of_square));
    }
    spacing(&a.spacing, &mut out);
    if let Some(bores) = &a.bore_line {
        bore_line(bores, units, &mut out);
    }
    rigging(a, &mut out);
    a.rows.iter().for_each(|r| row(r, units, &mut out));
    spots(&a.points, units, &mut out);
    out
}

fn post(post: &PostView, out: &mut Vec<String>) {
    for (name, tilt) in [("level", &post.level), ("cross", &post.cross)] {
        if let Some(tilt) = tilt {
            out.push(line(&format!("{name} {}", post.post), &tilt.tilt));
            out.extend(tilt.moves.iter().map(|m| wrap("    ", m)));
        }
    }
}

fn spar(spar: &SparView, units: Units, out: &mut Vec<String>) {
    let mm = |value| units.scale(Kind::Length).fixed_with(value, 2);
    out.push(line(&format!("straight {} ({})", spar.spar, spar.method.word()), &spar.minimum_zone));
    out.push(format!(
        "    least squares {}, end to end {}, line sag taken out {}",
        mm(spar.least_squares_mm),
        mm(spar.end_point_mm),
        mm(spar.sag_mm)
    ));
}

fn spacing(spacing: &[SpacingView], out: &mut Vec<String>) {
    for s in spacing {
        out.push(line(&format!("spacing {}", s.station), &s.deviation));
    }
}

fn bore_line(bores: &BoreLine, units: Units, out: &mut Vec<String>) {
    out.push(line(&format!("clearance {}", bores.shaft), &bores.clearance));
    let says = if bores.passes { "a straight shaft goes through" } else { "the shaft binds" };
    let tight = bores.bushes.iter().min_by(|a, b| a.clearance_mm.total_cmp(&b.clearance_mm));
    let least = |b: &BushView| units.scale(Kind::Length).fixed_with(b.clearance_mm, 3);
    let where_ = tight.map(|b| format!("; tightest at {}, {}", b.bush, least(b)));
    out.push(format!("    {says}{}", where_.unwrap_or_default()));
    out.extend(bores.advice.iter().map(|a| wrap("    ", a)));
}

/// The rigged aeroplane; a name longer than its column gets its own line.
fn rigging(a: &Assessment, out: &mut Vec<String>) {
    for r in &a.rigging {
        if width(&r.name) < NAME {
            out.push(line(&r.name, &r.judged));
        } else {
            out.push(r.name.clone());
            out.push(line("", &r.judged));
        }
    }
}

fn row(row: &RowView, units: Units, out: &mut Vec<String>) {
    let scale = units.scale(row.unit);
    let size = |value| scale.with(&fixed(scale.size(value), scale.decimals(3)));
    let mut text = format!(
        "{} places, mean {}, sd {}, spread {}",
        row.values.len(),
        scale.fixed_with(row.mean, 3),
        size(row.sd),
        size(row.spread)
    );
    if let Some(RowTrend { slope, p }) = row.trend {
        text.push_str(&format!(
            ", trend {} a place ({})",
            scale.with(&signed(scale.size(slope), scale.decimals(4))),
            significance(p)
        ));
    }
    if let Some(RowStep { after, step }) = row.worst_step {
        text.push_str(&format!(
            ", worst step {} after place {after}",
            scale.with(&signed(scale.size(step), scale.decimals(3)))
        ));
    }
    out.push(wrap_hang("", "    ", &format!("row {}: {text}", row.row)));
}

/// Spot checks that are not within.
fn spots(points: &[PointView], units: Units, out: &mut Vec<String>) {
    for p in
        points.iter().filter(|p| p.point.kind().row().judgement == Judgement::OwnLimits && p.value.is_some())
    {
        let (Some(value), Some(verdict)) = (p.value, p.verdict) else { continue };
        if verdict != Verdict::Within {
            out.push(format!(
                "{}  {}  {}",
                p.point,
                units.with_u(p.unit, value, p.u.unwrap_or(f64::NAN)).against([p.lower, p.upper]).plain_with(),
                super::paint::verdict(Some(verdict), verdict.word())
            ));
        }
    }
}
