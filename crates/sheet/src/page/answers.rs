//! The sentence of the verdict and the three answers.

use super::Sheet;
use super::verdict::{Answer, Headline};
use assess::view::{SignView, Verdict};
use quantity::shown::capital;
use quantity::shown::counted;
use record::GateState;
use record::calendar::day;
use record::plan::Acceptance;

impl Sheet<'_> {
    pub(super) fn verdict(&self) -> Headline {
        let good = self.a.gate.state == GateState::Clear;
        Headline {
            good,
            word: self.a.gate.state.word().to_uppercase(),
            question: self.question(),
            sentence: self.sentence(),
            more: self.reason(),
            answers: [self.not_met(), self.untouched(), self.who_signed()],
        }
    }

    fn question(&self) -> String {
        let asked = if self.aeroplane() { "Is it rigged as the plan asks?" } else { "May the skins go on?" };
        if let Some(decision) = &self.a.decision {
            return format!("{asked} Decided {}, entry {}.", day(&decision.on.when, ""), decision.on.entry);
        }
        match self.cleared() {
            Some(s) if self.a.gate.state == GateState::Hold => {
                format!("{asked} It was CLEAR on {}, entry {}.", self.day(&s.when), s.entries)
            }
            _ => asked.to_owned(),
        }
    }

    /// The last sign-off under a clear gate whose signature fits.
    fn cleared(&self) -> Option<&SignView> {
        self.a.signatures.iter().rev().find(|s| s.gate == GateState::Clear && s.seal.is_sound())
    }

    fn sentence(&self) -> String {
        let (unmet, total) = (self.unmet(), self.total());
        match (self.broken(), self.a.gate.state) {
            (Some(Some(entry)), _) => format!("Do not sign: log broken at {entry}."),
            (Some(None), _) => "Do not sign: the log was altered.".to_owned(),
            (None, GateState::Clear) => format!("Nothing against it: {total} of {total} met."),
            (None, GateState::Hold) if self.cleared().is_some() && self.a.decision.is_none() => {
                format!("No: {unmet} of {total} not met since then.")
            }
            (None, GateState::Hold) => format!("No: {unmet} of {total} not met."),
        }
    }

    fn reason(&self) -> String {
        let gate = &self.a.gate;
        if let Some(Some(entry)) = self.broken() {
            let before = entry.saturating_sub(1);
            return format!("Entry {entry} does not fit entry {before}. Nothing from it on can be trusted.");
        }
        if let Some(decision) = &self.a.decision {
            let verdict = self.a.stage_verdict.map_or("nothing measured yet", Verdict::word);
            return format!(
                "{} began after it. Stage {}: {verdict}.",
                capital(&decision.before),
                self.stage()
            );
        }
        match gate.state {
            GateState::Clear if self.a.rule.acceptance == Acceptance::Simple => {
                "Accepted by the value alone, without its ±: the plan asks for that.".to_owned()
            }
            GateState::Clear => match self.twice() {
                Some(who) => format!("{who} signed as builder and as inspector."),
                None => "Every obligation of the plan has its proof in the log. The people who sign decide."
                    .to_owned(),
            },
            GateState::Hold => {
                let causes = counted(gate.reasons.len(), "cause", "causes");
                let outside = gate.count(Verdict::Outside);
                let proven = match outside {
                    0 => String::new(),
                    1 => " 1 is proven outside its limit.".to_owned(),
                    n => format!(" {n} are proven outside their limits."),
                };
                format!("{causes} below, worst first.{proven}")
            }
        }
    }

    fn not_met(&self) -> Answer {
        let question = "What is not met?";
        let answer = |answer: String, more: String| Answer { question, answer, more, see: None };
        if self.broken().is_some() {
            return answer("Cannot be said".to_owned(), "the log does not prove it".to_owned());
        }
        let (unmet, total) = (self.unmet(), self.total());
        if self.a.gate.state == GateState::Clear {
            let look = self.look_first().len();
            let more = match (look, &self.a.decision) {
                (_, Some(_)) => "as decided; later stages have verdicts of their own".to_owned(),
                (0, None) => format!("the board below shows all {total}"),
                (n, None) => format!("but look at {} below", counted(n, "thing", "things")),
            };
            return answer("Nothing".to_owned(), more);
        }
        let states: Vec<String> = Verdict::WORST_FIRST
            .into_iter()
            .filter(|s| *s != Verdict::Within)
            .map(|s| (self.a.gate.count(s), s))
            .filter(|(n, _)| *n > 0)
            .map(|(n, s)| format!("{n} {}", s.obligation_word()))
            .collect();
        let more =
            if states.len() > 3 { format!("the board below shows all {total}") } else { states.join(", ") };
        answer(format!("{unmet} of {total}"), more)
    }

    fn untouched(&self) -> Answer {
        let total = self.stamp.entries;
        let all = &self.a.signatures;
        let fit = all.iter().filter(|s| s.seal.is_sound()).count();
        let chain = self.record("chain").map(|o| o.state);
        let (answer, more) = match (self.broken(), chain) {
            (Some(Some(entry)), _) => {
                let before = entry.saturating_sub(1);
                let rest = "the rest is shown, and does not count";
                (format!("No: {before} of {total} entries fit"), rest.to_owned())
            }
            (Some(None), _) => ("No: altered".to_owned(), "the file is not as it was made".to_owned()),
            (None, Some(Verdict::Within)) => {
                let signed = match all.len() {
                    0 => "no signature".to_owned(),
                    n if fit == n => format!("{fit} of {} fit", counted(n, "signature", "signatures")),
                    n => format!("{fit} of {n} SIGNATURES FIT"),
                };
                (format!("Yes: {total} of {total} entries fit"), signed)
            }
            (None, _) => ("Not known".to_owned(), "the chain was not checked".to_owned()),
        };
        let see = self.full().then_some(super::trust::CHAPTER);
        Answer { question: "Is the log untouched?", answer, more, see }
    }

    /// A person who signed as builder and as inspector.
    pub(super) fn twice(&self) -> Option<String> {
        let inspects = |s: &&SignView| record::inspects(&s.capacity);
        let all = &self.a.signatures;
        let inspector = all.iter().filter(inspects).find(|i| {
            all.iter().any(|s| !inspects(&s) && (s.who == i.who || (s.key.is_some() && s.key == i.key)))
        });
        inspector.map(|s| s.who.clone())
    }

    fn who_signed(&self) -> Answer {
        let question = "Who signed?";
        let all = &self.a.signatures;
        let answer = |answer: String, more: String| Answer { question, answer, more, see: None };
        let Some(last) = all.last() else {
            return answer("Nobody".to_owned(), "no sign-off is in the log".to_owned());
        };
        if all.iter().any(|s| !s.seal.is_sound()) {
            let bad = all.iter().filter(|s| !s.seal.is_sound()).map(|s| format!("#{}", s.entry));
            return answer("Signatures do not fit".to_owned(), bad.collect::<Vec<_>>().join(", "));
        }
        let since = match last.entries_since {
            0 => "nothing written after".to_owned(),
            n => format!("{} written after {}", counted(n, "entry", "entries"), last.who),
        };
        if let Some(who) = self.twice() {
            let one = all.iter().filter(|s| s.who == who);
            let mut keys: Vec<&Option<String>> = one.map(|s| &s.key).collect();
            keys.dedup();
            let key = match keys.as_slice() {
                [Some(_)] => "one key, ",
                [None] => "no key, ",
                _ => "",
            };
            return answer(format!("{who}, twice"), format!("one person, {key}two capacities"));
        }
        let mut names: Vec<&str> = Vec::new();
        for s in all.iter().rev() {
            if !names.contains(&s.who.as_str()) {
                names.insert(0, &s.who);
            }
        }
        let names = match names.as_slice() {
            [one] => (*one).to_owned(),
            [one, two] => format!("{one} and {two}"),
            more => format!("{} persons, last {}", more.len(), last.who),
        };
        let inspected = all.iter().any(|s| record::inspects(&s.capacity));
        let hold_since = self.a.gate.state == GateState::Hold && self.cleared().is_some();
        match (hold_since, inspected) {
            (true, _) => answer(format!("{names}, before that"), since),
            (false, true) => answer(names, format!("{}; {since}", self.capacities())),
            (false, false) => {
                answer("Nobody as inspector".to_owned(), format!("{names} signed as {}", self.capacities()))
            }
        }
    }

    fn capacities(&self) -> String {
        let mut all: Vec<&str> = self.a.signatures.iter().map(|s| s.capacity.as_str()).collect();
        all.dedup();
        all.join(", ")
    }
}
