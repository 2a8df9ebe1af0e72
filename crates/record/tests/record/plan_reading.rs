//! What a plan's text means.
#![expect(clippy::panic, reason = "a plan refused ends the test")]

use crate::plans::{WHOLE, spoiled};
use quantity::{Celsius, Degrees, InstrumentKind, Kind, Millimetres};
use record::plan::{Acceptance, Adjust, Attitude, Clockwise, Direction, Side, Travel};
use record::{Limits, Plan, Point, PointKind};

fn read(text: &str) -> Plan {
    Plan::parse(text).unwrap_or_else(|e| panic!("{e}"))
}

fn mm(value: f64) -> Millimetres {
    Millimetres::new(value)
}

#[test]
fn every_part_of_a_plan_is_read() {
    let plan = read(WHOLE);
    assert_eq!((plan.wing.name.as_str(), plan.wing.side), ("whole", Side::Left));
    assert_eq!(
        (plan.wing.attitude, plan.wing.root, plan.wing.tip),
        (Attitude::ChordLevel, mm(0.0), mm(1500.0))
    );
    assert_eq!(plan.wing.material.map(|m| m.expansion), Some(23.0e-6));
    assert_eq!(
        (plan.rule.acceptance, plan.rule.level, plan.rule.max_order),
        (Acceptance::Guarded, 0.95, Some(3))
    );

    let t = &plan.tolerances;
    assert_eq!(t.setting, Some(Limits::plus_minus(Degrees::new(0.5))));
    assert_eq!(t.washout, Some(Limits::at_most(Degrees::new(0.35))));
    // The naval wing twist limits of NAVEDTRA 14315: -0°20' and +0°40'.
    let naval = Limits { lower: Some(Degrees::new(-20.0 / 60.0)), upper: Some(Degrees::new(40.0 / 60.0)) };
    assert_eq!(t.station, Some(naval));
    assert_eq!((t.straightness, t.spacing), (Some(mm(1.5875)), Some(Limits::plus_minus(mm(2.0)))));
    assert!(t.neighbour.is_none() && t.left_right.is_none(), "no tolerance is invented");

    assert_eq!(plan.stations[0].fixture, Degrees::new(0.1));
    assert_eq!(plan.stations[0].height_angle, Degrees::new(-0.2));
    assert_eq!(plan.stations[1].span, mm(1500.0));
    assert_eq!(
        (plan.spars[0].aft_root, plan.spars[0].aft_tip),
        (mm(250.0), mm(250.0)),
        "one place: parallel"
    );
    assert_eq!(plan.posts[0].feet[0].travel, Travel { minus: mm(10.0), plus: mm(10.0) });
    assert_eq!(plan.supports[0].travel, Travel { minus: mm(4.0), plus: mm(8.0) });
    assert_eq!(plan.supports[0].adjust, Adjust::Shims { thicknesses: [0.1, 0.2, 0.5].map(mm).to_vec() });
    assert_eq!(
        plan.supports[1].adjust,
        Adjust::Screw { per_turn: mm(1.5875), clockwise: Clockwise::Against }
    );
    assert_eq!((plan.supports[1].direction, &plan.supports[2].adjust), (Direction::Aft, &Adjust::Fixed));
    assert_eq!(plan.lines[0].sag, Some(record::plan::Sag { weight: 0.0151, tension: 50.0 }));
    assert_eq!(plan.bays[0].diagonals, ["D1", "D2"]);
    assert_eq!(plan.shaft.as_ref().and_then(|s| s.clearance), Some(mm(0.05)));
    assert_eq!(
        plan.bushes.iter().map(|b| b.name.as_str()).collect::<Vec<_>>(),
        ["B1", "B2"],
        "by growing span"
    );
    let torque = plan.spots[0].limits.and_then(|l| l.lower).unwrap();
    assert!((torque - 9.0388).abs() < 5e-5, "80 in-lb is {torque} N·m");
    assert_eq!(plan.spots[1].limits, Some(Limits::at_most(0.1)));
    assert_eq!(plan.spots[1].row, Some(record::plan::RowPlace { row: "top".to_owned(), place: 1 }));
    let level = &plan.instruments[0];
    assert_eq!((level.kind, level.resolution), (InstrumentKind::Inclinometer, 0.1));
    assert_eq!(level.due.as_ref().map(ToString::to_string).as_deref(), Some("2032-01-10"), "TOML's own date");
    assert!(level.checked < level.due);
}

