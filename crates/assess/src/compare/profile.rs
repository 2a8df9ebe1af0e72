//! The twist of two wings or two stages, station beside station.

use super::ruling::{Rulings, Spoilt, Valued, is_spoilt};
use crate::obligation::CHAIN;
use crate::twist::ALPHA;
use crate::view::{
    Assessment, ComparisonKind, ComparisonRow, Finding, ObligationKind, StationView, Twist, Verdict,
};
use numerics::mixture::Mixture;
use numerics::scatter::Spread;

/// Places along the span count as the same where they differ by less than this share of it.
const SAME_PLACE: f64 = 1e-3;

/// A wing and its profile, where it has one.
#[derive(Clone, Copy)]
struct One<'a> {
    of: &'a Assessment,
    twist: Option<&'a Twist>,
}

/// Two profiles, and the stations that both have a value at.
pub(super) struct Profiles<'a> {
    ours: One<'a>,
    theirs: One<'a>,
    /// Stations at the same span, if both plans have the same root. The tips may differ.
    pub(super) common: Vec<(&'a StationView, &'a StationView)>,
}

impl<'a> Profiles<'a> {
    pub(super) fn of(first: &'a Assessment, second: &'a Assessment) -> Self {
        let one = |of: &'a Assessment| One { of, twist: of.twist.as_ref() };
        let (ours, theirs) = (one(first), one(second));
        let near = near(ours.twist, theirs.twist);
        // Twist counts from the root: from another one it is another figure.
        let roots = [ours, theirs].map(|one| one.twist.map_or(f64::NAN, |t| t.root_mm));
        let one_root = (roots[0] - roots[1]).abs() < near;
        let same = |s: &StationView, t: &StationView| one_root && (t.span_mm - s.span_mm).abs() < near;
        let common = ours.valued().filter_map(|s| Some((s, theirs.valued().find(|t| same(s, t))?))).collect();
        Self { ours, theirs, common }
    }

    /// The significance a single station needs.
    pub(super) fn alpha(&self) -> f64 {
        let stations = self.common.len().max(1) as f64;
        ALPHA / stations
    }

    fn both(&self) -> [One<'a>; 2] {
        [self.ours, self.theirs]
    }

    /// True where both reckon setting and washout at the same places.
    fn same_datums(&self) -> bool {
        let (Some(a), Some(b)) = (self.ours.twist, self.theirs.twist) else { return true };
        let near = near(Some(a), Some(b));
        (a.root_mm - b.root_mm).abs() < near && (a.tip_mm - b.tip_mm).abs() < near
    }

    /// True where every station that is measured or owed in either has a value in both, and the washout error too.
    pub(super) fn complete(&self) -> bool {
        let whole = self.both().into_iter().all(|one| {
            let owed = one.twist.into_iter().flat_map(|t| &t.stations);
            let mut owed = owed.filter(|s| s.twist_error_deg.is_some() || s.verdict.is_some());
            owed.all(|s| self.has(s)) && one.twist.is_some_and(|t| t.washout_error.judged().is_some())
        });
        whole && self.same_datums()
    }

    /// True for a station that has a counterpart.
    fn has(&self, station: &StationView) -> bool {
        self.common.iter().any(|(x, y)| std::ptr::eq(*x, station) || std::ptr::eq(*y, station))
    }

