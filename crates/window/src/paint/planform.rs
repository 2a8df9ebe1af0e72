//! The wing to scale, seen from above: spars, ribs, posts, supports, bushes; stations marked by their verdict.

use crate::paint::marks::{self, Mark};
use crate::theme::{Palette, palette};
use assess::Assessment;
use egui::{Align2, FontId, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, pos2, vec2};
use quantity::Millimetres;
use record::plan::{Side, Spar};
use record::point::Place;
use record::{Plan, Point, PointKind};

/// Turns millimetres aft and outboard into places on the screen.
pub struct Frame {
    rect: Rect,
    span: (f64, f64),
    aft: (f64, f64),
    scale: f64,
    mirrored: bool,
}

/// How far aft the leading edge lies, in mm: the plan does not say, so sections are hung on the foremost spar at a quarter
/// of their chord, or on their quarter points where there is no spar.
fn leading_edge_aft(plan: &Plan, span: Millimetres, chord: f64) -> f64 {
    let foremost = plan.spars.iter().map(|s| plan.spar_aft(s, span).value()).min_by(f64::total_cmp);
    match foremost {
        Some(spar) if spar > 0.0 && spar < chord => 0.0,
        Some(spar) => spar - chord * 0.25,
        None => -chord * 0.25,
    }
}

/// Chord and leading edge at a span, straight between stations and on beyond them.
fn section(plan: &Plan, span: Millimetres) -> (f64, f64) {
    let after = plan.stations.partition_point(|s| s.span.value() < span.value());
    let upper = after.clamp(1, plan.stations.len().saturating_sub(1).max(1));
    let chord = match (plan.stations.get(upper - 1), plan.stations.get(upper)) {
        (Some(a), Some(b)) if b.span.value() > a.span.value() => {
            let t = (span.value() - a.span.value()) / (b.span.value() - a.span.value());
            a.chord.value() + (b.chord.value() - a.chord.value()) * t
        }
        (Some(a), _) => a.chord.value(),
        _ => 1000.0,
    };
    (leading_edge_aft(plan, span, chord), chord)
}

impl Frame {
    /// Fits the plan into a rectangle, to scale, with room for names.
    pub fn fit(plan: &Plan, rect: Rect) -> Self {
        let places = |f: &mut dyn FnMut(f64)| {
            plan.stations.iter().for_each(|s| f(s.span.value()));
            plan.supports.iter().for_each(|s| f(s.span.value()));
            plan.posts.iter().for_each(|s| f(s.span.value()));
            plan.bushes.iter().for_each(|s| f(s.span.value()));
            f(plan.wing.root.value());
            f(plan.wing.tip.value());
        };
        let mut span = (f64::INFINITY, f64::NEG_INFINITY);
        places(&mut |v| span = (span.0.min(v), span.1.max(v)));
        let mut aft = (f64::INFINITY, f64::NEG_INFINITY);
        for s in &plan.stations {
            let (le, chord) = section(plan, s.span);
            aft = (aft.0.min(le), aft.1.max(le + chord));
        }
        for post in &plan.posts {
            let middle = post_aft(plan, post.span);
            for foot in &post.feet {
                aft = (aft.0.min(middle + foot.aft.value()), aft.1.max(middle + foot.aft.value()));
                let out = (post.span + foot.out).value();
                span = (span.0.min(out), span.1.max(out));
            }
        }
        if !(aft.0.is_finite() && span.0.is_finite()) {
            (span, aft) = ((0.0, 1000.0), (0.0, 500.0));
        }
        let room = Rect::from_min_max(rect.min + vec2(34.0, 20.0), rect.max - vec2(34.0, 20.0));
        let scale = (f64::from(room.width()) / (span.1 - span.0).max(1.0))
            .min(f64::from(room.height()) / (aft.1 - aft.0).max(1.0))
            .max(1e-9);
        Self { rect: room, span, aft, scale, mirrored: plan.wing.side == Side::Left }
    }

