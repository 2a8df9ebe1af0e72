//! Posts, spars, bays, spacing, bores and rows of spot checks.

use super::judged::{NAME, line};
use super::wrap::{width, wrap, wrap_hang};
use assess::view::{
    Assessment, BoreLine, PointView, PostView, RowStep, RowTrend, RowView, SpacingView, SparView, Verdict,
};
use quantity::shown::{WithU, fixed, signed, significance};
use record::point::Judgement;

/// Everything beside the twist that was measured, section by section.
pub fn lines(a: &Assessment) -> Vec<String> {
    let mut out = Vec::new();
    a.posts.iter().for_each(|p| post(p, &mut out));
    a.spars.iter().for_each(|s| spar(s, &mut out));
    for bay in &a.bays {
        out.push(line(&format!("square {}", bay.bay), &bay.out_of_square));
    }
    spacing(&a.spacing, &mut out);
    if let Some(bores) = &a.bore_line {
        bore_line(bores, &mut out);
    }
    rigging(a, &mut out);
    a.rows.iter().for_each(|r| row(r, &mut out));
    spots(&a.points, &mut out);
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

fn spar(spar: &SparView, out: &mut Vec<String>) {
    out.push(line(&format!("straight {} ({})", spar.spar, spar.method.word()), &spar.minimum_zone));
    out.push(format!(
        "    least squares {} mm, end to end {} mm, line sag taken out {} mm",
        fixed(spar.least_squares_mm, 2),
        fixed(spar.end_point_mm, 2),
        fixed(spar.sag_mm, 2)
    ));
}

fn spacing(spacing: &[SpacingView], out: &mut Vec<String>) {
    for s in spacing {
        out.push(line(&format!("spacing {}", s.station), &s.deviation));
    }
}

fn bore_line(bores: &BoreLine, out: &mut Vec<String>) {
    out.push(line(&format!("clearance {}", bores.shaft), &bores.clearance));
    let says = if bores.passes { "a straight shaft goes through" } else { "the shaft binds" };
    let tight = bores.bushes.iter().min_by(|a, b| a.clearance_mm.total_cmp(&b.clearance_mm));
    let where_ = tight.map(|b| format!("; tightest at {}, {} mm", b.bush, signed(b.clearance_mm, 3)));
    out.push(format!("    {says}{}", where_.unwrap_or_default()));
    out.extend(bores.advice.iter().map(|a| wrap("    ", a)));
}

/// The rigged aeroplane; a name that is longer than its column has a line to itself.
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

fn row(row: &RowView, out: &mut Vec<String>) {
    let unit = row.unit.base_symbol();
    let mut text = format!(
        "{} places, mean {} {unit}, sd {}, spread {}",
        row.values.len(),
        fixed(row.mean, 3),
        fixed(row.sd, 3),
        fixed(row.spread, 3)
    );
    if let Some(RowTrend { slope, p }) = row.trend {
        text.push_str(&format!(", trend {} {unit} a place ({})", signed(slope, 4), significance(p)));
    }
    if let Some(RowStep { after, step }) = row.worst_step {
        text.push_str(&format!(", worst step {} {unit} after place {after}", signed(step, 3)));
    }
    out.push(wrap_hang("", "    ", &format!("row {}: {text}", row.row)));
}

/// Spot checks that are not as they should be.
fn spots(points: &[PointView], out: &mut Vec<String>) {
    for p in
        points.iter().filter(|p| p.point.kind().row().judgement == Judgement::OwnLimits && p.value.is_some())
    {
        let (Some(value), Some(verdict)) = (p.value, p.verdict) else { continue };
        if verdict != Verdict::Within {
            out.push(format!(
                "{}  {}  {}",
                p.point,
                WithU::of_u(value, p.u.unwrap_or(f64::NAN))
                    .against([p.lower, p.upper])
                    .plain_with(p.unit.base_symbol()),
                super::paint::verdict(Some(verdict), verdict.word())
            ));
        }
    }
}