    pub(super) fn parts(&self, rulings: &Rulings<'_>) -> Vec<ComparisonRow> {
        if !self.same_datums() {
            return Vec::new();
        }
        let pair = |of: fn(&'a Twist) -> &'a Finding| {
            let [x, y] = self.both().map(|one| one.part(of(one.twist?)));
            Some([x?, y?])
        };
        let (setting, washout) = (pair(|t| &t.setting), pair(|t| &t.washout_error));
        let setting = setting.map(|of| rulings.unlimited("setting", of));
        let washout = washout.map(|of| rulings.row("washout error", None, of, ALPHA));
        setting.into_iter().chain(washout).collect()
    }

    pub(super) fn stations(&self, rulings: &Rulings<'_>) -> Vec<ComparisonRow> {
        let at = |(s, t): &(&StationView, &StationView)| {
            let of = [self.ours.station(s), self.theirs.station(t)];
            rulings.row(&s.name, Some(s.span_mm), of, self.alpha())
        };
        self.common.iter().map(at).collect()
    }

    /// What only one of them has.
    pub(super) fn not_compared(&self, kind: ComparisonKind) -> Vec<String> {
        let mut out = Vec::new();
        for one in self.both().iter().filter(|one| one.twist.is_none()) {
            out.push(format!("the twist: {} has no profile, for want of two stations", label(one.of, kind)));
        }
        if let (Some(a), Some(b)) = (self.ours.twist, self.theirs.twist) {
            for one in self.both() {
                let names: Vec<&str> =
                    one.valued().filter(|s| !self.has(s)).map(|s| s.name.as_str()).collect();
                if !names.is_empty() {
                    let of = label(one.of, kind);
                    out.push(format!("{}: only {of} has a value there", names.join(", ")));
                }
            }
            if !self.same_datums() {
                out.push(format!(
                    "setting and washout error: one plan has its datums at {} and {} mm, the other at {} and {} mm",
                    a.root_mm, a.tip_mm, b.root_mm, b.tip_mm
                ));
            }
        }
        out
    }

    /// What has no setting or washout error, and stations that are not designed alike.
    pub(super) fn remarks(&self, kind: ComparisonKind) -> Vec<String> {
        let mut out = Vec::new();
        for one in self.both() {
            for not in one.twist.into_iter().flat_map(|twist| [&twist.setting, &twist.washout_error]) {
                if let Finding::Not(not) = not {
                    out.push(format!("{}: no {}: {}", label(one.of, kind), not.what, not.why));
                }
            }
        }
        let differs = |(s, t): &&(&StationView, &StationView)| (s.design_deg - t.design_deg).abs() > 1e-9;
        let names: Vec<&str> = self.common.iter().filter(differs).map(|(s, _)| s.name.as_str()).collect();
        if !names.is_empty() {
            out.push(format!(
                "{}: the two plans have another design incidence there; each is compared by its own",
                names.join(", ")
            ));
        }
        out
    }
}

/// How near two places of these wings are one, in mm.
fn near(a: Option<&Twist>, b: Option<&Twist>) -> f64 {
    let span = [a, b].into_iter().flatten().map(|t| (t.tip_mm - t.root_mm).abs());
    SAME_PLACE * span.fold(f64::INFINITY, f64::min)
}

impl<'a> One<'a> {
    fn valued(self) -> impl Iterator<Item = &'a StationView> {
        self.twist.into_iter().flat_map(Twist::valued)
    }

    /// A verdict that says the value proves nothing.
    fn spoilt(self, verdict: Option<Verdict>, decide: Option<&str>, name: &str) -> Option<Spoilt> {
        let verdict = verdict.filter(|_| is_spoilt(verdict))?;
        let why = decide.map_or_else(String::new, |why| format!(": {why}"));
        Some(Spoilt { verdict, why: format!("{name} of {} is {}{why}", self.of.wing, verdict.word()) })
    }

    /// Of a log whose chain is broken nothing is proven.
    fn broken(self) -> Option<Spoilt> {
        let mut record = self.of.gate.obligations.iter().filter(|o| o.kind == ObligationKind::Record);
        let broken = record.find(|o| o.about == CHAIN && o.state != Verdict::Within)?;
        Some(Spoilt { verdict: Verdict::Doubtful, why: format!("{}: {}", self.of.wing, broken.words) })
    }

    fn doubted(self, why: Option<&String>) -> Option<Spoilt> {
        let why = format!("{}: {}", self.of.wing, why?);
        Some(Spoilt { verdict: Verdict::Doubtful, why })
    }

    /// Without a tolerance of its own nothing was judged: then by the stations it follows from.
    fn part(self, found: &Finding) -> Option<Valued> {
        let judged = found.judged()?;
        let twist = self.twist?;
        let own = self.spoilt(judged.verdict, judged.decide.as_deref(), &judged.what);
        let unread = twist.stations.iter().find(|s| s.twist_error_deg.is_none() && s.verdict.is_some());
        let unread = unread.and_then(|s| {
            self.spoilt(s.verdict, s.why.as_ref().map(ToString::to_string).as_deref(), &s.name)
        });
        let all = [own, self.doubted(twist.doubted.values().next()), unread, self.broken()];
        let spoilt = all.into_iter().flatten().max_by_key(|s| s.verdict);
        Some(Valued { value: judged.value, error: judged.error(), spoilt })
    }

    fn station(self, s: &StationView) -> Valued {
        let normal = || Mixture::normal(s.u_deg.unwrap_or(f64::NAN));
        let doubt = self.twist.and_then(|t| t.doubted.get(&s.name));
        let why = s.why.as_ref().map(ToString::to_string);
        let own = self.spoilt(s.verdict, s.decide.as_deref().or(why.as_deref()), &s.name);
        // A doubt of all stations is said once.
        let all = [own, self.doubted(doubt), self.broken()];
        let spoilt = all.into_iter().flatten().max_by_key(|s| s.verdict);
        Valued {
            value: s.twist_error_deg.unwrap_or(f64::NAN),
            error: s.spread.as_ref().map_or_else(normal, Spread::error),
            spoilt,
        }
    }
}

/// What one of the two is called.
pub(super) fn label(a: &Assessment, kind: ComparisonKind) -> String {
    let stage = a.stage.as_deref().unwrap_or("no stage");
    match kind {
        ComparisonKind::Stages | ComparisonKind::SinceJig => stage.to_owned(),
        ComparisonKind::Sides => format!("{} ({} wing, {stage})", a.wing, a.side.word()),
    }
}
