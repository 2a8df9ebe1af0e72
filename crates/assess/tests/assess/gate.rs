//! Freshness and the closing gate, told as events in a shop.

use crate::whole::{Build, Way};
use crate::wing::{Log, plan};
use assess::view::{DoubtKind, Gate, ObligationKind, PointState, ReasonKind};
use assess::{Assessment, Broken, Chain, Verdict, assess};
use record::{Facing, GateState, OpenAction, OpenItem, What};

fn judged(log: &Log) -> Assessment {
    assess(&plan(6), &log.entries, &Chain::Whole)
}

fn walk(log: &mut Log, twist: impl Fn(f64) -> f64) {
    for station in plan(6).stations {
        let eta = station.span.value() / 4000.0;
        log.pair(&station.name, station.incidence.value() + twist(eta), 0.07);
    }
}

fn kinds(a: &Assessment) -> Vec<ReasonKind> {
    a.gate.reasons.iter().map(|r| r.kind).collect()
}

#[test]
fn a_true_wing_at_the_last_stage_is_clear() {
    let mut log = Log::new();
    log.stage("ready to skin");
    walk(&mut log, |_| 0.0);
    let a = judged(&log);
    assert_eq!(a.gate.reasons, []);
    assert_eq!(a.gate.state, GateState::Clear);
    assert_eq!(a.stage_verdict, Some(Verdict::Within));
}

#[test]
fn the_gate_holds_before_the_last_stage_and_while_the_chain_is_not_known_to_be_whole() {
    let mut log = Log::new();
    log.stage("ribs on");
    walk(&mut log, |_| 0.0);
    let a = assess(&plan(6), &log.entries, &Chain::NotWalked);
    assert_eq!(kinds(&a), [ReasonKind::Chain, ReasonKind::Stage]);
    assert!(a.gate.reasons[1].words.starts_with("ready to skin is not begun"), "{:?}", a.gate.reasons);
    assert_eq!(a.stage_verdict, Some(Verdict::Within), "the stage itself is in order");
    let broken = assess(&plan(6), &log.entries, &Chain::Broken(Broken::new("entry 3 was changed", Some(3))));
    assert!(broken.gate.reasons[0].words.contains("entry 3 was changed"));
}

#[test]
fn a_new_stage_makes_disturbed_readings_stale_and_one_reading_freshens_one_point() {
    let mut log = Log::new();
    log.stage("ribs on");
    walk(&mut log, |_| 0.0);
    log.stage("ready to skin");
    let a = judged(&log);
    assert_eq!(kinds(&a), [ReasonKind::Unmet(Verdict::Stale)], "one cause, one line");
    assert_eq!((a.gate.reasons[0].obligations, a.gate.count(Verdict::Stale)), (8, 8));
    assert!(a.gate.reasons[0].words.contains("ready to skin began"));
    assert!(a.gate.reasons[0].words.contains("S1 to S6"), "{}", a.gate.reasons[0].words);
    assert!(a.twist.is_none(), "stale readings make no profile");
    assert_eq!(a.previous.as_ref().map(|p| p.stage.as_str()), Some("ribs on"));
    log.pair("S1", 2.0, 0.07);
    let a = judged(&log);
    assert_eq!(a.wanted.len(), 5);
    let s1 = a.points.iter().find(|p| p.point.to_string() == "incidence@S1").unwrap();
    assert_eq!(s1.state, PointState::Fresh);
}

#[test]
fn a_withdrawn_reading_counts_as_never_taken_but_stays_on_the_list() {
    let mut log = Log::new();
    log.stage("ready to skin");
    walk(&mut log, |_| 0.0);
    let last = log.entries.len() as u64;
    log.withdraw(last);
    log.withdraw(last - 1);
    let a = judged(&log);
    assert!(kinds(&a).iter().all(|k| *k == ReasonKind::Unmet(Verdict::Missing)), "{:?}", a.gate.reasons);
    assert_eq!(a.withdrawn.len(), 2);
    assert_eq!(a.withdrawn[1].reason, "misread");
    assert!(a.withdrawn[1].what.contains("incidence@S6"));
}

#[test]
fn a_tip_with_too_much_washout_is_outside_and_named() {
    let mut log = Log::new();
    log.stage("ready to skin");
    walk(&mut log, |eta| -0.6 * eta);
    let a = judged(&log);
    assert_eq!(a.gate.state, GateState::Hold);
    let twist = a.twist.as_ref().unwrap();
    assert_eq!(twist.washout_error.verdict(), Some(Verdict::Outside));
    assert!((twist.washout_error.judged().unwrap().value + 0.6).abs() < 1e-9);
    assert_eq!(a.gate.reasons[0].kind, ReasonKind::Unmet(Verdict::Outside));
    assert!(a.gate.reasons.iter().any(|r| r.about.as_deref() == Some("washout error")));
}

#[test]
fn an_open_item_holds_until_it_is_closed_or_carried_past() {
    let mut log = Log::new();
    log.stage("ready to skin");
    walk(&mut log, |_| 0.0);
    let item =
        |action| What::OpenItem(OpenItem { item: "two rivets left out".to_owned(), action, reason: None });
    log.happens(item(OpenAction::Opened));
    assert_eq!(kinds(&judged(&log)), [ReasonKind::Open]);
    log.happens(item(OpenAction::Carried));
    let a = judged(&log);
    assert_eq!(a.gate.state, GateState::Clear);
    assert!(a.doubts.iter().any(|d| d.kind == DoubtKind::Carried));
}

