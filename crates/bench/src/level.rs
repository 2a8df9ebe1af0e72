//! The loop of moves, at a post or under the spars: hold still, turn, hold still, record.

use crate::measured::{Difference, Measured, as_it_is};
use crate::pair::{Known, Pair};
use crate::seat::tilt;
use crate::spars::Spars;
use crate::steady::{Advised, Steady};
use crate::{By, Coarse, CoarseFoot, Log, Phase, Place, Seat, Shown, Site, Turn, Zero};
use assess::advice::feet::{Axis, Lean, Made, TiltU, level_feet};
use assess::advice::steps;
use quantity::Degrees;
use quantity::shown::K95;
use record::plan::Post;
use record::{Facing, MoveSeen, Point, What, Withdrawn};

/// The loop of moves.
#[derive(Clone, Debug)]
pub(crate) struct Level {
    pub site: Site,
    /// What to move under the spars.
    spars: Spars,
    pub facing: Facing,
    pub start: Option<Start>,
    /// True from the key that says the level was turned until its value has left the old rest: what it still shows
    /// belongs to the old facing.
    pub unturned: bool,
    /// The same after being told to lay it another way, or on another thing.
    pub unlaid: bool,
    /// Number of entries when this levelling began: the moves after them are its own.
    since: usize,
    /// The advice at the present rest: a flickering digit does not change it.
    steady: Option<Steady>,
    /// The rest that the last question or answer was about: it is not asked about again.
    pub settled_at: Option<f64>,
}

/// Where a move began.
#[derive(Clone, Debug)]
pub(crate) struct Start {
    pub pair: Pair,
    pub shown: Shown,
    /// The turn as announced then.
    pub told: Option<Turn>,
    /// Whether the signal was lost after it.
    pub broken: bool,
}

/// The outcome of a move at its second rest.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Outcome {
    /// No more than the uncertainty of the difference.
    Nothing(String),
    AsTold {
        measured: Measured,
        others: Vec<Measured>,
    },
    /// In another direction, or with another screw.
    Otherwise {
        candidates: Vec<Measured>,
    },
}

/// How many standard uncertainties a tilt may differ from what one foot alone explains.
const MISFIT: f64 = 4.0;

impl Level {
    pub(crate) fn new(site: Site, facing: Facing) -> Self {
        let spars = Spars::default();
        Self {
            site,
            spars,
            facing,
            start: None,
            unturned: false,
            unlaid: false,
            since: usize::MAX,
            steady: None,
            settled_at: None,
        }
    }

    /// Whether the value shown still belongs to the old facing or seat.
    pub(crate) const fn as_before(&self) -> bool {
        self.unturned || self.unlaid
    }

    /// Begins again from the log as it is: the tilts are the live ones from now on.
    pub(crate) fn begin(&mut self, log: &Log<'_>) {
        (self.since, self.start, self.steady) = (log.entries.len(), None, None);
    }

    /// The moves since this levelling began.
    fn made(&self, log: &Log<'_>) -> Vec<Made> {
        let after = log.entries.get(self.since..).unwrap_or_default();
        let made = |entry: &record::Entry| match &entry.what {
            What::Move(it) => Some(Made { foot: it.support.clone(), mm: it.amount.value() }),
            _ => None,
        };
        Withdrawn::others(after).filter_map(made).collect()
    }

    /// Notes the log. Between the start and the end of a move, nothing is planned again.
    pub(crate) fn look(&mut self, log: &Log<'_>) {
        if self.site == Site::Spars && self.start.is_none() {
            self.spars = Spars::of(log);
        }
    }

    /// The point that the instrument's own axis measures; `None` under the spars if nothing is left to turn.
    pub(crate) fn point(&self, seat: Seat) -> Option<Point> {
        match &self.site {
            Site::Post(post) => Some(Point::at(seat.main_kind()?, post)),
            Site::Spars => self.spars.point(),
        }
    }

    pub(crate) const fn left(&self) -> usize {
        self.spars.left()
    }

