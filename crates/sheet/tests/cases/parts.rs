//! Parts of assessments. Figures come from small whole-number formulas, so they are the same everywhere.

use assess::view::*;
use assess::{Assessment, Verdict};
use quantity::Kind;
use record::plan::{Acceptance, Attitude, Side};
use record::signoff::Seal;
use record::{GateState, OpenAction};

/// A figure between -1 and 1 that looks random and is not.
pub fn wobble(i: usize) -> f64 {
    let mut n = i as u32 + 1;
    for _ in 0..3 {
        n = (n ^ (n >> 7)).wrapping_mul(0x9E37_79B1);
    }
    f64::from(n >> 20) / 2047.5 - 1.0
}

pub fn judged(what: &str, unit: Kind, value: f64, u: f64, limit: Option<f64>) -> Judged {
    let verdict = limit.map(|limit| {
        if value.abs() + 1.645 * u <= limit {
            Verdict::Within
        } else if value.abs() - 1.645 * u > limit {
            Verdict::Outside
        } else {
            Verdict::Undecided
        }
    });
    Judged {
        what: what.to_owned(),
        unit,
        value,
        u,
        lower95: value - 1.96 * u,
        upper95: value + 1.96 * u,
        lower: limit.map(|l| -l),
        upper: limit,
        verdict,
        probability: limit.map(|limit| {
            let z = (limit - value.abs()) / u;
            (0.5 + z / (2.0 * (1.0 + z * z).sqrt())).clamp(0.0, 0.999_87)
        }),
        decide: (verdict == Some(Verdict::Undecided))
            .then(|| "6 more seatings, or an instrument with u under 0.021°".to_owned()),
        spread: None,
    }
}

pub fn twist(stations: usize, scatter: f64, limit: Option<f64>) -> Twist {
    let span = |i: usize| 300.0 + 3600.0 * i as f64 / (stations - 1) as f64;
    let eta = |i: usize| i as f64 / (stations - 1) as f64;
    let fit = |eta: f64| -0.12 * eta - 0.03 * eta * eta;
    let station = |i: usize| {
        let judged = judged("", Kind::Angle, fit(eta(i)), 0.018 + 0.02 * eta(i), limit);
        let residual = scatter * wobble(i);
        StationView {
            name: format!("S{}", i + 1),
            span_mm: (span(i) * 10.0).round() / 10.0,
            eta: eta(i),
            design_deg: 2.0 - 2.5 * eta(i),
            measured_deg: Some(2.0 - 2.5 * eta(i) + 0.21 + fit(eta(i)) + residual),
            measured_u_deg: Some(0.0412),
            deviation_deg: Some(0.21 + fit(eta(i)) + residual),
            twist_error_deg: Some(fit(eta(i)) + residual),
            u_deg: Some(judged.u),
            lower95_deg: Some(fit(eta(i)) + residual - 1.96 * judged.u),
            upper95_deg: Some(fit(eta(i)) + residual + 1.96 * judged.u),
            residual_deg: Some(residual),
            verdict: judged.verdict,
            probability: judged.probability,
            decide: judged.decide,
            why: None,
            remeasure: false,
            stands_out: false,
            from: Some(IncidenceFrom::Incidence),
            reversed: true,
            spread: None,
        }
    };
    let band = (0..=40)
        .map(|i| {
            let eta = f64::from(i) / 40.0;
            BandPoint {
                span_mm: 300.0 + 3600.0 * eta,
                fit_deg: fit(eta),
                simultaneous_deg: 0.03 + 0.06 * eta,
                lower_deg: limit.map(|l| -l),
                upper_deg: limit,
            }
        })
        .collect();
    let neighbours = (1..stations)
        .map(|i| {
            let (from, to) = (format!("S{i}"), format!("S{}", i + 1));
            let step = scatter * (wobble(i) - wobble(i - 1));
            let finding =
                Finding::Judged(judged(&format!("{from} to {to}"), Kind::Angle, step, 0.051, Some(0.4)));
            StepView { from, to, finding }
        })
        .collect();
    Twist {
        order: 2,
        setting: Finding::Judged(judged("setting", Kind::Angle, 0.2104, 0.0387, Some(0.5))),
        washout_error: Finding::Judged(judged(
            "washout error",
            Kind::Angle,
            fit(1.0),
            0.0381,
            limit.map(|l| l + 0.05),
        )),
        chi2: 9.031,
        dof: stations - 3,
        scatter_deg: Some(0.012),
        rounds: 1,
        root_mm: 300.0,
        tip_mm: 3900.0,
        lower_deg: limit.map(|l| -l),
        upper_deg: limit,
        simultaneous_factor: Some(2.71),
        stations: (0..stations).map(station).collect(),
        band,
        neighbours,
        remarks: Vec::new(),
        tests: Vec::new(),
    }
}

