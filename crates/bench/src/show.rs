//! What the bench shows now.

use crate::{
    Bench, DeviceView, LastTaken, LevelView, Live, Log, Phase, Place, Question, Second, Shown, Site,
    Standing, View, Zeroes,
};
use record::Facing;

/// Below this share of the hold time it counts as moving, above it as settling.
const SETTLING: f32 = 0.1;

impl Bench {
    /// What to show at this time. The owner of the port fills in `port` and `said`.
    pub fn view(&self, now_ms: u64, log: &Log<'_>) -> View {
        let live = self.live(now_ms);
        let left = self.walk.left(log);
        let in_walk = self.walk.target().is_some_and(|target| left.iter().any(|it| it.point == target.point));
        View {
            port: crate::PortView::None,
            instrument: Some(self.device_view()),
            last: self.last(),
            target: self.main_target(),
            left: left.len() + usize::from(self.walk.target().is_some() && !in_walk),
            zero: self.zero,
            place: if self.level.is_some() { None } else { self.place(&live, log) },
            main: self.main_now(now_ms, log),
            level: self.level_view(now_ms, log),
            question: self.question.clone(),
            seat: self.seat,
            hands_free: self.hands_free,
            said: Vec::new(),
            units: log.plan.shown_in,
            live,
        }
    }

    fn device_view(&self) -> DeviceView {
        DeviceView {
            name: self.device.facts.name.clone(),
            kind: self.device.quantity(),
            resolution: self.device.facts.resolution,
            two_axes: self.second.is_some(),
            can_zero: self.device.zeroes == Zeroes::OnRequest,
        }
    }

    fn last(&self) -> Option<LastTaken> {
        self.mine.iter().rev().find(|mine| !mine.withdrawn).map(|mine| LastTaken {
            seq: mine.seq,
            point: mine.target.point.clone(),
            facing: mine.target.facing,
            text: mine.text.clone(),
            at_ms: mine.at_ms,
        })
    }

    pub fn live(&self, now_ms: u64) -> Live {
        let button = self.main.each_value();
        if let Some(here) = &self.signal.wrong {
            let wanted = self.device.facts.number.clone().unwrap_or_default();
            return Live::Wrong { here: here.clone(), wanted };
        }
        let lost = self.signal.lost_for(now_ms).filter(|_| !button || self.signal.port_gone());
        if let Some(for_ms) = lost {
            return Live::Lost { for_ms, last: self.last_shown() };
        }
        if let Some(Standing::Moving { progress, .. }) = self.second_standing(now_ms)
            && let Some(shown) = self.last_shown()
            && !matches!(self.main.standing(now_ms), Standing::Silent)
        {
            return Live::Settling { shown, progress };
        }
        match self.main.standing(now_ms) {
            Standing::Silent => match self.last_shown().filter(|_| !button) {
                // Too old to be live, but not yet old enough to be lost.
                Some(shown) => Live::Moving { shown, why: None },
                None => Live::Waiting { fault: self.fault },
            },
            Standing::Moving { latest, progress } if progress < SETTLING => {
                Live::Moving { shown: self.shown_as_sent(latest), why: self.main.unrest() }
            }
            Standing::Moving { latest, progress } => match self.main.unrest() {
                Some(why) => Live::Moving { shown: self.shown_as_sent(latest), why: Some(why) },
                None => Live::Settling { shown: self.shown_as_sent(latest), progress },
            },
            Standing::Taken { latest } => {
                let at_ms = self.mine.last().map_or(now_ms, |mine| mine.at_ms);
                Live::Taken { shown: self.shown_as_sent(latest), for_ms: now_ms.saturating_sub(at_ms) }
            }
            Standing::Ready { reading } => Live::Settled { shown: self.shown_as_sent(reading.value) },
        }
    }

    /// The state of the second axis, if the loop of moves uses both.
    fn second_standing(&self, now_ms: u64) -> Option<Standing> {
        let on_post = self.level.as_ref().is_some_and(|level| level.site != Site::Spars);
        let used = on_post && self.seat.second != Second::NotUsed;
        self.second.as_ref().filter(|_| used).map(|second| second.standing(now_ms))
    }

    fn shown_as_sent(&self, value: f64) -> Shown {
        self.shown(value * self.device.sign)
    }

    fn last_shown(&self) -> Option<Shown> {
        self.main.latest().map(|sample| self.shown_as_sent(sample.base()))
    }

    /// The live value on the scale of the target's limits.
    fn place(&self, live: &Live, log: &Log<'_>) -> Option<Place> {
        let target = self.main_target().filter(|target| target.quantity == self.device.quantity())?;
        let shown = live.shown()?;
        let sign = target.facing.map_or(1.0, Facing::sign);
        let zero = target.facing.and_then(|_| self.zero.known());
        let value = sign * (shown.value - zero.unwrap_or(0.0)) - log.plan.fixture_of(&target.point);
        let zero_out = zero.is_some() || target.facing.is_none();
        Some(Place { zero_out, ..log.place(target.point, value) })
    }

    fn level_view(&self, now_ms: u64, log: &Log<'_>) -> Option<LevelView> {
        let level = self.level.as_ref()?;
        let known = self.known();
        let pair = self.pair_now(now_ms);
        let at_rest = self.pair_at_rest(now_ms);
        let phase = match (&level.start, &pair, &self.question) {
            (Some(_), None, _) => Phase::Lost,
            (None, ..) if level.as_before() => Phase::LayIt,
            (None, _, _) if at_rest.is_none() => Phase::HoldStill,
            (None, _, _) => Phase::AtRest,
            (Some(_), Some(_), Some(Question::Record { .. } | Question::Which { .. })) => Phase::Ended,
            (Some(_), Some(pair), _) => level.phase(log, &known, pair),
        };
        let mut view = LevelView {
            site: level.site.clone(),
            point: level.point(self.seat),
            facing: level.facing,
            phase,
            tilts: pair.map_or_else(Vec::new, |pair| level.places(log, &known, &pair)),
            start: None,
            left: level.left(),
            turn: None,
            coarse: None,
            reasons: Vec::new(),
        };
        let Some(pair) = pair else { return Some(view) };
        match &level.start {
            Some(start) => {
                view.turn.clone_from(&start.told);
                view.start = level.places(log, &known, &start.pair).first().map(|place| place.value);
                if let (Some(turn), Phase::Turning { to_go_mm, .. }) = (&mut view.turn, phase) {
                    turn.to_go =
                        turn.turns.filter(|_| turn.mm != 0.0).map(|turns| turns * to_go_mm / turn.mm);
                }
            }
            None => {
                let advised = level.advise(log, &known, &pair);
                (view.turn, view.coarse, view.reasons) = (advised.turn, advised.coarse, advised.reasons);
            }
        }
        Some(view)
    }
}
