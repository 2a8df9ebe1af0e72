//! Everything that can be wrong, wrong.

use super::*;
use assess::Verdict;
use assess::view::*;
use record::plan::Acceptance;
use record::{GateState, OpenAction};

/// A hold with every sort of reason and doubt, awkward names and long sentences.
pub fn hold() -> Assessment {
    let mut a = bare("Tarnmere, left wing", 12, 0.09, Some(0.2));
    a.stage = Some("ready to skin".to_owned());
    a.stage_number = Some(StageNumber { number: 5, of: 5 });
    a.stage_verdict = Some(Verdict::Outside);
    spoil_twist(a.twist.as_mut().unwrap());
    spoil_points(&mut a.points);
    a.posts = posts(true);
    a.spars = spars(12, true);
    a.bays = bays();
    a.bore_line = Some(bore_line(false));
    a.rows = rows();
    a.changes = Some(changes(12, 0.03));
    a.previous = Some(previous(12));
    a.instruments = instruments();
    a.instruments[0].past_due = 17;
    a.zeros = zeros(true);
    a.moves = moves(5);
    a.open_items = open_items(true);
    a.wanted = ["incidence@S5", "incidence@S9", "offset@front:S4"].map(|p| p.parse().unwrap()).to_vec();
    a.withdrawn = withdrawn();
    a.signatures = signatures();
    a.signatures[0].gate = GateState::Hold;
    a.signatures[0].entries_since = 31;
    a.doubts = doubts();
    a.rule.acceptance = Acceptance::Simple;
    a.rule.words = "A value is within if it lies inside its limits, whatever its uncertainty.".to_owned();
    a.gate = Gate { state: GateState::Hold, obligations: Vec::new(), reasons: reasons() };
    a
}

fn spoil_twist(twist: &mut Twist) {
    for (i, verdict) in [(4, Verdict::Stale), (8, Verdict::Missing)] {
        let s = &mut twist.stations[i];
        (s.measured_deg, s.measured_u_deg, s.deviation_deg) = (None, None, None);
        (s.twist_error_deg, s.u_deg, s.lower95_deg, s.upper95_deg) = (None, None, None, None);
        (s.residual_deg, s.probability, s.from) = (None, None, None);
        s.why = Some("not measured".to_owned());
        s.verdict = Some(verdict);
        s.reversed = false;
    }
    for i in [9, 10, 11] {
        let s = &mut twist.stations[i];
        s.verdict = Some(if i == 9 { Verdict::Undecided } else { Verdict::Outside });
        s.decide = (i == 9).then(|| "9 more seatings, or reversing the instrument".to_owned());
        s.probability = Some(0.000_02);
    }
    let s = &mut twist.stations[6];
    (s.remeasure, s.stands_out) = (true, true);
    for value in [&mut s.twist_error_deg, &mut s.lower95_deg, &mut s.upper95_deg] {
        *value = value.map(|v| v + 0.2);
    }
    s.deviation_deg = s.deviation_deg.map(|d| d + 0.2);
    s.measured_deg = s.measured_deg.map(|d| d + 0.2);
    for b in &mut twist.band {
        let eta = (b.span_mm - 300.0) / 3600.0;
        b.fit_deg -= 0.22 * eta * eta;
    }
    for s in &mut twist.stations {
        let bend = 0.22 * s.eta * s.eta;
        for value in [&mut s.twist_error_deg, &mut s.lower95_deg, &mut s.upper95_deg] {
            *value = value.map(|v| v - bend);
        }
        s.deviation_deg = s.deviation_deg.map(|v| v - bend);
        s.measured_deg = s.measured_deg.map(|v| v - bend);
    }
    for s in &mut twist.stations {
        s.deviation_deg = s.deviation_deg.map(|v| v + 0.2507);
        s.measured_deg = s.measured_deg.map(|v| v + 0.2507);
    }
    let found = |what: &str, value, u, limit| {
        Finding::Judged(judged(what, quantity::Kind::Angle, value, u, Some(limit)))
    };
    twist.washout_error = found("washout error", -0.37, 0.0612, 0.25);
    twist.setting = found("setting", 0.4611, 0.0387, 0.5);
    (twist.scatter_deg, twist.chi2) = (Some(0.09), 30.2);
    twist.remarks = vec![
        "The readings scatter 1.8 times more than the instrument claims: look at how it is set down."
            .to_owned(),
        "S7 stands out from the others and should be measured again.".to_owned(),
    ];
}