pub fn point(name: &str, unit: Kind, value: f64, u: f64) -> PointView {
    PointView {
        point: name.parse().unwrap(),
        required: true,
        state: PointState::Fresh,
        unit,
        design: None,
        value: Some(value),
        u: Some(u),
        u_own: Some(u * 0.8),
        u_shared: Some(u * 0.6),
        lower: None,
        upper: None,
        verdict: Some(Verdict::Within),
        judged_by: Some(JudgedBy::OwnLimits),
        probability: Some(0.9987),
        decide: None,
        instrument: Some("beam level 0417".to_owned()),
        round: Some(3),
        readings: 2,
        reversed: true,
        facing_wanted: None,
        at: Some("2031-04-05T14:21:33Z".to_owned()),
        by: Some("M. Builder".to_owned()),
        stale_because: None,
        entries: vec![181, 182],
    }
}

/// An assessment with a twist profile and nothing else.
pub fn bare(wing: &str, stations: usize, scatter: f64, limit: Option<f64>) -> Assessment {
    let twist = twist(stations, scatter, limit);
    let points = twist
        .stations
        .iter()
        .map(|s| PointView {
            design: Some(s.design_deg),
            judged_by: Some(JudgedBy::Station(s.name.clone())),
            verdict: s.verdict,
            ..point(&format!("incidence@{}", s.name), Kind::Angle, s.measured_deg.unwrap(), 0.0412)
        })
        .chain([
            PointView {
                lower: Some(8.0),
                upper: Some(11.0),
                ..point("spot@root bracket bolt 1", Kind::Torque, 9.53, 0.11)
            },
            PointView {
                required: false,
                verdict: None,
                judged_by: None,
                ..point("height@rear:S9", Kind::Length, 1204.35, 0.12)
            },
        ])
        .collect();
    Assessment {
        format: 1,
        wing: wing.to_owned(),
        side: Side::Left,
        attitude: Attitude::ChordLevel,
        stage: None,
        stage_number: None,
        rule: RuleView {
            acceptance: Acceptance::Guarded,
            level: 0.95,
            words: "A value is within if it lies inside its limits by at least 1.645 times its standard uncertainty, and \
                    outside if it lies outside them by as much; between the two it is undecided."
                .to_owned(),
        },
        entries: 214,
        last_entry_at: Some("2031-04-05T16:07:08Z".to_owned()),
        gate: Gate { state: GateState::Clear, obligations: Vec::new(), reasons: Vec::new() },
        stage_verdict: Some(Verdict::Within),
        twist: Some(twist),
        points,
        changes: None,
        previous: None,
        spars: Vec::new(),
        posts: Vec::new(),
        bays: Vec::new(),
        spacing: Vec::new(),
        bore_line: None,
        rows: Vec::new(),
        rigging: Vec::new(),
        unjudged: Vec::new(),
        plan_changes: Vec::new(),
        stages: Vec::new(),
        checks: Vec::new(),
        reworks: Vec::new(),
        wanted: Vec::new(),
        open_items: Vec::new(),
        instruments: Vec::new(),
        zeros: Vec::new(),
        moves: Vec::new(),
        withdrawn: Vec::new(),
        signatures: Vec::new(),
        doubts: Vec::new(),
    }
}

pub fn posts(off: bool) -> Vec<PostView> {
    let tilt = |value: f64| {
        let tilt = judged("tilt", Kind::Angle, value, 0.021, Some(0.1));
        let moves = if value.abs() > 0.05 {
            vec!["raise the root aft foot by 1/4 turn clockwise".to_owned(), "read again".to_owned()]
        } else {
            Vec::new()
        };
        Some(Tilt { tilt, moves, turns: vec![FootTurns { foot: "root aft foot".to_owned(), turns: 0.25 }] })
    };
    let off = if off { 0.2 } else { 0.0 };
    vec![
        PostView {
            post: "root-post".to_owned(),
            span_mm: 0.0,
            level: tilt(0.012 + off),
            cross: tilt(-0.034),
        },
        PostView { post: "tip-post".to_owned(), span_mm: 3900.0, level: tilt(-0.021), cross: tilt(0.007) },
    ]
}

