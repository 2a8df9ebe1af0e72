//! The other judgements in one sentence: how many of each verdict.

use assess::view::Judged;
use assess::{Assessment, Verdict};

/// The state of the other judgements; empty where there are none. Points judged alone are counted in the panel.
pub(super) fn judged(a: &Assessment) -> String {
    let twist = a.twist.as_ref();
    let of = |j: &Judged| j.verdict;
    let steps = || twist.iter().flat_map(|t| &t.neighbours).map(|s| s.finding.verdict()).collect();
    let groups: [(&str, Vec<Option<Verdict>>); 6] = [
        ("from each station to the next", steps()),
        (
            "level of the jig",
            a.posts.iter().flat_map(|p| [&p.level, &p.cross]).flatten().map(|tilt| of(&tilt.tilt)).collect(),
        ),
        ("straightness", a.spars.iter().map(|s| of(&s.minimum_zone)).collect()),
        ("squareness", a.bays.iter().map(|b| of(&b.out_of_square)).collect()),
        ("distances", a.spacing.iter().map(|s| of(&s.deviation)).collect()),
        ("shaft clearance", a.bore_line.iter().map(|b| of(&b.clearance)).collect()),
    ];
    let said: Vec<String> = groups
        .into_iter()
        .filter(|(_, all)| !all.is_empty())
        .map(|(name, all)| format!("{name} {}", counted(&all)))
        .collect();
    if said.is_empty() { String::new() } else { format!("Also judged: {}.", said.join("; ")) }
}

fn counted(all: &[Option<Verdict>]) -> String {
    let counts: Vec<String> = Verdict::WORST_FIRST
        .map(Some)
        .into_iter()
        .chain([None])
        .filter_map(|verdict| {
            let count = all.iter().filter(|v| **v == verdict).count();
            let word = verdict.map_or("without a tolerance", Verdict::word);
            (count > 0).then(|| format!("{count} {word}"))
        })
        .collect();
    counts.join(", ")
}
