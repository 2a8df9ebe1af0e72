//! The stages: begun when and by whom, what each found and what was moved, and its state at the end.

use super::Sheet;
use super::words::{few, spaced};
use crate::flow::{Cell, Stack, Table};
use assess::view::{MoveView, ObligationKind as K, StageFinding, StageView, Told};
use quantity::shown::counted;
use std::collections::BTreeMap;

/// The most rows on the first page before some are left out.
const ROWS: usize = 9;

/// A value of a stage with its 95 % and unit.
pub(super) fn shown(s: &Sheet<'_>, f: &StageFinding) -> String {
    let with = s.a.units.with_u(f.unit, f.value, f.u).against([f.lower, f.upper]);
    spaced(&if quantity::shown::has_plus(f.unit, f.lower, f.upper) {
        with.signed_with()
    } else {
        with.plain_with()
    })
}

/// The name of a finding: `S6`, `root-post across`, `front spar`.
pub(super) fn called(f: &StageFinding) -> String {
    match f.kind {
        K::Level => format!("{} along", f.about),
        K::Cross => format!("{} across", f.about),
        K::Straightness => format!("{} spar", f.about.trim_end_matches(" spar")),
        K::Spacing => format!("spacing {}", f.about),
        _ => f.about.clone(),
    }
}

/// How far it is off, in limits.
fn badness(f: &StageFinding, value: f64) -> f64 {
    let of = |limit: Option<f64>| limit.filter(|l| *l != 0.0).map_or(0.0, |l| value / l);
    match (f.lower, f.upper) {
        (Some(lower), _) if lower >= 0.0 => {
            if value < lower {
                2.0
            } else {
                0.5
            }
        }
        (lower, upper) => of(upper).max(of(lower)),
    }
}

