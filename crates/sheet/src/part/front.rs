//! The first page: the verdict, the profile, the fingerprint, places to sign.

mod also;
mod panel;

use super::{judged, places_to_sign, short_caution};
use crate::Stamp;
use crate::draw::{Anchor, Ink, Role, Shape};
use crate::flow::{Cell, Column, Flow, Style, Table};
use crate::plot::{Frame, PAPER_TEXT, profile};
use crate::text::{Face, Typesetter, wrap};
use assess::Assessment;
use record::plan::{Attitude, Side};

/// What the head of every later page says.
pub(crate) struct Running {
    pub text: String,
    pub before_gate: &'static str,
    pub gate: String,
}

pub(crate) fn running_head(set: &Typesetter, assessment: &Assessment) -> Running {
    let wing = set.visible(&assessment.wing).into_owned();
    let text = format!("{wing}   ·   {}", set.visible(&place(assessment)));
    // A name too long for the line is cut in the head only; the first page has it whole.
    let text = wrap(set, Face::Book, 8.0, &text, 400.0).into_iter().next().unwrap_or_default();
    Running { text, before_gate: "closing gate", gate: assessment.gate.state.word().to_uppercase() }
}

const fn attitude(attitude: Attitude) -> &'static str {
    match attitude {
        Attitude::ChordLevel => "chord level in the jig",
        Attitude::LeadingEdgeDown => "leading edge down in the jig",
        Attitude::LeadingEdgeUp => "leading edge up in the jig",
    }
}

/// Side, attitude and stage.
fn place(assessment: &Assessment) -> String {
    let side = match assessment.side {
        Side::Left => "left wing",
        Side::Right => "right wing",
        Side::Both => "aeroplane",
    };
    let stage = match (&assessment.stage, assessment.stage_number) {
        (Some(name), Some(n)) => format!("stage {} of {}: {name}", n.number, n.of),
        (Some(name), None) => format!("stage: {name}"),
        (None, _) => "no stage begun".to_owned(),
    };
    format!("{side}, {}   ·   {stage}", attitude(assessment.attitude))
}

/// The first page. True if every reason to hold is on it.
pub(crate) fn front(flow: &mut Flow<'_>, assessment: &Assessment, stamp: &Stamp) -> bool {
    title(flow, assessment, stamp);
    let all = panel::gate(flow, assessment);
    flow.y += 12.0;
    let parts = parts_table(assessment);
    let also = also::judged(assessment);
    let lines = wrap(flow.set, Style::SMALL.face, Style::SMALL.size, &also, flow.width()).len();
    #[expect(clippy::cast_precision_loss, reason = "a few lines")]
    let below = parts.as_ref().map_or(0.0, |t| flow.table_height(t) + 10.0)
        + lines as f64 * Style::SMALL.leading()
        + places_to_sign::HEIGHT
        + 42.0;
    picture(flow, assessment, (flow.room() - below).clamp(120.0, 400.0));
    if let Some(table) = parts {
        flow.table(&table);
    }
    if !also.is_empty() {
        flow.paragraph(&also, Style::SMALL);
    }
    flow.y = flow.y.max(flow.floor() - places_to_sign::HEIGHT - 32.0);
    short_caution(flow);
    places_to_sign::places(flow, assessment);
    all
}

fn title(flow: &mut Flow<'_>, assessment: &Assessment, stamp: &Stamp) {
    let (left, right) = (flow.left(), flow.left() + flow.width());
    let kind = flow.set.visible(&stamp.title).into_owned();
    let last = flow.set.visible(&stamp.last_entry()).into_owned();
    let y = flow.y + 9.0;
    flow.group(Role::Paragraph, |flow| {
        flow.mark(vec![Shape::text(left, y, 9.0, Face::Bold, kind).inked(Ink::Slate)]);
    });
    flow.group(Role::Paragraph, |flow| {
        flow.mark(vec![Shape::text(right, y, 8.0, Face::Book, last).inked(Ink::Slate).anchored(Anchor::End)]);
    });
    flow.y += 15.0;
    let wing = flow.set.visible(&assessment.wing).into_owned();
    // A long name is set smaller before it is broken.
    let fits = |size: &f64| flow.set.width(Face::Bold, *size, &wing) <= flow.width();
    let size = [21.0, 17.0, 14.0].into_iter().find(fits).unwrap_or(11.0);
    let lines = wrap(flow.set, Face::Bold, size, &wing, flow.width());
    flow.bookmark(&wing);
    flow.group(Role::Heading(1, wing), |flow| {
        flow.lines(&lines, Style { face: Face::Bold, size, ink: Ink::Black, indent: 0.0 });
    });
    flow.paragraph(&place(assessment), Style { size: 9.5, ..Style::BODY });
    flow.y += 5.0;
}

fn picture(flow: &mut Flow<'_>, assessment: &Assessment, height: f64) {
    let y = flow.y;
    let frame = Frame { x: flow.left(), y, width: flow.width(), height, text: PAPER_TEXT };
    let picture = profile(flow.set, assessment, &frame);
    let about = flow.set.visible(&picture.about).into_owned();
    flow.group(Role::Figure(about), |flow| flow.mark(picture.shapes));
    flow.y += height + 6.0;
}

/// Setting and washout error: the two numbers the wing is judged by as a whole.
fn parts_table(assessment: &Assessment) -> Option<Table> {
    let twist = assessment.twist.as_ref()?;
    let row = |found: &assess::view::Finding, about: &str| {
        judged::finding([Cell::Strong(found.what().to_owned()), Cell::text(about)], found)
    };
    Some(Table {
        name: "Washout error and setting",
        columns: [Column::text("", 90.0), Column::words("", 1.0)]
            .into_iter()
            .chain(judged::columns())
            .collect(),
        rows: vec![
            row(&twist.washout_error, "twist error at the tip datum"),
            row(&twist.setting, "how the whole wing sits in the jig; not twist"),
        ],
        size: 8.0,
    })
}