pub fn spars(stations: usize, bent: bool) -> Vec<SparView> {
    let zone = if bent { 2.31 } else { 0.62 };
    let mut minimum_zone = judged("straightness of front spar", Kind::Length, zone, 0.09, Some(1.5));
    minimum_zone.lower = None;
    let offset = |i: usize| OffsetView {
        station: format!("S{}", i + 1),
        span_mm: 300.0 + 3600.0 * i as f64 / (stations - 1) as f64,
        offset_mm: 0.31 * wobble(i),
        u_mm: 0.05,
    };
    vec![SparView {
        spar: "front".to_owned(),
        method: StraightnessMethod::Line,
        minimum_zone,
        least_squares_mm: zone * 1.06,
        end_point_mm: zone * 1.11,
        sag_mm: 0.574,
        offsets: (0..stations).map(offset).collect(),
    }]
}

pub fn bays() -> Vec<BayView> {
    let out_of_square = judged("inboard bay", Kind::Angle, 0.0231, 0.0118, Some(0.1));
    vec![BayView { bay: "inboard bay".to_owned(), out_of_square, difference_mm: 0.774 }]
}

pub fn spacing(stations: usize) -> Vec<SpacingView> {
    (0..stations)
        .map(|i| {
            let design = 300.0 + 3600.0 * i as f64 / (stations - 1) as f64;
            let deviation = judged("spacing", Kind::Length, 0.3 * wobble(i + 40), 0.11, Some(1.0));
            SpacingView {
                station: format!("S{}", i + 1),
                design_mm: (design * 100.0).round() / 100.0,
                measured_mm: design + deviation.value,
                correction_mm: -0.012 * i as f64,
                deviation,
                gap_deviation_mm: (i > 0).then(|| 0.3 * (wobble(i + 40) - wobble(i + 39))),
            }
        })
        .collect()
}

pub fn bore_line(passes: bool) -> BoreLine {
    let value = if passes { 0.081 } else { -0.034 };
    let mut clearance = judged("clearance of the torque tube", Kind::Length, value, 0.012, Some(0.05));
    (clearance.lower, clearance.upper) = (Some(0.05), None);
    clearance.verdict = Some(if passes { Verdict::Within } else { Verdict::Outside });
    let bush = |i: u32| {
        let x = f64::from(i);
        BushView {
            bush: format!("B{}", i + 1),
            span_mm: 300.0 + 900.0 * x,
            aft_mm: 412.0 + 0.03 * x,
            up_mm: 88.0 - 0.02 * x,
            bore_mm: 30.2 + 0.004 * x,
            line_aft_mm: 412.01 + 0.028 * x,
            line_up_mm: 88.004 - 0.021 * x,
            clearance_mm: value + 0.005 * x,
            shift_mm: (!passes && i == 2).then_some(Shift { aft: 0.021, up: -0.094 }),
        }
    };
    BoreLine {
        shaft: "torque tube".to_owned(),
        clearance,
        passes,
        bushes: (0..4).map(bush).collect(),
        advice: if passes {
            Vec::new()
        } else {
            vec!["Move bush B3 by 0.021 mm aft and 0.094 mm down.".to_owned()]
        },
    }
}

pub fn rows() -> Vec<RowView> {
    let value = |place: u32| PlaceValue { place, value: 0.05 + 0.03 * wobble(place as usize) };
    let values = (1..=14).map(value).collect();
    vec![RowView {
        row: "front spar top".to_owned(),
        unit: Kind::Length,
        values,
        mean: 0.051,
        sd: 0.017,
        spread: 0.058,
        trend: Some(RowTrend { slope: 0.0012, p: 0.41 }),
        worst_step: Some(RowStep { after: 6, step: 0.041 }),
    }]
}

