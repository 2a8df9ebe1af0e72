//! How verdicts were reached, and how to read the sheet.

use crate::draw::Role;
use crate::draw::{Ink, Shape};
use crate::flow::{Flow, Style};
use crate::plot::verdict_mark;
use crate::text::Face;
use assess::{Assessment, Verdict};
use quantity::shown::exact;
use record::plan::Acceptance;

/// The decision rule in words, what the five verdicts mean, and how numbers are printed.
pub(crate) fn rule(flow: &mut Flow<'_>, assessment: &Assessment) {
    flow.section("Decision rule", 60.0, |flow| {
        flow.paragraph(&assessment.rule.words, Style::BODY);
        let level = exact(assessment.rule.level * 100.0);
        let kind = match assessment.rule.acceptance {
            Acceptance::Guarded => format!("Guarded acceptance (ISO 14253-1) at {level} % probability of conformity."),
            Acceptance::Simple => "Simple acceptance: the value alone counts, its uncertainty does not. This is looser than \
                                   guarded acceptance."
                .to_owned(),
        };
        flow.paragraph(&kind, Style::BODY);
        verdicts(flow, assessment.rule.acceptance);
        let words = "± is the 95 % half width (JCGM 100), with two digits where it begins with 1 or 2, else one; a value ends at the \
                     same place. Conforms is the probability that the true value is inside the limits (JCGM 106). Angles are \
                     nose up positive, tilts outboard end and leading edge up positive, offsets aft and up positive.";
        flow.paragraph(words, Style::SMALL);
    });
}

fn verdicts(flow: &mut Flow<'_>, acceptance: Acceptance) {
    let (within, outside) = match acceptance {
        Acceptance::Guarded => (
            "proven to lie inside the limits at the level asked for",
            "proven to lie outside the limits at that level",
        ),
        Acceptance::Simple => ("the value lies inside the limits", "the value lies outside the limits"),
    };
    let meaning = [
        (Some(Verdict::Within), "within", within),
        (Some(Verdict::Undecided), "undecided", "neither is proven"),
        (Some(Verdict::Outside), "outside", outside),
        (
            Some(Verdict::Doubtful),
            "doubtful",
            "its readings contradict each other, or the instrument or the plan they rest on is in doubt",
        ),
        (Some(Verdict::CannotJudge), "no judgement", "measured, and no value follows from the readings"),
        (
            Some(Verdict::Stale),
            "stale",
            "measured, and disturbed since by a stage or a move; it does not count for the gate",
        ),
        (Some(Verdict::Missing), "missing", "asked for and not measured, or every reading of it withdrawn"),
        (None, "no tolerance", "the plan has no limits for it, so there is no verdict"),
    ];
    let style = Style::BODY;
    flow.y += 2.0;
    for (verdict, word, words) in meaning {
        flow.need(style.leading());
        let (x, y) = (flow.left(), flow.y + style.size);
        flow.furnish(verdict_mark(verdict, x + 5.0, y - 3.0, 3.3));
        flow.group(Role::Paragraph, |flow| {
            flow.mark(vec![
                Shape::text(x + 14.0, y, style.size, Face::Bold, format!("{word} ")),
                Shape::text(x + 84.0, y, style.size, Face::Book, words).inked(Ink::Black),
            ]);
        });
        flow.y += style.leading();
    }
    flow.y += 5.0;
}
