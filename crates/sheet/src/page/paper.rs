//! How to check the paper against the log, the decision rule, cautions.

use super::Sheet;
use crate::draw::{Pen, Role, Shape};
use crate::flow::Stack;
use crate::text::Face;
use assess::view::DoubtKind;
use quantity::shown::exact;
use record::calendar::zone;
use record::plan::Acceptance;
use std::collections::BTreeSet;

/// Digits of a fingerprint that are printed: half of them.
pub(super) const DIGITS: usize = 32;

/// The line that ends the first page, and a comparison.
pub(crate) fn does_not_approve(stack: &mut Stack<'_>) {
    stack.fixed(2.0, |_, _| ());
    stack.note(
        "jigtrue measures and records; it does not approve. The kit maker’s drawings, the authority and a licensed person \
         are above it.",
    );
}

/// The line to type, whole, and what it answers.
pub(super) fn check<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.heading("How to check this paper against the log", "", None);
    stack.paragraph(
        "With the log:",
        "type this line. It answers yes only if the log still holds these entries, unchanged.",
    );
    line(s, stack);
    stack.paragraph(
        "Every page",
        "carries the same 32 digits and four words in its foot. A page with others is from another log or another time.",
    );
    stack.paragraph(
        "A file of this sheet:",
        "jigtrue verify LOG --sheet FILE.pdf makes it again and compares it byte for byte.",
    );
}

/// The line to type, in a frame.
pub(super) fn line<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let head = s.stamp.head.get(..DIGITS).unwrap_or(&s.stamp.head).to_ascii_lowercase();
    let typed = format!("jigtrue verify LOG --entry {} --hash {head}", s.stamp.entries);
    stack.fixed(17.0, move |canvas, area| {
        let frame = Shape::rect(area.x, area.y, area.width, 14.0, None, Some(Pen::LIMIT));
        canvas.furnish(vec![frame]);
        let text = Shape::text(area.x + 6.0, area.y + 10.0, 8.5, Face::SemiBold, typed.as_str());
        canvas.said(Role::Paragraph, vec![text]);
    });
}

/// The meaning of within, outside and undecided in this plan.
pub(super) fn decision_rule<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.heading("Decision rule", "", None);
    let level = exact(s.a.rule.level * 100.0);
    match s.a.rule.acceptance {
        Acceptance::Guarded => {
            let words = format!("the chance that the true value is inside its limits is {level} % or more.");
            stack.paragraph("Within:", &words);
            let words =
                "the chance that it is beyond is as much. Undecided: neither (JCGM 106, ISO 14253-1).";
            stack.paragraph("Outside:", words);
        }
        Acceptance::Simple => {
            stack.paragraph("Within:", "the value lies inside its limits. Accepted by the value alone, without its ±: the plan asks for that.");
        }
    }
    let lengths =
        if s.temperature_taken() { " Lengths at 20 °C where a temperature was taken." } else { "" };
    stack.paragraph("± is", &format!("a 95 % interval (JCGM 100).{lengths}"));
    let zones: BTreeSet<&str> = [s.when()]
        .into_iter()
        .chain(s.a.stages.iter().map(|v| v.on.when.as_str()))
        .chain(s.a.started.iter().map(|v| v.when.as_str()))
        .map(zone)
        .filter(|z| !z.is_empty())
        .collect();
    let times = match zones.iter().copied().collect::<Vec<_>>().as_slice() {
        [] => String::new(),
        ["UTC"] => " Times are in UTC.".to_owned(),
        [one] => format!(" Times are local, UTC{one}."),
        many => format!(" Times are local: {}.", many.join(", ")),
    };
    stack.paragraph(
        "Signs:",
        &format!(
            "nose up, outboard end up, {}, aft and up are positive.{times}",
            if s.aeroplane() { "top to the right" } else { "leading edge up" }
        ),
    );
}

pub(super) fn cautions<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.heading("Cautions", "", None);
    stack.paragraph(
        "Limits",
        "come from the plan. The people who sign answer for the plan. What has no limit has no verdict.",
    );
    stack.paragraph(
        "Clear",
        if s.aeroplane() {
            "is not a release of the aeroplane. It covers only what was measured, by the limits of the plan."
        } else {
            "is not a release of the wing. It covers only what was measured, by the limits of the plan."
        },
    );
    stack.paragraph("A wrong reading", "gives a wrong figure with a small ±. Measure a few points by hand.");
    if s.aeroplane() {
        stack.paragraph(
            "A propped aeroplane can fall,",
            "a cable under tension can whip, and a control can move by itself. The type’s own data and licensed practice are \
             above this sheet.",
        );
    } else {
        stack.paragraph("A wing can roll or drop.", "Hold it before you move a support.");
    }
}

impl Sheet<'_> {
    /// Whether a reading in use has a temperature.
    pub(super) fn temperature_taken(&self) -> bool {
        self.a.points.iter().flat_map(|p| &p.behind).any(|r| r.temperature_c.is_some())
    }

    /// Whether the plan has a limit for left against right, which this log alone cannot judge.
    pub(super) fn left_right(&self) -> bool {
        self.a.doubts.iter().any(|d| d.kind == DoubtKind::LeftRight)
    }
}