fn spoil_points(points: &mut [PointView]) {
    for (i, state) in [(4, PointState::Stale), (8, PointState::Missing)] {
        let p = &mut points[i];
        p.state = state;
        p.verdict = Some(if state == PointState::Stale { Verdict::Stale } else { Verdict::Missing });
        if state == PointState::Stale {
            p.stale_because = Some("entry 203 began the stage ready to skin, which disturbs it".to_owned());
        } else {
            (p.value, p.u, p.u_own, p.u_shared, p.probability) = (None, None, None, None, None);
            p.entries.clear();
        }
    }
    points[9].verdict = Some(Verdict::Undecided);
    points[9].decide = Some("9 more seatings, or reversing the instrument".to_owned());
    points[9].facing_wanted = Some(record::Facing::Aft);
    points[10].verdict = Some(Verdict::Outside);
    points[11].verdict = Some(Verdict::Outside);
    points[12].instrument = None;
}

fn reasons() -> Vec<Reason> {
    let reason = |kind, about: Option<&str>, words: &str| Reason {
        kind,
        about: about.map(str::to_owned),
        words: words.to_owned(),
        cause: words.to_owned(),
        obligations: 1,
        settles: None,
    };
    vec![
        reason(
            ReasonKind::Chain,
            None,
            "The log’s chain is broken at entry 97: its hash does not fit the entry before.",
        ),
        reason(
            ReasonKind::Outside,
            Some("washout error"),
            "Washout error is -0.370° (u 0.061°), outside ± 0.25°.",
        ),
        reason(ReasonKind::Outside, Some("incidence@S12"), "Twist error at S12 is -0.370°, outside ± 0.2°."),
        reason(ReasonKind::Outside, Some("incidence@S11"), "Twist error at S11 is -0.306°, outside ± 0.2°."),
        reason(
            ReasonKind::Outside,
            Some("straightness of front spar"),
            "The front spar’s minimum zone is 2.310 mm, over 1.5 mm.",
        ),
        reason(
            ReasonKind::Outside,
            Some("clearance of the torque tube"),
            "A straight torque tube binds by 0.034 mm.",
        ),
        reason(ReasonKind::Missing, Some("incidence@S9"), "incidence@S9 has no reading."),
        reason(
            ReasonKind::Stale,
            Some("incidence@S5"),
            "incidence@S5 was measured before the stage ready to skin began, and that stage disturbs it; the reading does not \
             count any more and must be taken again with the wing as it stands now.",
        ),
        reason(ReasonKind::Undecided, Some("incidence@S10"), "Twist error at S10 is undecided."),
        reason(
            ReasonKind::Open,
            Some("nutplates at S7 not riveted"),
            "Left open and neither closed nor carried past: nutplates at S7 not riveted.",
        ),
        reason(
            ReasonKind::Remeasure,
            Some("incidence@S7"),
            "incidence@S7 stands out from the other stations.",
        ),
    ]
}

fn withdrawn() -> Vec<WithdrawnView> {
    let long = "the level stood on a burr; ".repeat(40);
    let one = |entry, what: &str, reason: &str| WithdrawnView {
        entry,
        what: what.to_owned(),
        at: "2031-04-04T08:00:00Z".to_owned(),
        by: "M. Builder".to_owned(),
        reason: reason.to_owned(),
    };
    vec![
        one(44, "incidence@S4 1.35° facing forward", "read from the wrong side"),
        one(45, "incidence@S5 1.20° facing aft", &long),
        one(46, "spot@拱 0.2 mm", "typed\nwrong\u{7}, by Дарья Ωμέγα and نور"),
    ]
}

fn doubts() -> Vec<Doubt> {
    let doubt = |kind, words: &str| Doubt { kind, words: words.to_owned() };
    vec![
        doubt(
            DoubtKind::Clock,
            "Entry 120 is dated 2031-04-02T10:00:00Z, 3 h 12 min before the entry ahead of it.",
        ),
        doubt(DoubtKind::Unsettled, "Entry 133, incidence@S3, was taken before the display settled."),
        doubt(
            DoubtKind::Repeated,
            "incidence@S12 was measured 4 times in this stage; the first three were withdrawn.",
        ),
        doubt(
            DoubtKind::PastDue,
            "beam level 0417: 17 readings in use were taken after its check ran out on 2031-01-10.",
        ),
        doubt(DoubtKind::ZeroMoved, "beam level 0417 in round 2: its zero moved by 0.21° between pairs."),
        doubt(DoubtKind::NoInstrument, "spot@root bracket bolt 1 has a reading without an instrument."),
        doubt(DoubtKind::Rule, "Simple acceptance is in use: uncertainties do not count."),
        doubt(DoubtKind::Replanned, "The plan was replaced at entry 61: “station tolerance widened”."),
        doubt(DoubtKind::Carried, "Carried past the gate: inboard nose rib left loose."),
    ]
}

#[test]
fn every_sort_of_reason_and_open_item_is_there() {
    assert!(hold().open_items.iter().any(|i| i.action == OpenAction::Carried));
    assert_eq!(hold().gate.reasons.len(), 11);
}