impl Sheet<'_> {
    /// The worst that a stage had found before something was moved.
    pub(super) fn first_found<'v>(&self, v: &'v StageView) -> Option<(&'v StageFinding, String)> {
        let before = v.found.iter().filter_map(|f| Some((f, f.before?)));
        let worst = before.max_by(|(a, x), (b, y)| badness(a, x.value).total_cmp(&badness(b, y.value)))?;
        let (found, was) = worst;
        let then = StageFinding { value: was.value, u: was.u, ..found.clone() };
        Some((found, shown(self, &then)))
    }

    pub(super) fn moves_of(&self, v: &StageView) -> Vec<&MoveView> {
        let within = |m: &&Told<MoveView>| (v.on.entry..=v.last_entry).contains(&m.on.entry);
        self.a.moves.iter().filter(within).map(|m| &m.what).collect()
    }

    /// `tip front 10.6 mm`, `2 supports moved, at most 4.9 mm`.
    pub(super) fn moved(&self, v: &StageView) -> Option<String> {
        match self.moves_of(v).as_slice() {
            [] => None,
            [one] => Some(format!("{} moved {}", one.support, self.amount(one))),
            many => {
                let most = many.iter().max_by(|a, b| a.amount_mm.abs().total_cmp(&b.amount_mm.abs()))?;
                Some(format!("{} moves, the longest {} {}", many.len(), most.support, self.amount(most)))
            }
        }
    }

    /// How far something was moved, with its sign: `+10.63 mm`.
    pub(super) fn amount(&self, m: &MoveView) -> String {
        let shown = self.length().exact_with((m.amount_mm * 100.0).round() / 100.0);
        if m.amount_mm > 0.0 { format!("+{shown}") } else { shown }
    }

    /// What it measured: `12 stations, 11 distances`.
    pub(super) fn measured(v: &StageView) -> String {
        let mut kinds: BTreeMap<K, usize> = BTreeMap::new();
        v.found.iter().for_each(|f| *kinds.entry(f.kind).or_default() += 1);
        let tilts = kinds.remove(&K::Level).unwrap_or(0) + kinds.remove(&K::Cross).unwrap_or(0);
        let mut said = Vec::new();
        let mut say = |n: usize, one: &str, many: &str| {
            if n > 0 {
                said.push(counted(n, one, many));
            }
        };
        say(tilts, "tilt of a post", "tilts of posts");
        let mut of = |kind: K, one: &str, many: &str| say(kinds.get(&kind).copied().unwrap_or(0), one, many);
        of(K::Station, "station", "stations");
        of(K::Straightness, "spar", "spars");
        of(K::Spacing, "distance", "distances");
        of(K::Square, "bay", "bays");
        of(K::Clearance, "shaft", "shafts");
        of(K::Spot, "spot", "spots");
        of(K::Rigging, "value of the rigging", "values of the rigging");
        if said.is_empty() { "nothing measured".to_owned() } else { said.join(", ") }
    }

    /// What a stage found, and what was moved, changed or worked on in it.
    pub(super) fn story(&self, v: &StageView) -> String {
        let mut said = Vec::new();
        match self.first_found(v) {
            Some((f, was)) => said.push(format!("{} was {was}", called(f))),
            None => said.push(Self::measured(v)),
        }
        said.extend(self.moved(v));
        let within = |entry: u64| (v.on.entry..=v.last_entry).contains(&entry);
        let reworks: Vec<String> =
            self.a.reworks.iter().filter(|r| within(r.on.entry)).map(|r| r.what.what.clone()).collect();
        if !reworks.is_empty() {
            said.push(few(&reworks, 1));
        }
        let replans = self.a.replans.iter().filter(|r| within(r.on.entry)).count();
        if replans > 0 {
            said.push(format!(
                "plan changed {}",
                if replans == 1 { "once".to_owned() } else { format!("{replans} times") }
            ));
        }
        said.join("; ")
    }

    /// The washout error at the end of a stage, or the reason there is none.
    fn washout(&self, v: &StageView) -> Cell<'static> {
        if let Some(f) = v.found.iter().find(|f| f.kind == K::Washout) {
            return Cell::value(&shown(self, f).replace(" ± ", " ±"));
        }
        let stations: Vec<&str> =
            v.found.iter().filter(|f| f.kind == K::Station).map(|f| f.about.as_str()).collect();
        Cell::text(match stations.as_slice() {
            [] => "no twist".to_owned(),
            [one] => format!("{one} only"),
            [first, .., last] => format!("{first} to {last} only"),
        })
    }

    /// The stages for the sheet's tables, the skipped ones each before the stage that skipped it.
    fn stage_rows(&self) -> Vec<StageRow<'_>> {
        let skips = |v: &StageView| !v.passed.is_empty();
        let both = |v| [skips(v).then_some(StageRow::Skipped(v)), Some(StageRow::Begun(v))];
        self.a.stages.iter().flat_map(both).flatten().collect()
    }

    /// A table of stages, those skipped too.
    fn stages_of<'r>(&self, name: &str, rows: &[StageRow<'_>]) -> Table<'r> {
        use StageRow::{Begun, Skipped};
        let twisted = |f: &StageFinding| matches!(f.kind, K::Washout | K::Station);
        let twist = self.a.stages.iter().any(|v| v.found.iter().any(twisted));
        let mut table = Table::of(name, rows)
            .text("stage", |row| match row {
                Skipped(v) if v.passed.len() > 1 => Cell::strong(format!("{} stages", v.passed.len())),
                Skipped(v) => Cell::strong(v.passed.concat()),
                Begun(v) => Cell::strong(v.name.as_str()),
            })
            .text(format!("begun, {}", self.year()), |row| match row {
                Skipped(v) => Cell::text(format!("#{}", v.on.entry)),
                Begun(v) => Cell::text(self.minute(&v.on.when)),
            })
            .text("by", |(Skipped(v) | Begun(v))| Cell::text(v.on.by.as_str()))
            .words("found, and what was moved", |row| match row {
                Skipped(v) if v.passed.len() > 1 => {
                    Cell::text(format!("skipped {}: {}", v.passed.join(", "), why(v)))
                }
                Skipped(v) => Cell::text(format!("skipped: {}", why(v))),
                Begun(v) if v.unmet.is_empty() || !v.passed.is_empty() => Cell::text(self.story(v)),
                Begun(v) => {
                    let unmet = format!("begun with {} not met: {}", v.unmet.len(), why(v));
                    Cell::text(format!("{}; {unmet}", self.story(v)))
                }
            });
        if twist {
            table = table.figures("washout error, 95 %", |row| match row {
                Skipped(_) => Cell::Empty,
                Begun(v) => self.washout(v),
            });
        }
        table
            .text("at its end", |row| match row {
                Skipped(_) => Cell::Empty,
                Begun(v) => v.verdict.map_or(Cell::text("nothing asked"), |verdict| {
                    Cell::Word(verdict, verdict.word().to_owned())
                }),
            })
            .into()
    }

    /// Every stage.
    pub(super) fn stage_table<'r>(&self, name: &str) -> Table<'r> {
        self.stages_of(name, &self.stage_rows())
    }
}

/// A row of the stages: one that began, or what it skipped.
enum StageRow<'v> {
    Skipped(&'v StageView),
    Begun(&'v StageView),
}

/// Why a stage was begun over others or over something not met.
pub(super) fn why(v: &StageView) -> &str {
    v.reason.as_deref().unwrap_or("no reason given")
}

pub(super) fn table<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let passed = s.a.stages.iter().map(|v| v.passed.len()).sum::<usize>();
    let mut rows = s.stage_rows();
    let skipped = match passed {
        0 => "no stage was skipped".to_owned(),
        n => format!("{} skipped on purpose", counted(n, "stage", "stages")),
    };
    let left = rows.len().saturating_sub(ROWS);
    let note = if left > 0 {
        rows.drain(1..=left);
        format!("{skipped}; the first and the last {} of {}", ROWS - 1, ROWS + left)
    } else {
        skipped
    };
    stack.heading("Stages", &note, None);
    if rows.is_empty() {
        stack.paragraph("", "No stage has begun.");
        return;
    }
    stack.table(s.stages_of("Stages", &rows));
}