    fn post_in<'a>(&self, log: &Log<'a>) -> Option<&'a Post> {
        match &self.site {
            Site::Post(name) => log.plan.posts.iter().find(|post| post.name == *name),
            Site::Spars => None,
        }
    }

    /// The tilt of a kind for a shown value, with the facing's sign applied and the zero subtracted if known.
    fn tilt(&self, known: &Known, axis: Axis, pair: &Pair) -> Option<Tilt> {
        let (shown, facing, zero) = if axis == known.seat.main_axis() {
            (pair.main, self.facing, known.zero)
        } else {
            (pair.second?, known.seat.second_facing(self.facing)?, known.second_zero)
        };
        let value = facing.sign() * (shown - zero.known().unwrap_or(0.0));
        let u = match zero {
            Zero::Known { u, .. } => (u * u + pair.u * pair.u).sqrt(),
            Zero::Unknown => pair.u,
        };
        Some(Tilt { value, u, zero_out: zero.known().is_some() })
    }

    /// Both tilts on the scales of their limits, the instrument's own axis first.
    pub(crate) fn places(&self, log: &Log<'_>, known: &Known, pair: &Pair) -> Vec<Place> {
        let Site::Post(post) = &self.site else {
            return self.at_station(log, known, pair).into_iter().collect();
        };
        [known.seat.main_axis(), known.seat.second_axis()]
            .into_iter()
            .filter_map(|axis| {
                let point = Point::at(tilt(axis)?, post);
                let tilt = self.tilt(known, axis, pair)?;
                Some(Place { zero_out: tilt.zero_out, ..log.place(point, tilt.value) })
            })
            .collect()
    }

    /// The live incidence at the watched station, if any, corrected for facing, fixture and, if known, the zero.
    fn at_station(&self, log: &Log<'_>, known: &Known, pair: &Pair) -> Option<Place> {
        let (point, zero) = (self.spars.point()?, known.zero.known());
        let value = self.facing.sign() * (pair.main - zero.unwrap_or(0.0)) - log.plan.fixture_of(&point);
        Some(Place { zero_out: zero.is_some(), ..log.place(point, value) })
    }

    /// The instrument was set up again: what was at rest means something else now.
    pub(crate) fn set_up_again(&mut self) {
        (self.start, self.steady) = (None, None);
    }

    /// Keeps the advice at this rest, or drops it if nothing is at rest.
    pub(crate) fn steadies(&mut self, log: &Log<'_>, known: &Known, at_rest: Option<&Pair>) {
        let Some(pair) = at_rest else { return self.steady = None };
        if !self.steady.as_ref().is_some_and(|it| it.holds(self.facing, log, known, pair)) {
            let advised = self.advise_now(log, known, pair);
            self.steady =
                Some(Steady { advised, pair: *pair, entries: log.entries.len(), facing: self.facing });
        }
    }

    /// What to turn: as advised at this rest, else from the live value.
    pub(crate) fn advise(&self, log: &Log<'_>, known: &Known, pair: &Pair) -> Advised {
        match &self.steady {
            Some(it) if it.holds(self.facing, log, known, pair) => it.advised.clone(),
            _ => self.advise_now(log, known, pair),
        }
    }

    /// What to turn, from the live value alone. Only tilts with a known zero count; the other is left as it is.
    fn advise_now(&self, log: &Log<'_>, known: &Known, pair: &Pair) -> Advised {
        let none = Advised { turn: None, reasons: Vec::new(), coarse: None };
        if self.site == Site::Spars {
            let turn = self.spars.turn();
            let reasons = if turn.is_none() { self.spars.why.clone() } else { Vec::new() };
            return Advised { turn, reasons, ..none };
        }
        let Some(post) = self.post_in(log) else { return none };
        let live = |axis| {
            let tilt = self.tilt(known, axis, pair).filter(|tilt| tilt.zero_out)?;
            Some(TiltU { deg: tilt.value, u_deg: tilt.u })
        };
        let lean = Lean { along: live(Axis::Along), across: live(Axis::Across), made: self.made(log) };
        let second_unknown = pair.second.is_some()
            && known.seat.second_facing(self.facing).is_some()
            && known.second_zero.known().is_none();
        if second_unknown || (lean.along.is_none() && lean.across.is_none()) {
            return Advised { coarse: self.coarse(log, post, known, pair), ..none };
        }
        let advice = level_feet(&as_it_is(post, log), &lean, log.plan.shown_in);
        // A foot that tilts the post only along the axis without a live value cannot be measured while it is turned.
        let axes = Difference { level: lean.along.map(|_| 0.0), cross: lean.across.map(|_| 0.0), u: 1.0 };
        let seen = |name: &str| {
            post.feet
                .iter()
                .find(|foot| foot.name == name)
                .is_some_and(|foot| axes.of_foot(post, foot).is_some())
        };
        let shown = advice.moves.iter().find(|made| seen(&made.foot));
        let turn = shown.or(advice.moves.first()).map(|first| Turn {
            by: if shown.is_some() { By::Level } else { By::Count },
            foot: first.foot.clone(),
            mm: first.mm,
            turns: first.turns,
            to_go: first.turns,
            give_or_take: give_or_take(post, &first.foot, &lean),
            words: first.words.clone(),
        });
        Advised { turn, reasons: advice.reasons, coarse: None }
    }

    /// Which end is high, for an instrument with an unknown zero, and the foot that corrects it.
    fn coarse(&self, log: &Log<'_>, post: &Post, known: &Known, pair: &Pair) -> Option<Coarse> {
        let tilt = self.tilt(known, known.seat.main_axis(), pair)?;
        if tilt.value.abs() < known.step / 2.0 {
            return Some(Coarse { words: "level by its own zero".to_owned(), foot: None });
        }
        let seen = TiltU { deg: tilt.value, u_deg: tilt.u };
        let lean = Lean { made: self.made(log), ..Lean::on(known.seat.main_axis(), seen) };
        let moves = level_feet(&as_it_is(post, log), &lean, log.plan.shown_in).moves;
        let foot = moves.first().map(|it| CoarseFoot { name: it.foot.clone(), raise: it.mm > 0.0 });
        let (high, low) = match known.seat.main_axis() {
            Axis::Along => ("outboard end high", "inboard end high"),
            Axis::Across => ("leading edge high", "trailing edge high"),
        };
        Some(Coarse { words: if tilt.value > 0.0 { high } else { low }.to_owned(), foot })
    }

    /// The difference between two rests, as tilts. The zero is in both and cancels.
    fn difference(&self, known: &Known, from: &Pair, to: &Pair) -> Difference {
        let main = self.facing.sign() * (to.main - from.main);
        let second = known
            .seat
            .second_facing(self.facing)
            .and_then(|facing| Some(facing.sign() * (to.second? - from.second?)));
        let (level, cross) = match known.seat.main_axis() {
            Axis::Along => (Some(main), second),
            Axis::Across => (second, Some(main)),
        };
        let relative = known.scale * main.abs().max(second.unwrap_or(0.0).abs()) / 3.0_f64.sqrt();
        let u = (from.u * from.u + to.u * to.u + relative * relative).sqrt();
        Difference { level, cross, u }
    }

    /// What a level that stayed on a station showed of the move that ends here.
    pub(crate) fn seen(&self, known: &Known, end: &Pair) -> Option<MoveSeen> {
        let start = self.start.as_ref().filter(|_| self.site == Site::Spars)?;
        let seen = self.difference(known, &start.pair, end);
        let change = seen.level.or(seen.cross)?;
        Some(MoveSeen { point: self.spars.point()?, change: Degrees::new(change), u: Degrees::new(seen.u) })
    }

    /// The move that the difference would mean for each foot or support alone.
    fn of_each(&self, log: &Log<'_>, seen: &Difference) -> Option<Vec<Measured>> {
        match self.site {
            Site::Post(_) => Some(seen.of_feet(self.post_in(log)?)),
            Site::Spars => Some(self.spars.of_supports(log.plan, seen.level.or(seen.cross)?, seen.u)),
        }
    }

    /// How far the foot being turned has gone since the start, by the live value.
    pub(crate) fn phase(&self, log: &Log<'_>, known: &Known, now: &Pair) -> Phase {
        let Some(start) = &self.start else { return Phase::AtRest };
        let done_mm = start
            .told
            .as_ref()
            .and_then(|told| {
                let each = self.of_each(log, &self.difference(known, &start.pair, now))?;
                each.into_iter().find(|measured| measured.foot == told.foot)
            })
            .map_or(0.0, |measured| measured.mm);
        let to_go_mm = start.told.as_ref().map_or(0.0, |told| told.mm - done_mm);
        Phase::Turning { done_mm, to_go_mm }
    }

    /// What the move from the start to this rest was.
    pub(crate) fn outcome(&self, log: &Log<'_>, known: &Known, end: &Pair) -> Option<Outcome> {
        let start = self.start.as_ref()?;
        let seen = self.difference(known, &start.pair, end);
        let all = self.of_each(log, &seen)?;
        if !seen.moved() {
            let told = start.told.as_ref().and_then(|told| all.iter().find(|m| m.foot == told.foot));
            let by = told.or(all.first()).map_or_else(String::new, |m| m.amount(log.plan.shown_in));
            return Some(Outcome::Nothing(by));
        }
        let told = start.told.as_ref().and_then(|told| {
            let measured = all.iter().find(|m| m.foot == told.foot)?;
            (measured.mm * told.mm > 0.0 && measured.misfit <= MISFIT).then_some(measured)
        });
        Some(match told {
            Some(measured) => Outcome::AsTold {
                measured: measured.clone(),
                others: all.iter().filter(|m| m.foot != measured.foot).cloned().collect(),
            },
            None => {
                let mut candidates: Vec<Measured> =
                    all.iter().filter(|m| m.misfit <= MISFIT).cloned().collect();
                if candidates.is_empty() {
                    candidates = all;
                }
                candidates.sort_by(|a, b| a.misfit.total_cmp(&b.misfit));
                Outcome::Otherwise { candidates }
            }
        })
    }

    /// The move that the difference between an existing reading and the present value would mean for each foot.
    pub(crate) fn since_reading(&self, log: &Log<'_>, axis: Axis, by: f64, u: f64) -> Vec<Measured> {
        let Some(post) = self.post_in(log) else { return Vec::new() };
        let seen = match axis {
            Axis::Along => Difference { level: Some(by), cross: None, u },
            Axis::Across => Difference { level: None, cross: Some(by), u },
        };
        seen.of_feet(post)
    }
}

/// Half width of the 95 % interval of the turns a foot needs, from the uncertainty of the tilt it should remove.
fn give_or_take(post: &Post, foot: &str, lean: &Lean) -> Option<f64> {
    let foot = post.feet.iter().find(|it| it.name == foot)?;
    let u = [lean.along, lean.across].iter().flatten().map(|tilt| tilt.u_deg).fold(0.0, f64::max);
    let seen = Difference { level: lean.along.map(|_| 0.0), cross: lean.across.map(|_| 0.0), u };
    Some(K95 * seen.of_foot(post, foot)?.u_mm / steps::per_turn(&foot.adjust)?)
}

#[derive(Clone, Copy, Debug)]
struct Tilt {
    value: f64,
    u: f64,
    zero_out: bool,
}
