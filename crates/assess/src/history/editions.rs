//! The plans a log had, and what changed from one to the next.

use quantity::Kind;
use quantity::shown::significant;
use record::plan::{Acceptance, Plan, Stage};
use record::{Entry, Instrument, Limits, What};
use serde::Serialize;
use std::collections::BTreeMap;

/// A plan that replaced another.
#[derive(Clone, Debug, PartialEq)]
pub struct Edition {
    /// The entry that brought it.
    pub seq: u64,
    /// The plan.
    pub plan: Plan,
    /// What it changed.
    pub changes: Vec<PlanChange>,
}

/// Every plan of a log that had more than one.
#[derive(Clone, Debug, PartialEq)]
pub struct Editions {
    /// The plan it began with.
    pub first: Plan,
    /// Those that replaced it, in order.
    pub later: Vec<Edition>,
}

/// One key of the plan that changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PlanChange {
    /// The entry that brought the new plan; 0 before there is one.
    pub entry: u64,
    /// The key, as `tolerance.station`.
    pub key: String,
    /// What it was; empty where it is new.
    pub was: String,
    /// What it is; empty where it went.
    pub now: String,
    /// True where more passes than before, or less is asked for.
    pub looser: bool,
}

impl PlanChange {
    /// The change for a person, and the name of the item it leaves open where it is looser.
    #[must_use]
    pub fn words(&self) -> String {
        let side = |text: &str| if text.is_empty() { "none".to_owned() } else { text.to_owned() };
        let looser = if self.looser { "looser: " } else { "" };
        format!("{looser}{} {} -> {}", self.key, side(&self.was), side(&self.now))
    }
}

impl Editions {
    /// The plans in the entries; none where the log kept the plan it began with. A text that cannot be read counts as the
    /// plan in force.
    pub(super) fn of(in_force: &Plan, entries: &[Entry]) -> Option<Self> {
        entries.iter().any(|e| matches!(e.what, What::Replanned { .. })).then(|| {
            let mut plans = entries.iter().filter_map(|e| match &e.what {
                What::Started { plan, .. } | What::Replanned { plan, .. } => {
                    Some((e.seq, Plan::parse(plan).unwrap_or_else(|_| in_force.clone())))
                }
                _ => None,
            });
            let first = plans.next().map_or_else(|| in_force.clone(), |(_, plan)| plan);
            let mut later: Vec<Edition> = Vec::new();
            for (seq, plan) in plans {
                let before = later.last().map_or(&first, |e| &e.plan);
                let changes = plan_changes(before, &plan).into_iter().map(|c| PlanChange { entry: seq, ..c });
                let changes = changes.collect();
                later.push(Edition { seq, plan, changes });
            }
            Self { first, later }
        })
    }
}

/// How a change of a key is read.
#[derive(Clone, Debug, PartialEq)]
enum Fact {
    /// Limits: wider is looser.
    Limits(Option<f64>, Option<f64>),
    /// A number: less is looser.
    AtLeast(f64),
    /// A number: more is looser.
    AtMost(f64),
    /// Any change makes readings prove more or asks for less of them.
    Claim(f64),
    /// A list: less of it is looser.
    Wanted,
    /// A list: more of it is looser.
    Excused,
    /// Neither is looser.
    Plain,
}

/// What changed from one plan to another, key by key, in the order of the keys.
#[must_use]
pub fn plan_changes(was: &Plan, now: &Plan) -> Vec<PlanChange> {
    let (was, now) = (facts(was), facts(now));
    let keys: std::collections::BTreeSet<&String> = was.keys().chain(now.keys()).collect();
    let change = |key: &String| {
        let (before, after) = (was.get(key), now.get(key));
        let text = |fact: Option<&(Fact, String)>| fact.map_or_else(String::new, |(_, text)| text.clone());
        (text(before) != text(after)).then(|| PlanChange {
            entry: 0,
            key: key.clone(),
            was: text(before),
            now: text(after),
            looser: looser(before.map(|f| &f.0), after.map(|f| &f.0)),
        })
    };
    keys.into_iter().filter_map(change).collect()
}

