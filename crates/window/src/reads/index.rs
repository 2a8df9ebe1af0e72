//! The points of a wing, how many are left, and what the rail says.

use super::board::{Board, Part};
use super::undo::Undo;
use crate::draw::marks::Mark;
use crate::model::Wing;
use assess::view::{PointState, PointView};
use assess::{Assessment, Verdict};
use record::point::Place;
use record::{Entry, Instrument, Point, Withdrawn};
use std::cmp::Reverse;
use std::collections::HashMap;
use std::sync::Arc;

const MET: Mark = Mark::Of(Verdict::Within);
const MISSING: Mark = Mark::Of(Verdict::Missing);

/// Which facings are wanted at a point that reverses.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Facings {
    One,
    #[default]
    Both,
}

/// What is worked out once for each state of the log; without a log there is nothing in it.
#[derive(Default)]
pub struct Index {
    /// From what it was worked out.
    of: Option<(Arc<Assessment>, Arc<Vec<Entry>>, String)>,
    facings: Facings,
    /// The points, as the assessment lists them.
    pub points: Vec<Point>,
    at: HashMap<Point, usize>,
    /// Places in `points` of what is still to be measured at this stage, in walking order.
    pub left: Vec<usize>,
    pub required: usize,
    /// The worst mark of the levels, how many have it, and how many levels there are.
    pub levels: Tally,
    /// The same for the stations of the profile.
    pub profile: Tally,
    /// The obligations on which the decision to close depends.
    pub board: Board,
    /// Those of the stages after the closing one, once one of them has begun.
    pub after: Option<Board>,
    /// The wings built in a jig; `None` if the plan has none.
    pub wings: Option<Board>,
    pub undo: Option<Undo>,
    pub gone: Withdrawn,
    /// The instruments of the plan and of the log, each with its latest data.
    pub instruments: Vec<Instrument>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    pub all: usize,
    /// How many have each mark, worst first.
    pub of: Vec<Count>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Count {
    pub mark: Mark,
    pub n: usize,
}

/// A tally in a word.
pub struct Short {
    /// The mark, if it says something.
    pub mark: Option<Mark>,
    pub words: String,
}

/// How many points are done of all that are required.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    pub done: usize,
    pub all: usize,
}

impl Tally {
    pub fn count(marks: impl Iterator<Item = Mark>) -> Self {
        let mut tally = Self::default();
        for mark in marks {
            tally.all += 1;
            match tally.of.iter_mut().find(|c| c.mark == mark) {
                Some(count) => count.n += 1,
                None => tally.of.push(Count { mark, n: 1 }),
            }
        }
        tally.of.sort_by_key(|c| Reverse(c.mark));
        tally
    }

    pub fn with(&self, mark: Mark) -> usize {
        self.of.iter().find(|c| c.mark == mark).map_or(0, |c| c.n)
    }

    /// How many are met, if all that have a reading are met; otherwise the worst mark and how many have it.
    pub fn short(&self) -> Short {
        let Some(worst) = self.of.first() else { return Short { mark: None, words: "none".to_owned() } };
        let met = self.with(MET);
        let words = format!("{met} of {}", self.all);
        match worst.mark {
            MET if met == self.all => Short { mark: Some(MET), words },
            MISSING | Mark::Half | Mark::Unasked | MET => Short { mark: None, words },
            mark => Short { mark: Some(mark), words: worst.n.to_string() },
        }
    }
}

/// True for points of one kind on one spar.
pub fn alike(a: &Point, b: &Point) -> bool {
    a.kind() == b.kind() && a.spar() == b.spar()
}

pub fn mark_of(view: &PointView, facings: Facings) -> Mark {
    match view.state {
        PointState::Missing if view.required => MISSING,
        PointState::Missing => Mark::Unasked,
        PointState::Stale => Mark::Of(Verdict::Stale),
        PointState::Fresh if view.required && facings == Facings::Both && view.facing_wanted.is_some() => {
            Mark::Half
        }
        PointState::Fresh => Mark::of(view.verdict),
    }
}