#[test]
fn patterns_become_points_in_the_order_of_work() {
    let plan = read(WHOLE);
    let names = |points: &[Point]| points.iter().map(ToString::to_string).collect::<Vec<_>>();
    assert_eq!(names(&plan.stages[0].requires), ["level@post"]);
    assert_eq!(
        names(&plan.stages[1].requires),
        [
            "offset@front:S1",
            "offset@front:S2",
            "incidence@S1",
            "incidence@S2",
            "height@front:S1",
            "height@front:S2",
            "height@rear:S1",
            "height@rear:S2",
            "spot@bolt 1",
            "spot@CS1",
        ]
    );
    assert_eq!(names(&plan.stages[1].disturbs), ["spacing@S1", "incidence@S1"]);
    assert_eq!(plan.stages[1].open, ["bolts not torqued"]);
}

#[test]
fn the_plan_lists_its_points() {
    let plan = read(WHOLE);
    let points = plan.points();
    // A post twice; two diagonals; two spacings; two incidences; four kinds on two spars at two stations; three
    // kinds at two bushes; two spots.
    assert_eq!((points.len(), plan.point_count()), (2 + 2 + 2 + 2 + 4 * 4 + 3 * 2 + 2, points.len()));
    for point in &points {
        assert!(plan.quantity_of(point).is_some(), "{point}");
        assert_eq!(point.to_string().parse::<Point>().as_ref(), Ok(point));
    }
    assert_eq!(plan.quantity_of(&Point::at(PointKind::Spot, "bolt 1")), Some(Kind::Torque));
    for unknown in ["incidence@S3", "height@middle:S1", "height@front:S3", "spot@CS2", "level@S1", "bore@D1"]
    {
        assert_eq!(plan.quantity_of(&unknown.parse().unwrap()), None, "{unknown}");
    }
}

#[test]
fn the_nearest_point_is_suggested() {
    let plan = read(WHOLE);
    for (typed, near) in [
        ("incidense@S1", Some("incidence@S1")),
        ("incidence@s2", Some("incidence@S2")),
        ("Incidence@S11", Some("incidence@S1")),
        ("hieght@raer:S2", Some("height@rear:S2")),
        ("height@S2", Some("height@front:S2")),
        ("spot@bolt1", Some("spot@bolt 1")),
        ("incidense@*", Some("incidence@S1")),
        ("spot@bolt *", Some("spot@bolt 1")),
        ("furlong@S1", None),
        ("incidence@elsewhere", None),
        ("S1", None),
        ("", None),
        ("@", None),
    ] {
        assert_eq!(plan.nearest_point(typed).map(|p| p.to_string()).as_deref(), near, "{typed}");
    }
}

#[test]
fn design_incidence_is_linear_between_stations_and_beyond() {
    let plan = read(WHOLE);
    for (span, incidence, eta) in [(0.0, 2.0, 0.0), (750.0, 1.5, 0.5), (1500.0, 1.0, 1.0), (1800.0, 0.8, 1.2)]
    {
        assert!((plan.design_incidence(mm(span)).value() - incidence).abs() < 1e-12, "{span}");
        assert!((plan.eta(mm(span)) - eta).abs() < 1e-12);
    }
    let rear = plan.spar("rear").unwrap();
    assert_eq!(plan.spar_aft(rear, mm(750.0)), mm(650.0));
}

#[test]
fn order_of_stations_line_ends_and_a_byte_order_mark_do_not_matter() {
    let plan = read(&WHOLE.replace("span = 0\nchord", "span = 1600\nchord").replace("tip = \"1.5 m\"\n", ""));
    assert_eq!(plan.stations.iter().map(|s| s.name.as_str()).collect::<Vec<_>>(), ["S2", "S1"]);
    assert_eq!(plan.wing.tip, mm(1600.0));
    assert_eq!(read(&WHOLE.replace('\n', "\r\n")), read(WHOLE));
    assert_eq!(read(&format!("\u{feff}{WHOLE}")), read(WHOLE));
}