fn looser(was: Option<&Fact>, now: Option<&Fact>) -> bool {
    let lower = |was: Option<f64>, now: Option<f64>| match (was, now) {
        (Some(was), Some(now)) => now < was,
        (Some(_), None) => true,
        (None, _) => false,
    };
    match (was, now) {
        (Some(Fact::Limits(l, u)), Some(Fact::Limits(nl, nu))) => {
            lower(*l, *nl) || lower(u.map(|u| -u), nu.map(|u| -u))
        }
        (Some(Fact::AtLeast(was)), Some(Fact::AtLeast(now))) => now < was,
        (Some(Fact::AtMost(was)), Some(Fact::AtMost(now))) => now > was,
        (Some(Fact::Claim(was)), Some(Fact::Claim(now))) => now != was,
        (Some(Fact::Claim(_)), None) => true,
        (Some(Fact::Limits(..) | Fact::Wanted | Fact::AtLeast(_)), None) | (None, Some(Fact::Excused)) => {
            true
        }
        (Some(Fact::AtMost(_)), None) | (None, Some(Fact::AtMost(_))) => true,
        _ => false,
    }
}

/// Every key of a plan that a change is told of, with what it says.
fn facts(plan: &Plan) -> BTreeMap<String, (Fact, String)> {
    let mut out = BTreeMap::new();
    let mut put = |key: String, fact: Fact, text: String| out.insert(key, (fact, text));
    for (name, limits, unit) in tolerances(plan) {
        put(format!("tolerance.{name}"), Fact::Limits(limits.lower, limits.upper), words(limits, unit));
    }
    put("rule.level".to_owned(), Fact::AtLeast(plan.rule.level), format!("{}", plan.rule.level));
    let (loose, word) = match plan.rule.acceptance {
        Acceptance::Guarded => (0.0, "guarded"),
        Acceptance::Simple => (1.0, "simple"),
    };
    put("rule.acceptance".to_owned(), Fact::AtMost(loose), word.to_owned());
    #[expect(clippy::cast_precision_loss, reason = "1 to 4")]
    let order = plan.rule.max_order.map_or(f64::INFINITY, |order| order as f64);
    let text = plan.rule.max_order.map_or_else(|| "by the stations".to_owned(), |order| order.to_string());
    put("rule.max_order".to_owned(), Fact::AtLeast(order), text);
    for spot in &plan.spots {
        if let Some(limits) = spot.limits {
            let text = words(limits, spot.quantity);
            put(format!("spot.{}", spot.name), Fact::Limits(limits.lower, limits.upper), text);
        }
    }
    if let Some(shaft) = &plan.shaft {
        let plain = format!("{} mm", shaft.diameter.value());
        put(format!("shaft.{}.diameter", shaft.name), Fact::Plain, plain);
        if let Some(least) = shaft.clearance {
            let text = words(Limits::at_least(least.value()), Kind::Length);
            put(format!("shaft.{}.clearance", shaft.name), Fact::AtLeast(least.value()), text);
        }
    }
    geometry(plan, &mut put);
    plan.stages.iter().for_each(|stage| of_stage(stage, &mut put));
    plan.instruments.iter().for_each(|i| of_instrument(i, &mut put));
    for point in &plan.record_only {
        put(format!("record_only.{point}"), Fact::Excused, "not judged".to_owned());
    }
    for (i, rule) in plan.reworks.iter().enumerate() {
        let list =
            |points: &[record::Point]| points.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
        put(
            format!("rework.{}", i + 1),
            Fact::Wanted,
            format!("{} stales {}", list(&rule.of), list(&rule.stales)),
        );
    }
    out
}

