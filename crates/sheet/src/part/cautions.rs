//! What the sheet is not, how it is checked, and where it is signed.

pub(crate) mod places;
pub(crate) use places as places_to_sign;

use crate::draw::Role;
use crate::flow::{Flow, Style};
use crate::text::{Face, wrap};

/// The sentence of the first page.
pub(crate) fn short_caution(flow: &mut Flow<'_>) {
    let words = "This sheet records what was measured and works out what follows from it. It does not approve the wing or any \
                 work on it. The kit maker’s drawings and manual, the local authority and the licensed person in charge stand \
                 above it.";
    let lines = wrap(flow.set, Face::Book, 7.5, words, flow.width());
    flow.group(Role::Paragraph, |flow| flow.lines(&lines, Style::SMALL));
    flow.y += 4.0;
}

/// The cautions in full, and how to check the sheet.
pub(crate) fn cautions(flow: &mut Flow<'_>) {
    flow.section("Cautions", 60.0, |flow| {
        let items = [
            "The figures are as good as the readings: an instrument set down badly, on a burr or on the wrong point, gives a \
             wrong figure with a small uncertainty. Spot-check a few points by hand before anything is closed.",
            "Every limit on this sheet comes from the plan. Whether the plan repeats the kit maker’s data rightly is for the \
             people who sign to find out. What the plan has no limit for is shown without a verdict, not as good.",
            "“Clear” means that this log meets every requirement of this plan. It is not an approval, a \
             release or a statement of airworthiness, and it covers nothing that was not measured.",
            "A wing on a jig can roll or drop when a support is moved. Move supports only with the wing held, and by the kit \
             maker’s instructions.",
        ];
        flow.list(items, Style::BODY);
    });
    flow.section("How to check this sheet", 40.0, |flow| {
        let words = "The foot of every page carries the first 32 digits of two SHA-256 values, in groups of four, and beside \
                     each four words made from its first twelve digits. The log’s value covers every entry up to the number \
                     given there; change one reading and it is another. Compare it with what the program shows for the log, or \
                     let the program do it: jigtrue verify LOG --sheet FILE.pdf. It makes the sheet again from the log, compares \
                     every byte, and says how many entries were added since.";
        flow.paragraph(words, Style::BODY);
    });
}

/// A note where characters had to be spelled out.
pub(crate) fn spelled(flow: &mut Flow<'_>) {
    let spelled = flow.set.spelled();
    if spelled.is_empty() {
        return;
    }
    let shown: Vec<String> = spelled.iter().take(40).map(|c| format!("\\u{{{:x}}}", u32::from(*c))).collect();
    let more = spelled.len().saturating_sub(shown.len());
    let more = if more > 0 { format!(" and {more} others") } else { String::new() };
    flow.section("Characters spelled out", 30.0, |flow| {
        // The spellings are put in as they are: they must not be spelled out once more.
        let words = format!(
            "The font of this sheet lacks some characters of the log, or they cannot be seen. They are spelled by their \
             Unicode number: {}{more}.",
            shown.join(" ")
        );
        let lines = wrap(flow.set, Face::Book, Style::BODY.size, &words, flow.width());
        flow.group(Role::Paragraph, |flow| flow.lines(&lines, Style::BODY));
    });
}