    /// The place on the screen of a span and an offset aft.
    pub fn at(&self, span_mm: f64, aft_mm: f64) -> Pos2 {
        let (s, a) = ((self.span.0 + self.span.1) / 2.0, (self.aft.0 + self.aft.1) / 2.0);
        let out = if self.mirrored { -1.0 } else { 1.0 };
        let c = self.rect.center();
        pos2(c.x + ((span_mm - s) * self.scale * out) as f32, c.y + ((aft_mm - a) * self.scale) as f32)
    }
}

fn post_aft(plan: &Plan, span: Millimetres) -> f64 {
    let (le, chord) = section(plan, span);
    le + chord * 0.5
}

/// Draws the bare wing.
pub fn draw(painter: &Painter, p: &Palette, plan: &Plan, frame: &Frame) {
    let edge = |share: f64| -> Vec<Pos2> {
        let mut spans: Vec<Millimetres> = plan.stations.iter().map(|s| s.span).collect();
        spans.extend([plan.wing.root, plan.wing.tip]);
        spans.sort_by(|a, b| a.value().total_cmp(&b.value()));
        let place = |span: &Millimetres| {
            let (le, chord) = section(plan, *span);
            frame.at(span.value(), le + chord * share)
        };
        spans.iter().map(place).collect()
    };
    let (leading, trailing) = (edge(0.0), edge(1.0));
    for (l, t) in leading.windows(2).zip(trailing.windows(2)) {
        painter.add(Shape::convex_polygon(vec![l[0], l[1], t[1], t[0]], p.skin, Stroke::new(1.0, p.skin)));
    }
    for post in &plan.posts {
        let middle = frame.at(post.span.value(), post_aft(plan, post.span));
        for foot in &post.feet {
            let at = frame.at((post.span + foot.out).value(), post_aft(plan, post.span) + foot.aft.value());
            painter.line_segment([middle, at], Stroke::new(3.0, p.rule));
            painter.circle(at, 4.0, p.ground, Stroke::new(1.5, p.pale));
        }
    }
    for station in &plan.stations {
        let (le, chord) = section(plan, station.span);
        let rib = [frame.at(station.span.value(), le), frame.at(station.span.value(), le + chord)];
        painter.line_segment(rib, Stroke::new(1.0, p.ghost));
    }
    for spar in &plan.spars {
        painter.line_segment(spar_line(plan, spar, frame), Stroke::new(2.5, p.ink));
    }
    let mut outline = leading.clone();
    outline.extend(trailing.iter().rev());
    painter.add(Shape::closed_line(outline, Stroke::new(1.5, p.ink)));
    if let (Some(shaft), Some(first), Some(last)) = (&plan.shaft, plan.bushes.first(), plan.bushes.last()) {
        let _ = shaft;
        let place = |b: &record::plan::Bush| frame.at(b.span.value(), bush_aft(plan, b.span));
        painter.line_segment([place(first), place(last)], Stroke::new(1.0, p.pale));
        for bush in &plan.bushes {
            painter.circle(place(bush), 4.0, p.sheet, Stroke::new(1.5, p.pale));
        }
    }
    for support in &plan.supports {
        let aft = plan.spar(&support.spar).map_or(0.0, |s| plan.spar_aft(s, support.span).value());
        let at = frame.at(support.span.value(), aft);
        let r = 6.0;
        let corners = vec![at + vec2(0.0, 1.0), at + vec2(-r, r * 1.6), at + vec2(r, r * 1.6)];
        painter.add(Shape::convex_polygon(corners, p.ground, Stroke::new(1.5, p.pale)));
    }
}

fn bush_aft(plan: &Plan, span: Millimetres) -> f64 {
    let (le, chord) = section(plan, span);
    let rear = plan.spars.iter().map(|s| plan.spar_aft(s, span).value()).max_by(f64::total_cmp);
    rear.map_or(le + chord * 0.7, |r| (r + le + chord) / 2.0)
}

