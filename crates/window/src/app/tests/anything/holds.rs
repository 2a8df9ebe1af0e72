//! What must hold after every step.

use super::{Did, Hand};
use bench::Live;
use eframe::egui::Key;
use record::{Entry, GateState, What};
use session::Session;
use window::Screen;

impl Hand {
    /// The window shows what follows from the log on the disk.
    pub fn agrees(&mut self) {
        let fresh = Session::open_read_only(&self.p.log()).unwrap();
        let shown = self.p.t.log();
        assert_eq!(shown.entries.len(), fresh.entries().len(), "{}", self.told);
        let json = |a: &assess::Assessment| serde_json::to_string(a).unwrap();
        assert_eq!(json(&shown.assessment), json(&fresh.assessment()), "{}", self.told);
        let labels = self.p.t.labels();
        let clear = fresh.assessment().gate.state == GateState::Clear;
        let other = if clear { "HOLD" } else { "CLEAR" };
        assert!(!labels.iter().any(|l| l == other), "{other} is shown: {labels:?}\n{}", self.told);
        if !clear {
            assert!(
                !labels.iter().any(|l| l.starts_with("Clear: ") || l.contains("the gate is clear")),
                "{labels:?}\n{}",
                self.told
            );
        }
        let live = matches!(
            self.p.t.log().live.live,
            Live::None | Live::Waiting { .. } | Live::Lost { .. } | Live::Wrong { .. }
        );
        let figure =
            |l: &&String| ["moving", "settling", "settled"].iter().any(|w| l.ends_with(&format!("°, {w}")));
        assert!(
            !(live && labels.iter().any(|l| figure(&l))),
            "a figure without a signal: {labels:?}\n{}",
            self.told
        );
        self.counts_agree(&labels, &fresh.assessment());
        // What the rail shows as met, the gate shows as met.
        let state = |kinds: &[assess::view::ObligationKind]| {
            let all = &fresh.assessment().gate.obligations;
            let of: Vec<_> = all.iter().filter(|o| kinds.contains(&o.kind)).map(|o| o.state).collect();
            of.iter().all(|s| *s == assess::view::Verdict::Within)
        };
        use assess::view::ObligationKind as Kind;
        for (cell, kinds) in
            [("Level: ", &[Kind::Level, Kind::Cross][..]), ("Profile: ", &[Kind::Station][..])]
        {
            let says = labels.iter().find(|l| l.starts_with(cell) && l.ends_with(" within"));
            let decided = fresh.assessment().decision.is_some();
            assert!(
                says.is_none() || decided || state(kinds),
                "{says:?}\n{:?}\n{}",
                fresh.assessment().gate.obligations,
                self.told
            );
        }
    }

    /// The counts of each verdict agree: on the tiles of the gate, and over the profile.
    fn counts_agree(&self, labels: &[String], a: &assess::Assessment) {
        use assess::Verdict;
        let counted = |word: &str| {
            let of = |l: &String| l.strip_suffix(word)?.strip_suffix(' ')?.parse::<usize>().ok();
            labels.iter().find_map(of)
        };
        let states = [
            (Verdict::Outside, "outside"),
            (Verdict::CannotJudge, "cannot be judged"),
            (Verdict::Doubtful, "doubtful"),
            (Verdict::Undecided, "undecided"),
            (Verdict::Stale, "stale"),
            (Verdict::Missing, "missing"),
            (Verdict::Within, "met"),
        ];
        let face = &self.p.t.w.state().face;
        if face.screen() == Screen::Gate && counted("met").is_some() {
            let shown = states.map(|(_, word)| counted(word));
            let of = |gate: &assess::view::Gate| states.map(|(state, _)| Some(gate.count(state)));
            let after = a.after.as_ref().map(of);
            assert!(
                shown == of(&a.gate) || Some(shown) == after,
                "{shown:?} {:?}\n{}",
                of(&a.gate),
                self.told
            );
        }
        let Some(twist) = a.twist.as_ref().filter(|_| face.screen() == Screen::Profile && !face.asks())
        else {
            return;
        };
        if !labels.iter().any(|l| l.starts_with("twist error by station")) {
            return;
        }
        for (verdict, word) in [
            (Verdict::Within, "within"),
            (Verdict::Outside, "outside"),
            (Verdict::Undecided, "undecided"),
            (Verdict::Doubtful, "doubtful"),
            (Verdict::Stale, "stale"),
            (Verdict::CannotJudge, "cannot be judged"),
        ] {
            let n = twist.stations.iter().filter(|s| s.verdict == Some(verdict)).count();
            assert_eq!(counted(word).unwrap_or(0), n, "{word}: {labels:?}\n{}", self.told);
        }
    }

    /// Whatever was written under this person's name in a step, the step asked for.
    pub fn was_asked_for(&self, before: &str, focus: bool, did: &Did, new: &[Entry]) {
        // A watch that was begun goes on writing.
        let live = self.p.t.w.state().desk.model().wing.as_ref().map(|w| w.live.hands_free);
        let began = self.free_at.is_none() && live == Some(bench::HandsFree::On);
        for entry in new.iter().filter(|e| !matches!(e.what, What::Drift { .. })) {
            // Hands free takes what is shown, at the point shown; it may have begun in this very step.
            if let What::Reading(r) = &entry.what
                && r.source == record::Source::Port
                && (began || self.free_at.as_ref() == Some(&(r.point.clone(), r.facing)))
            {
                continue;
            }
            if matches!(entry.what, What::Move(_)) && self.free_moves {
                continue;
            }
            let name = match did {
                Did::Tapped(name) => name.as_str(),
                Did::Pressed(Key::Space) if matches!(entry.what, What::Reading(_)) => continue,
                Did::Pressed(Key::Enter) => {
                    let doubt = [
                        "Is it so?",
                        "Was something moved?",
                        "Was the level touched?",
                        "Which screw was it?",
                    ];
                    assert!(
                        focus || !doubt.iter().any(|d| before.contains(d)),
                        "Enter answered a doubt: {entry:?}\n{}",
                        self.told
                    );
                    continue;
                }
                other => panic!("{entry:?} was written by {other:?}\n{}", self.told),
            };
            let fits = match &entry.what {
                What::Reading(_) => {
                    ["Take", "Done", "Yes: record it", "Nothing was moved: a new round"].contains(&name)
                }
                What::Move(_) => {
                    ["Record the move", "Done", "Yes: record it"].contains(&name) || name.contains(" mm")
                }
                What::Withdrawn { .. } => ["Undo it", "Count it again", "Done"].contains(&name),
                What::Stage(_) => name.starts_with("Begin ") || name == "Done",
                What::Signed(_) => name == "Sign it",
                _ => name == "Done" || name == "Use it",
            };
            assert!(fits, "`{name}` wrote {entry:?}\n{}", self.told);
        }
    }
}