fn tolerances(plan: &Plan) -> Vec<(&'static str, Limits<f64>, Kind)> {
    let t = &plan.tolerances;
    let angle = |l: Option<Limits<quantity::Degrees>>| l.map(|l| l.map(|d| d.value()));
    let all = [
        ("setting", angle(t.setting), Kind::Angle),
        ("washout", angle(t.washout), Kind::Angle),
        ("station", angle(t.station), Kind::Angle),
        ("neighbour", angle(t.neighbour), Kind::Angle),
        ("left_right", angle(t.left_right), Kind::Angle),
        ("straightness", t.straightness.map(|s| Limits::at_most(s.value())), Kind::Length),
        ("level", angle(t.level), Kind::Angle),
        ("cross", angle(t.cross), Kind::Angle),
        ("square", angle(t.square), Kind::Angle),
        ("spacing", t.spacing.map(|l| l.map(|d| d.value())), Kind::Length),
    ];
    all.into_iter().filter_map(|(name, limits, kind)| Some((name, limits?, kind))).collect()
}

fn words(limits: Limits<f64>, kind: Kind) -> String {
    let text = quantity::shown::limits(limits.lower, limits.upper).unwrap_or_default();
    quantity::shown::with_unit(&text, kind.base_symbol())
}

fn geometry(plan: &Plan, put: &mut impl FnMut(String, Fact, String) -> Option<(Fact, String)>) {
    let mut plain = |key: String, text: String| _ = put(key, Fact::Plain, text);
    for s in &plan.stations {
        plain(format!("station.{}.span", s.name), format!("{} mm", s.span.value()));
        plain(format!("station.{}.incidence", s.name), format!("{}°", s.incidence.value()));
        for (key, angle) in [("fixture", s.fixture), ("height_angle", s.height_angle)] {
            if angle.value() != 0.0 {
                plain(format!("station.{}.{key}", s.name), format!("{}°", angle.value()));
            }
        }
    }
    for (key, span) in [("root", plan.wing.root), ("tip", plan.wing.tip)] {
        plain(format!("wing.{key}"), format!("{} mm", span.value()));
    }
    plain("wing.attitude".to_owned(), format!("{:?}", plan.wing.attitude).to_lowercase());
    plain("wing.side".to_owned(), plan.wing.side.word().to_owned());
    for b in &plan.bushes {
        plain(format!("bush.{}", b.name), format!("{} mm at {} mm", b.bore.value(), b.span.value()));
    }
    for b in &plan.bays {
        plain(format!("bay.{}", b.name), format!("{} by {} mm", b.a.value(), b.b.value()));
    }
    for s in &plan.spars {
        let text = format!("{} to {} mm aft", s.aft_root.value(), s.aft_tip.value());
        plain(format!("spar.{}", s.name), text);
    }
    for post in &plan.posts {
        plain(format!("post.{}", post.name), format!("at {} mm", post.span.value()));
    }
}

fn of_stage(stage: &Stage, put: &mut impl FnMut(String, Fact, String) -> Option<(Fact, String)>) {
    let name = &stage.name;
    put(format!("stage.{name}"), Fact::Wanted, "a stage".to_owned());
    for point in &stage.requires {
        put(format!("stage.{name}.requires.{point}"), Fact::Wanted, "required".to_owned());
    }
    for point in &stage.disturbs {
        put(format!("stage.{name}.disturbs.{point}"), Fact::Wanted, "disturbed".to_owned());
    }
    for item in &stage.open {
        put(format!("stage.{name}.open.{item}"), Fact::Wanted, "left open".to_owned());
    }
    if stage.closes {
        put(format!("stage.{name}.closes"), Fact::Wanted, "closes".to_owned());
    }
}

fn of_instrument(i: &Instrument, put: &mut impl FnMut(String, Fact, String) -> Option<(Fact, String)>) {
    let unit = i.kind.quantity().map_or("", Kind::base_symbol);
    let text = |v: f64| format!("{} {unit}", significant(v, 3));
    let mut number = |key: &str, value: Option<f64>| {
        if let Some(value) = value {
            put(format!("instrument.{}.{key}", i.name), Fact::Claim(value), text(value));
        }
    };
    number("resolution", Some(i.resolution));
    number("accuracy", i.accuracy);
    number("repeatability", i.repeatability);
    number("scale", i.scale);
    if let Some(due) = &i.due {
        let days: f64 = due.to_string().replace('-', "").parse().unwrap_or(0.0);
        put(format!("instrument.{}.due", i.name), Fact::AtMost(days), due.to_string());
    }
}