fn spar_line(plan: &Plan, spar: &Spar, frame: &Frame) -> [Pos2; 2] {
    [plan.wing.root, plan.wing.tip].map(|s| frame.at(s.value(), plan.spar_aft(spar, s).value()))
}

/// Where a point lies on the wing, in span and aft; none for spot checks and diagonals.
pub fn place_of(plan: &Plan, point: &Point) -> Option<(f64, f64)> {
    let name = point.place();
    match point.kind().row().place {
        Place::Post => {
            let post = plan.posts.iter().find(|x| x.name == name)?;
            Some((post.span.value(), post_aft(plan, post.span)))
        }
        Place::Bush => {
            let bush = plan.bushes.iter().find(|b| b.name == name)?;
            Some((bush.span.value(), bush_aft(plan, bush.span)))
        }
        Place::Spot | Place::Diagonal => None,
        Place::Station | Place::Spar => {
            let station = plan.station(name)?;
            let (le, chord) = section(plan, station.span);
            let on_spar =
                point.spar().and_then(|s| plan.spar(s)).map(|s| plan.spar_aft(s, station.span).value());
            Some((station.span.value(), on_spar.unwrap_or(le + chord * 0.5)))
        }
    }
}

/// The mark of a point.
pub fn mark_of(view: &assess::view::PointView) -> Mark {
    use assess::Verdict;
    use assess::view::PointState;
    match (view.state, view.required) {
        (PointState::Missing, false) => Mark::Unasked,
        (PointState::Missing, true) => Mark::Of(Verdict::Missing),
        (PointState::Stale, _) => Mark::Of(Verdict::Stale),
        (PointState::Fresh, _) => Mark::from(view.verdict),
    }
}

/// The wing as a navigator: draws it and gives the point chosen by a click.
pub fn navigator(
    ui: &mut Ui,
    plan: &Plan,
    assessment: &Assessment,
    chosen: Option<&Point>,
    height: f32,
) -> Option<Point> {
    let p = palette(ui);
    let width = ui.available_width();
    let beside = width >= 700.0;
    let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    let rect = if beside { rect.with_max_x(rect.right() - 170.0) } else { rect };
    if beside {
        tally(ui, assessment, Rect::from_min_size(rect.right_top(), vec2(170.0, height)));
    }
    let painter = ui.painter_at(rect);
    let frame = Frame::fit(plan, rect);
    draw(&painter, &p, plan, &frame);
    let mut picked = None;
    let kind = chosen.map(Point::kind);
    let mut names: Vec<(String, Vec<&assess::view::PointView>)> = Vec::new();
    for view in &assessment.points {
        let point = &view.point;
        if place_of(plan, point).is_none() {
            continue;
        }
        match names.iter_mut().find(|(n, _)| n == point.place()) {
            Some((_, list)) => list.push(view),
            None => names.push((point.place().to_owned(), vec![view])),
        }
    }
    let r = mark_radius(plan, &frame, height);
    let font = FontId::proportional((height * 0.075).clamp(11.0, 15.0));
    let mut taken: Vec<Rect> = Vec::new();
    for (name, list) in &names {
        for view in marks_at(plan, list, kind) {
            let point = &view.point;
            let Some((span, aft)) = place_of(plan, point) else { continue };
            let at = frame.at(span, aft);
            let is_chosen = chosen == Some(point);
            // What is being measured stands out; the rest is there, smaller.
            let r = if kind.is_none_or(|k| k == point.kind()) { r } else { r * 0.5 };
            if is_chosen {
                painter.circle(at, r * 2.0, p.sheet, Stroke::new(3.0, p.chosen));
            } else if mark_of(view) != Mark::Unasked {
                painter.circle_filled(at, r * 1.45, p.skin);
            }
            marks::draw(&painter, &p, at, r, mark_of(view));
            let hit = Rect::from_center_size(at, vec2(r, r) * 3.2);
            let response = ui.interact(hit, ui.scope_id().with(("mark", &view.point)), Sense::click());
            let words = format!("{}, {}", view.point, crate::words::standing(view));
            marks::name(&response, Role::Button, Some(is_chosen), &words);
            if response.has_focus() {
                painter.circle_stroke(at, r * 2.6, Stroke::new(2.0, p.chosen));
            }
            if response.on_hover_text(words).clicked() {
                picked = Some(point.clone());
            }
        }
        let place = list.first().and_then(|v| place_of(plan, &v.point));
        if let Some((span, _)) = place {
            let (le, chord) = section(plan, Millimetres::new(span));
            // Stations are named before the leading edge, posts and bushes behind the trailing edge.
            let galley = painter.layout_no_wrap(name.clone(), font.clone(), p.pale);
            let name_rect = if plan.station(name).is_some() {
                Align2::CENTER_BOTTOM.anchor_size(frame.at(span, le) - vec2(0.0, 3.0), galley.size())
            } else {
                Align2::CENTER_TOP.anchor_size(frame.at(span, le + chord) + vec2(0.0, 3.0), galley.size())
            };
            let below = (rect.bottom() - name_rect.bottom()).min(0.0);
            let name_rect = name_rect.translate(vec2(0.0, below));
            let free =
                rect.contains_rect(name_rect) && !taken.iter().any(|r| r.expand(3.0).intersects(name_rect));
            if free {
                painter.galley(name_rect.min, galley, p.pale);
                taken.push(name_rect);
            }
        }
    }
    picked
}