impl Index {
    pub fn of(wing: &Wing, who: &str, facings: Facings) -> Self {
        let a = &wing.assessment;
        let gone = Withdrawn::of(wing.entries.iter());
        let points: Vec<Point> = a.points.iter().map(|v| v.point.clone()).collect();
        let at = points.iter().cloned().enumerate().map(|(i, p)| (p, i)).collect();
        let open =
            |i: &usize| a.points.get(*i).is_some_and(|v| v.required && mark_of(v, facings).is_to_measure());
        let left = (0..points.len()).filter(open).collect();
        let required = a.points.iter().filter(|v| v.required).count();
        let at_places = |place: Place| {
            let views = points.iter().zip(&a.points).filter(|(p, _)| p.kind().row().place == place);
            Tally::count(views.map(|(_, v)| match mark_of(v, facings) {
                Mark::Unasked => MISSING,
                mark => mark,
            }))
        };
        let levels = at_places(Place::Post);
        let stations = a.twist.as_ref().map(|t| &t.stations);
        let profile =
            Tally::count(stations.into_iter().flatten().map(|s| s.verdict.map_or(MISSING, Mark::Of)));
        Self {
            of: Some((Arc::clone(a), Arc::clone(&wing.entries), who.to_owned())),
            facings,
            at,
            left,
            required,
            levels,
            profile,
            board: Board::of(&a.gate, a.decision.as_ref().map(|d| d.on.entry)),
            after: a.after.as_ref().map(|gate| Board::of(gate, None)),
            wings: (!a.wings.is_empty()).then(|| Board::of_wings(&a.wings)),
            undo: Undo::find(wing, &gone, who),
            instruments: crate::screens::measure::instruments(wing, &gone),
            gone,
            points,
        }
    }

    fn has(&self, part: Part) -> Option<&Board> {
        match part {
            Part::Closing => Some(&self.board),
            Part::After => self.after.as_ref(),
            Part::Wings => self.wings.as_ref(),
        }
    }

    /// The board of a part; the closing one's if there is no such part.
    pub fn board(&self, part: Part) -> &Board {
        self.has(part).unwrap_or(&self.board)
    }

    pub fn part(&self, asked: Part) -> Part {
        self.has(asked).map_or(Part::Closing, |_| asked)
    }

    /// The part after this one; the same where it is the only one.
    pub fn part_after(&self, part: Part) -> Part {
        let mut others = Part::ALL.into_iter().cycle().skip_while(|p| *p != part).skip(1);
        others.find(|p| self.has(*p).is_some()).unwrap_or(part)
    }

    /// True if it was worked out from exactly this state.
    pub fn is_of(&self, wing: &Wing, who: &str, facings: Facings) -> bool {
        let same = |(a, e, w): &(Arc<Assessment>, Arc<Vec<Entry>>, String)| {
            Arc::ptr_eq(a, &wing.assessment) && Arc::ptr_eq(e, &wing.entries) && w == who
        };
        self.of.as_ref().is_some_and(same) && self.facings == facings
    }

    pub fn view<'a>(&self, wing: &'a Wing, point: &Point) -> Option<&'a PointView> {
        self.at.get(point).and_then(|i| wing.assessment.points.get(*i))
    }

    pub fn mark(&self, wing: &Wing, point: &Point) -> Mark {
        self.view(wing, point).map_or(Mark::Unasked, |v| mark_of(v, self.facings))
    }

    /// True if one of two facings is still to be taken there.
    pub fn is_half(&self, wing: &Wing, point: &Point) -> bool {
        self.mark(wing, point) == Mark::Half
    }

    /// The points of the same kind, on the same spar, from the root outboard.
    pub fn row(&self, point: &Point) -> Vec<&Point> {
        self.points.iter().filter(|p| alike(p, point)).collect()
    }

    /// The progress among the required points of the same kind.
    pub fn progress(&self, wing: &Wing, point: &Point) -> Progress {
        let row = self.row(point);
        let asked = row.iter().filter(|p| self.view(wing, p).is_some_and(|v| v.required));
        let left = self.left.iter().filter_map(|i| self.points.get(*i));
        let (open, all) = (left.filter(|p| alike(p, point)).count(), asked.count());
        Progress { done: all.saturating_sub(open), all }
    }

    /// The next point to be measured after this one, in walking order; the first if none comes after.
    pub fn next(&self, from: Option<&Point>) -> Option<&Point> {
        let here = from.and_then(|p| self.at.get(p)).copied();
        let open = || self.left.iter().copied().filter(|i| Some(*i) != here);
        let point = |i: usize| self.points.get(i);
        // The rest of the row comes first: outboard of here, then what was left out inboard.
        let same = |i: &usize| point(*i).zip(from).is_some_and(|(p, from)| alike(p, from));
        let after = |i: &usize| here.is_none_or(|h| *i > h);
        let next = open().filter(same).find(after).or_else(|| open().find(same));
        next.or_else(|| open().find(after)).or_else(|| open().next()).and_then(point)
    }
}