#[test]
fn an_instrument_of_any_quantity_takes_its_unit_from_its_text() {
    let other = "kind = \"other\"\nresolution = \"0.5 °C\"";
    let plan = read(&spoiled("kind = \"inclinometer\"\nresolution = \"0°06'\"", other));
    assert_eq!(plan.instruments[0].resolution, Celsius::new(0.5).value());
}

#[test]
fn the_shipped_plans_are_read() {
    for (text, stations) in [
        (include_str!("../../../../demo-readings/two-post/plan.toml"), 12),
        (include_str!("../../../../demo-readings/hold/plan.toml"), 12),
        (include_str!("../../../../demo-readings/upright/plan.toml"), 8),
        (include_str!("../../../../demo-readings/sixty/plan.toml"), 60),
    ] {
        let plan = read(text);
        assert_eq!(plan.stations.len(), stations, "{}", plan.wing.name);
        assert!(plan.stages.iter().all(|s| !s.requires.is_empty()), "{}", plan.wing.name);
        assert!(text.contains("invented"), "said to be invented");
    }
}

/// `WHOLE` with two stages, record-only points and a rework rule.
fn with_the_later_keys() -> String {
    let head = "format = 1\nrecord_only = [\"spacing@*\"]\n";
    let wing = "name = \"whole\"\nserial = \"007\"\ndrawing = \"W-1\"\nissue = \"C\"\nplace = \"shed\"";
    WHOLE.replacen("format = 1\n", head, 1).replacen("name = \"whole\"", wing, 1)
        + "\n[[stage]]\nname = \"closed\"\ncloses = true\n[[stage]]\nname = \"painted\"\n\
           [[rework]]\nof = [\"bore@B1\"]\nstales = [\"bore-*@*\"]\n"
}

#[test]
fn the_later_keys_are_read_and_none_is_required() {
    let before = read(WHOLE);
    assert!(before.record_only.is_empty() && before.reworks.is_empty());
    assert_eq!(before.wing.identity, record::plan::Identity::default());
    assert_eq!(before.closing_place(), before.stages.len().checked_sub(1), "the last");

    let plan = read(&with_the_later_keys());
    let identity = &plan.wing.identity;
    assert_eq!((identity.serial.as_deref(), identity.drawing.as_deref()), (Some("007"), Some("W-1")));
    assert_eq!((identity.issue.as_deref(), identity.place.as_deref()), (Some("C"), Some("shed")));
    assert_eq!(plan.record_only, ["S1", "S2"].map(|s| Point::at(PointKind::Spacing, s)));
    assert_eq!(plan.closing_stage().map(|s| s.name.as_str()), Some("closed"));
    let bore = Point::at(PointKind::Bore, "B1");
    let stale = plan.staled_by(std::slice::from_ref(&bore));
    assert_eq!(stale.len(), 5, "the bore itself, and two centres of two bushes: {stale:?}");
    let other = Point::at(PointKind::Bore, "B2");
    assert_eq!(plan.staled_by(std::slice::from_ref(&other)), [other]);
}

#[test]
fn two_stages_cannot_both_close_the_wing() {
    let text = with_the_later_keys().replace("name = \"painted\"", "name = \"painted\"\ncloses = true");
    let why = Plan::parse(&text).unwrap_err().to_string();
    assert!(why.contains("stage `closed` closes the wing already; `painted` cannot too"), "{why}");
    let odd = with_the_later_keys().replace("closes = true", "closes = 1");
    assert!(Plan::parse(&odd).unwrap_err().to_string().contains("`closes` must be true or false"));
    let none = with_the_later_keys().replace("stales = [\"bore-*@*\"]", "");
    assert!(Plan::parse(&none).unwrap_err().to_string().contains("lacks `stales`"));
}