#[test]
fn an_instrument_past_its_check_date_proves_nothing() {
    let mut plan = plan(6);
    plan.instruments[0].due = Some("2030-01-01".parse().unwrap());
    let mut log = Log::new();
    log.stage("ready to skin");
    walk(&mut log, |_| 0.0);
    let a = assess(&plan, &log.entries, &Chain::Whole);
    assert_eq!(kinds(&a), [ReasonKind::Unmet(Verdict::Doubtful)], "one instrument, one line");
    assert_eq!(a.gate.count(Verdict::Doubtful), 9, "six stations, setting, washout and the instrument");
    let required = || a.points.iter().filter(|p| p.required);
    assert!(required().all(|p| p.verdict == Some(Verdict::Doubtful)), "nowhere is it shown as within");
    let twist = a.twist.as_ref().unwrap();
    assert!(twist.stations.iter().all(|s| s.verdict == Some(Verdict::Doubtful)));
    assert!(a.doubts.iter().any(|d| d.kind == DoubtKind::PastDue));
}

#[test]
fn a_zero_that_jumps_within_a_round_is_reported_and_proves_nothing() {
    let mut log = Log::new();
    log.stage("ready to skin");
    for (i, station) in plan(6).stations.iter().enumerate() {
        log.pair(&station.name, station.incidence.value(), if i < 3 { 0.0 } else { 0.6 });
    }
    let a = judged(&log);
    assert!(a.zeros[0].moved, "{:?}", a.zeros);
    assert_eq!(kinds(&a), [ReasonKind::Unmet(Verdict::Doubtful)]);
    let mut steady = Log::new();
    steady.stage("ready to skin");
    walk(&mut steady, |_| 0.0);
    assert!(!judged(&steady).zeros[0].moved);
}

#[test]
fn one_reading_far_from_the_others_is_named_and_never_dropped() {
    let mut log = Log::new();
    log.stage("ready to skin");
    for (i, station) in plan(12).stations.iter().enumerate() {
        let wobble = if i % 2 == 0 { 0.02 } else { -0.02 };
        let slip = if i == 7 { 0.8 } else { 0.0 };
        log.pair(&station.name, station.incidence.value() + wobble + slip, 0.0);
    }
    let a = assess(&plan(12), &log.entries, &Chain::Whole);
    let twist = a.twist.as_ref().unwrap();
    let named: Vec<&str> = twist.stations.iter().filter(|s| s.remeasure).map(|s| s.name.as_str()).collect();
    assert_eq!(named, ["S8"]);
    assert_eq!(twist.stations.iter().filter(|s| s.measured_deg.is_some()).count(), 12);
    assert_eq!(a.gate.state, GateState::Hold);
    assert!(a.wanted.contains(&"incidence@S8".parse().unwrap()));
}

#[test]
fn the_shared_zero_spoils_the_setting_and_leaves_the_twist_alone() {
    let mut log = Log::new();
    log.stage("ready to skin");
    for station in plan(6).stations {
        log.angle(&station.name, Facing::Forward, station.incidence.value() + 0.15);
    }
    let single = judged(&log).twist.unwrap();
    assert!((single.setting.judged().unwrap().value - 0.15).abs() < 1e-9);
    assert!(single.setting.judged().unwrap().u > 0.2 / 3f64.sqrt(), "a/sqrt 3 does not average down");
    assert!(single.washout_error.judged().unwrap().value.abs() < 1e-9);
    assert!(single.washout_error.judged().unwrap().u < 0.1, "{}", single.washout_error.judged().unwrap().u);
}

#[test]
fn clocks_that_run_backward_are_named() {
    let mut log = Log::new();
    log.stage("ready to skin");
    walk(&mut log, |_| 0.0);
    let n = log.entries.len();
    log.entries[n - 1].at = record::At::from_millis(0);
    assert!(judged(&log).doubts.iter().any(|d| d.kind == DoubtKind::Clock));
}

#[test]
fn the_same_log_gives_the_same_bytes() {
    let mut log = Log::new();
    log.stage("ready to skin");
    walk(&mut log, |eta| 0.1 * eta * eta);
    let json = |a: &Assessment| serde_json::to_string(a).unwrap();
    assert_eq!(json(&judged(&log)), json(&judged(&log)));
}

/// The list of obligations is made before any judgement: without judgements it is as long, and nothing that needs one
/// is met.
#[test]
fn without_judgements_the_list_is_as_long_and_nothing_that_needs_one_is_met() {
    for way in Way::ALL {
        let built = Build::clear(way, 3);
        let without = assess(&built.plan, &[], &Chain::Whole).gate;
        let with = assess(&built.plan, &built.entries, &Chain::Whole).gate;
        assert_eq!(with.state, GateState::Clear, "{way:?}");
        let named =
            |gate: &Gate| gate.obligations.iter().map(|o| (o.kind, o.about.clone())).collect::<Vec<_>>();
        let (short, long) = (named(&without), named(&with));
        // The readings add only the instruments that took them.
        let added = long.iter().filter(|o| !short.contains(o));
        assert!(added.clone().all(|(kind, _)| *kind == ObligationKind::Instrument), "{way:?}: {added:?}");
        assert!(short.iter().all(|o| long.contains(o)), "{way:?}");
        let judged = without.obligations.iter().filter(|o| !matches!(o.kind, ObligationKind::Record));
        assert!(judged.clone().count() > 10 && judged.clone().all(|o| o.state != Verdict::Within), "{way:?}");
        let causes: usize = without.reasons.iter().map(|r| r.obligations).sum();
        assert_eq!(causes, without.obligations.len() - without.count(Verdict::Within), "{way:?}");
    }
}