pub fn changes(stations: usize, size: f64) -> Changes {
    let part = |part: &str, change_deg: f64, real: bool| PartChange {
        part: part.to_owned(),
        change_deg,
        u_deg: 0.0521,
        p: if real { 0.0004 } else { 0.62 },
        real,
    };
    Changes {
        since: "rear spar on".to_owned(),
        parts: vec![part("setting", 0.011, false), part("washout error", -0.183, true)],
        stations: (0..stations)
            .map(|i| Change {
                name: format!("S{}", i + 1),
                span_mm: 300.0 + 3600.0 * i as f64 / (stations - 1) as f64,
                change_deg: size * i as f64 * wobble(i),
                u_deg: 0.041,
                p: if i == 7 { 0.000_012 } else { 0.31 },
                real: i == 7,
            })
            .collect(),
        station_alpha: 0.05 / stations as f64,
    }
}

pub fn previous(stations: usize) -> PreviousTwist {
    PreviousTwist {
        stage: "rear spar on".to_owned(),
        setting: Some(ValueU { value: 0.199, u: 0.038 }),
        washout_error: Some(ValueU { value: 0.034, u: 0.041 }),
        stations: (0..stations)
            .map(|i| {
                let eta = i as f64 / (stations - 1) as f64;
                PreviousStation {
                    span_mm: 300.0 + 3600.0 * eta,
                    twist_error_deg: 0.034 * eta + 0.03 * wobble(i + 9),
                    u_deg: 0.02,
                }
            })
            .collect(),
    }
}

pub fn instruments() -> Vec<InstrumentView> {
    vec![
        InstrumentView {
            name: "beam level".to_owned(),
            number: Some("0417".to_owned()),
            unit: Some(Kind::Angle),
            resolution: 0.05,
            accuracy: Some(0.1),
            repeatability: Some(0.04),
            checked: Some("2031-01-10".to_owned()),
            due: Some("2032-01-10".to_owned()),
            readings: 48,
            past_due: 0,
        },
        InstrumentView {
            name: "steel tape".to_owned(),
            number: None,
            unit: Some(Kind::Length),
            resolution: 0.5,
            accuracy: None,
            repeatability: None,
            checked: None,
            due: None,
            readings: 12,
            past_due: 0,
        },
    ]
}

pub fn zeros(moved: bool) -> Vec<ZeroView> {
    (1..=3)
        .map(|round| ZeroView {
            instrument: "beam level 0417".to_owned(),
            round,
            pairs: 12,
            zero_deg: 0.0412 + 0.003 * f64::from(round),
            u_deg: 0.0083,
            spread_deg: if moved && round == 2 { 0.21 } else { 0.05 },
            moved: moved && round == 2,
        })
        .collect()
}

pub fn moves(count: usize) -> Vec<MoveView> {
    (0..count)
        .map(|i| MoveView {
            entry: 60 + 3 * i as u64,
            at: "2031-04-03T09:12:40Z".to_owned(),
            by: "M. Builder".to_owned(),
            support: if i % 2 == 0 { "tip front" } else { "tip rear" }.to_owned(),
            amount_mm: 0.469 * wobble(i),
            text: "3/8 turn clockwise".to_owned(),
        })
        .collect()
}

pub fn signatures() -> Vec<SignView> {
    vec![SignView {
        entry: 214,
        at: "2031-04-05T16:07:08Z".to_owned(),
        when: "2031-04-05 18:07 +02:00".to_owned(),
        who: "M. Builder".to_owned(),
        by: "M. Builder".to_owned(),
        capacity: "builder".to_owned(),
        statement: "Measured by me as written down here.".to_owned(),
        gate: GateState::Clear,
        rule_0_1: false,
        entries: 213,
        head: "5c1d".repeat(16),
        key: Some("9f".repeat(32)),
        seal: Seal::Fits,
        copy_of: None,
        entries_uncovered: 0,
        entries_since: 0,
    }]
}

pub fn open_items(open: bool) -> Vec<OpenItemView> {
    let item = |item: &str, action, reason: Option<&str>| OpenItemView {
        item: item.to_owned(),
        action,
        reason: reason.map(str::to_owned),
        stage: Some("spar bolted".to_owned()),
    };
    let mut items =
        vec![item("root bracket bolts not torqued", OpenAction::Closed, Some("torqued, see spot checks"))];
    if open {
        items.push(item("nutplates at S7 not riveted", OpenAction::Opened, None));
        items.push(item(
            "inboard nose rib left loose",
            OpenAction::Carried,
            Some("the manual closes it after the skin"),
        ));
    }
    items
}
