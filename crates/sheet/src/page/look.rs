//! What a careful reader looks at first, though it is met.

use super::Sheet;
use super::stages::why;
use super::words::{entries, few, percent, spaced};
use assess::view::{DoubtKind, Obligation, Verdict};
use record::OpenAction;
use record::plan::Acceptance;

#[derive(Clone, Debug)]
pub(super) struct Look {
    pub what: &'static str,
    pub words: String,
    pub entries: String,
    /// The chapter that tells more.
    pub see: &'static str,
}

impl Sheet<'_> {
    /// What to look at first, in order of importance.
    pub(super) fn look_first(&self) -> Vec<Look> {
        let a = self.a;
        let mut out = Vec::new();
        let mut look = |what, see, all: Vec<(u64, String)>| {
            if !all.is_empty() {
                let said: Vec<String> =
                    all.iter().map(|(_, words)| words.clone()).filter(|w| !w.is_empty()).collect();
                let entries = entries(all.iter().map(|(entry, _)| *entry).filter(|e| *e > 0));
                out.push(Look { what, words: few(&said, 2), entries, see });
            }
        };
        let (history, trust, geometry) =
            (super::history::CHAPTER, super::trust::CHAPTER, super::geometry::CHAPTER);
        if let Some(after) = &a.after {
            let total = after.obligations.len();
            let unmet = total - after.count(Verdict::Within);
            let words = match unmet {
                0 => format!("{total} of {total} met"),
                _ => {
                    let what: Vec<String> = after.reasons.iter().map(|r| r.what.clone()).collect();
                    format!("{unmet} of {total} not met: {}", few(&what, 3))
                }
            };
            look("Stages after the decision", history, vec![(0, words)]);
        }
        let side = |text: &str| if text.is_empty() { "none".to_owned() } else { text.to_owned() };
        let looser = a.plan_changes.iter().filter(|c| c.looser && !c.taken_back);
        look(
            "A limit was made looser",
            history,
            looser
                .map(|c| (c.entry, format!("{}, was {}, now {}", c.key, side(&c.was), side(&c.now))))
                .collect(),
        );
        let mut rule = Vec::new();
        if a.rule.acceptance == Acceptance::Simple {
            rule.push((0, "simple acceptance: the value alone counts, without its ±".to_owned()));
        }
        if a.rule.level < 0.95 {
            rule.push((0, format!("conformity is asked for at {} % only", a.rule.level * 100.0)));
        }
        look("A looser rule", trust, rule);
        let over = a.stages.iter().filter(|s| s.reason.is_some() || !s.passed.is_empty());
        let over = over.map(|s| {
            let what = if s.passed.is_empty() { &s.unmet } else { &s.passed };
            (s.on.entry, format!("{} begun over {}: {}", s.name, few(what, 2), why(s)))
        });
        look("A stage was skipped", history, over.collect());
        let carried = a.open_items.iter().filter(|i| i.action == OpenAction::Carried);
        let carried = carried
            .map(|i| (i.entry, format!("{}: {}", i.item, i.reason.as_deref().unwrap_or("no reason given"))));
        look("Carried past the gate", history, carried.collect());
        let failed = a.checks.iter().filter(|c| !c.what.passed);
        look(
            "An instrument failed its check",
            trust,
            failed
                .map(|c| (c.on.entry, format!("{}, {}", c.what.instrument, self.day(&c.on.when))))
                .collect(),
        );
        look("Reworked", geometry, a.reworks.iter().map(|r| (r.on.entry, r.what.what.clone())).collect());
        let groups = self.withdrawals();
        let words = groups.iter().map(|w| (0, w.brief()));
        let seqs = groups.iter().flat_map(|w| w.entries()).map(|entry| (entry, String::new()));
        look("Withdrawn", trust, words.chain(seqs).collect());
        let told = |kind: &DoubtKind| {
            !matches!(
                kind,
                DoubtKind::Rule
                    | DoubtKind::Replanned
                    | DoubtKind::Carried
                    | DoubtKind::Stage
                    | DoubtKind::FailedCheck
                    | DoubtKind::LeftRight
            )
        };
        let doubts = a.doubts.iter().filter(|d| told(&d.kind)).map(|d| (0, d.words.clone()));
        look("To know before trusting this", trust, doubts.collect());
        if let Some(who) = self.twice() {
            look("One person", trust, vec![(0, format!("{who} signed as builder and as inspector"))]);
        }
        if a.doubts.iter().any(|d| d.kind == DoubtKind::LeftRight) {
            let words = "left against right: not compared; it needs the log of the other wing".to_owned();
            look("Not compared", super::twist::CHAPTER, vec![(0, words)]);
        }
        if let Some(least) = self.least_certain() {
            let found = least.found.as_deref().map(spaced).unwrap_or_default();
            let limit = least.limit.as_deref().unwrap_or("none");
            let p = least.conforms.map(percent).unwrap_or_default();
            let words = format!("{}, {found}, limit {limit}; conforms {p}", least.what);
            let shown = entries(least.evidence.iter().copied());
            out.push(Look { what: "Least certain", words, entries: shown, see: geometry });
        }
        out
    }

    fn least_certain(&self) -> Option<&Obligation> {
        let met = self.a.gate.obligations.iter().filter(|o| o.state == Verdict::Within);
        met.filter(|o| o.conforms.is_some()).min_by(|a, b| {
            let p = |o: &Obligation| o.conforms.unwrap_or(1.0);
            p(a).total_cmp(&p(b))
        })
    }

    /// The same in one sentence each, for a wing on hold.
    pub(super) fn also(&self) -> String {
        let all = self.look_first();
        let said: Vec<String> = all
            .iter()
            .filter(|l| l.what != "Least certain")
            .map(|l| {
                let at = if l.entries.is_empty() { String::new() } else { format!(" ({})", l.entries) };
                format!("{}: {}{at}", l.what, l.words)
            })
            .collect();
        said.join(". ")
    }
}