/// How many required points stand how, with the shapes they are drawn in.
fn tally(ui: &mut Ui, assessment: &Assessment, rect: Rect) {
    use assess::Verdict as V;
    let p = palette(ui);
    let mut beside = ui.new_child(egui::UiBuilder::new().max_rect(rect.shrink2(vec2(6.0, 2.0))));
    beside.spacing_mut().item_spacing.y = 1.0;
    beside.spacing_mut().interact_size.y = 16.0;
    beside.label(egui::RichText::new("required points").color(p.pale));
    for verdict in [V::Within, V::Undecided, V::Stale, V::Missing, V::Outside] {
        let mark = Mark::Of(verdict);
        let n = assessment.points.iter().filter(|v| v.required && mark_of(v) == mark).count();
        marks::label(&mut beside, &p, mark, &format!("{n} {}", verdict.word()));
    }
}

/// A mark as large as the stations stand apart allows.
fn mark_radius(plan: &Plan, frame: &Frame, height: f32) -> f32 {
    let apart = plan.stations.windows(2).map(|w| (w[1].span - w[0].span).value() * frame.scale);
    let least = apart.fold(f64::INFINITY, f64::min) as f32;
    (least * 0.22).min(height * 0.05).clamp(3.5, 9.0)
}

/// One mark for each spot on the drawing: of several points at the same spot the one of the kind asked for, else the first
/// in work order.
fn marks_at<'a>(
    plan: &Plan,
    views: &[&'a assess::view::PointView],
    kind: Option<PointKind>,
) -> Vec<&'a assess::view::PointView> {
    let mut out: Vec<((i64, i64), bool, &assess::view::PointView)> = Vec::new();
    for view in views {
        let point = &view.point;
        let Some((span, aft)) = place_of(plan, point) else { continue };
        let spot = (span.round() as i64, aft.round() as i64);
        let asked = Some(point.kind()) == kind;
        match out.iter_mut().find(|(s, _, _)| *s == spot) {
            Some(known) if asked && !known.1 => *known = (spot, asked, view),
            Some(_) => {}
            None => out.push((spot, asked, view)),
        }
    }
    out.into_iter().map(|(_, _, v)| v).collect()
}
