//! One line of the table, and how two things are timed against each other.

use std::time::{Duration, Instant};

/// What is asked of a ratio.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Aim {
    /// Ours over the rival's, at most.
    AtMost(f64),
    /// The rival's over ours, at least.
    AtLeast(f64),
    /// The rival's over ours, for the record.
    Watched,
}

impl Aim {
    /// Whether `ratio` is as aimed.
    pub fn is_met(self, ratio: f64) -> bool {
        match self {
            Self::AtMost(most) => ratio <= most,
            Self::AtLeast(least) => ratio >= least,
            Self::Watched => true,
        }
    }

    /// Whether `ratio` is worse than half as good as `recorded`.
    pub fn is_gross_loss(self, ratio: f64, recorded: f64) -> bool {
        match self {
            Self::AtMost(_) => ratio > 2.0 * recorded,
            Self::AtLeast(_) | Self::Watched => ratio < recorded / 2.0,
        }
    }

    fn words(self) -> String {
        match self {
            Self::AtMost(most) => format!("<= {most}"),
            Self::AtLeast(least) => format!(">= {least}"),
            Self::Watched => String::new(),
        }
    }
}

/// One line of the table.
#[derive(Clone, Debug)]
pub struct Row {
    /// What of ours.
    pub what: &'static str,
    /// The rival.
    pub rival: &'static str,
    /// Both in their own unit, for the reader.
    pub ours: String,
    /// The rival's.
    pub theirs: String,
    /// What the aim is about.
    pub ratio: f64,
    /// The aim.
    pub aim: Aim,
}

impl Row {
    /// Of two durations.
    pub fn of_times(what: &'static str, rival: &'static str, pair: (Duration, Duration), aim: Aim) -> Self {
        let (ours, theirs) = (pair.0.as_secs_f64(), pair.1.as_secs_f64());
        Self::of(what, rival, (ours, theirs), aim, |seconds| {
            format!("{:.1?}", Duration::from_secs_f64(seconds))
        })
    }

    /// Of two amounts, smaller being better.
    pub fn of(
        what: &'static str,
        rival: &'static str,
        (ours, theirs): (f64, f64),
        aim: Aim,
        shown: impl Fn(f64) -> String,
    ) -> Self {
        let ratio = match aim {
            Aim::AtMost(_) => ours / theirs,
            Aim::AtLeast(_) | Aim::Watched => theirs / ours,
        };
        Self { what, rival, ours: shown(ours), theirs: shown(theirs), ratio, aim }
    }

    /// As a line; `recorded` is the ratio it had when the aims were last recorded.
    pub fn line(&self, recorded: Option<f64>) -> String {
        let recorded = recorded.map_or_else(String::new, |r| format!("{r:.2}"));
        format!(
            "{:<34} {:<38} {:>10} {:>10} {:>8.2} {:>8} {:<6} {recorded:>8}",
            self.what,
            self.rival,
            self.ours,
            self.theirs,
            self.ratio,
            self.aim.words(),
            match self.aim {
                Aim::Watched => "",
                aim if aim.is_met(self.ratio) => "met",
                _ => "missed",
            },
        )
    }

    /// As a line of the table of DEVELOPERS.md.
    pub fn marked(&self) -> String {
        let state = match self.aim {
            Aim::Watched => "",
            aim if aim.is_met(self.ratio) => "met",
            _ => "missed",
        };
        format!(
            "| {} | {} | {} | {} | {:.2} | {} | {state} |",
            self.what,
            self.rival,
            self.ours,
            self.theirs,
            self.ratio,
            self.aim.words()
        )
    }

    /// The headings over [`Row::marked`].
    pub const fn marked_heads() -> &'static str {
        "| what | against | ours | theirs | ratio | aim | |\n|---|---|---|---|---|---|---|"
    }

    /// The headings over [`Row::line`].
    pub fn heads() -> String {
        format!(
            "{:<34} {:<38} {:>10} {:>10} {:>8} {:>8} {:<6} {:>8}",
            "what", "against", "ours", "theirs", "ratio", "aim", "", "recorded"
        )
    }
}

/// How long `work` takes.
pub fn time<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    let start = Instant::now();
    let done = work();
    (start.elapsed(), done)
}

/// The middle one.
pub fn median(times: &mut [Duration]) -> Duration {
    times.sort_unstable();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

/// Medians of both, run in turns so that a busy moment of the machine affects both; one round first that does not
/// count.
pub fn in_turns(rounds: usize, mut one: impl FnMut(), mut other: impl FnMut()) -> (Duration, Duration) {
    let (mut ones, mut others) = (Vec::new(), Vec::new());
    for round in 0..=rounds {
        let pair = (time(&mut one).0, time(&mut other).0);
        if round > 0 {
            ones.push(pair.0);
            others.push(pair.1);
        }
    }
    (median(&mut ones), median(&mut others))
}
