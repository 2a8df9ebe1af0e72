//! Straightness, bores, level, squareness and rows of holes through the whole assessment.

use crate::wing::{Log, plan, reading};
use assess::view::{ReasonKind, RowTrend, Shift, StraightnessMethod};
use assess::{Assessment, Chain, Verdict, assess};
use quantity::{InstrumentKind, Kind, Millimetres};
use record::plan::{Adjust, Bay, Bush, Clockwise, Direction, Foot, Line, Plan, Post, Shaft, Spot, Travel};
use record::{Facing, Instrument, Limits, Point, PointKind, What};

fn mm(value: f64) -> Millimetres {
    Millimetres::new(value)
}

fn gauge(repeatability: f64) -> Instrument {
    Instrument {
        accuracy: Some(0.5),
        repeatability: Some(repeatability),
        ..Instrument::of("gauge", InstrumentKind::Caliper, 0.001)
    }
}

fn length(log: &mut Log, point: Point, value: f64) {
    let mut r = reading(point, Kind::Length, value, None, 1);
    r.instrument = Some("gauge".to_owned());
    r.resolution = 0.001;
    log.happens(What::Reading(r));
}

fn judged(plan: &Plan, log: &Log) -> Assessment {
    assess(plan, &log.entries, &Chain::Whole)
}

fn offsets(heights: &[f64], tolerance: f64, sag: bool) -> Assessment {
    let mut plan = plan(heights.len());
    plan.instruments.push(gauge(0.02));
    plan.tolerances.straightness = Some(mm(tolerance));
    if sag {
        plan.lines.push(Line {
            spar: "front".to_owned(),
            direction: Direction::Up,
            sag: Some(record::plan::Sag { weight: 0.015_115_420_1, tension: 50.0 }),
        });
        plan.wing.tip = mm(3000.0);
        for (i, s) in plan.stations.iter_mut().enumerate() {
            s.span = mm(3000.0 * i as f64 / (heights.len() - 1) as f64);
        }
    }
    let mut log = Log::new();
    for (station, height) in plan.stations.clone().iter().zip(heights) {
        length(&mut log, Point::on(PointKind::Offset, "front", &station.name), *height);
    }
    judged(&plan, &log)
}

/// Heights 0 2 1 4 3 6 at equal steps: end-point 13/5, least squares 73/35, minimum zone 2 (slope 1); exact fractions
/// worked by hand. Minimum zone and least squares are the reference lines of ISO 12780-1.
#[test]
fn straightness_of_a_worked_profile() {
    let a = offsets(&[0.0, 2.0, 1.0, 4.0, 3.0, 6.0], 1.0, false);
    let spar = &a.spars[0];
    assert!((spar.minimum_zone.value - 2.0).abs() < 1e-12);
    assert!((spar.least_squares_mm - 73.0 / 35.0).abs() < 1e-12);
    assert!((spar.end_point_mm - 13.0 / 5.0).abs() < 1e-12);
    assert_eq!(spar.minimum_zone.verdict, Some(Verdict::Outside));
    // Contacts weigh about 1/2, 1, 1/2: the gauge's zero of 0.5 mm cancels.
    assert!(spar.minimum_zone.u < 0.04, "{}", spar.minimum_zone.u);
    let straight = offsets(&[3.0, 2.5, 2.0, 1.5, 1.0, 0.5], 1.0, false);
    assert_eq!(straight.spars[0].minimum_zone.verdict, Some(Verdict::Within));
}

/// Music wire of 0.5 mm, 3 m, 50 N: sag 0.340096953 mm at the middle (w L^2 / 8T, computed outside this program).
#[test]
fn a_stretched_line_hangs() {
    let sag = |i: usize| 0.340_096_953 * 4.0 * (i as f64 / 6.0) * (1.0 - i as f64 / 6.0);
    let heights: Vec<f64> = (0..7).map(|i| 5.0 + sag(i)).collect();
    let a = offsets(&heights, 0.2, true);
    assert!((a.spars[0].sag_mm - 0.340_096_953).abs() < 1e-9);
    assert!(a.spars[0].minimum_zone.value < 1e-8, "the line hung, the spar is straight");
    assert!(offsets(&heights, 0.2, false).spars[0].minimum_zone.value > 0.3);
}

#[test]
fn a_walked_level_finds_the_same_shape_and_its_zero_cancels() {
    let mut plan = plan(5);
    plan.tolerances.straightness = Some(mm(3.0));
    let shape = [0.0, 2.0, 3.0, 2.0, 0.0];
    let walk = |zero: f64| {
        let mut log = Log::new();
        for i in 1..5 {
            let slope = libm::asin((shape[i] - shape[i - 1]) / 1000.0).to_degrees();
            let point = Point::on(PointKind::Walk, "front", &plan.stations[i].name);
            let r = reading(point, Kind::Angle, slope + zero, Some(Facing::Forward), 1);
            log.happens(What::Reading(r));
        }
        judged(&plan, &log)
    };
    let a = walk(0.0);
    assert_eq!(a.spars[0].method, StraightnessMethod::Walk);
    assert!((a.spars[0].minimum_zone.value - 3.0).abs() < 1e-9);
    let b = walk(0.15);
    assert!((b.spars[0].minimum_zone.value - 3.0).abs() < 1e-3, "{}", b.spars[0].minimum_zone.value);
}

fn bored(up: &[f64], wanted: f64) -> Assessment {
    let mut plan = plan(3);
    plan.instruments.push(gauge(0.005));
    plan.shaft =
        Some(Shaft { name: "torque tube".to_owned(), diameter: mm(30.0), clearance: Some(mm(wanted)) });
    plan.bushes = (0..up.len())
        .map(|i| Bush { name: format!("B{i}"), span: mm(1000.0 * i as f64), bore: mm(30.4) })
        .collect();
    let mut log = Log::new();
    for (i, up) in up.iter().enumerate() {
        length(&mut log, Point::at(PointKind::BoreAft, &format!("B{i}")), 400.0);
        length(&mut log, Point::at(PointKind::BoreUp, &format!("B{i}")), *up);
    }
    judged(&plan, &log)
}

/// Three bushes in a row, the middle one high by h: the best line splits it, leaving 0.2 - h/2 each. By symmetry.
#[test]
fn a_shaft_in_three_bushes() {
    let free = bored(&[0.0, 0.1, 0.0], 0.05).bore_line.unwrap();
    assert!(free.passes);
    assert!((free.clearance.value - 0.15).abs() < 1e-6);
    // Nobody measured the bores themselves, so nothing is proven.
    assert_eq!(free.clearance.verdict, Some(Verdict::Missing));
    assert!(free.advice.is_empty());
    let bound = bored(&[0.0, 0.6, 0.0], 0.05).bore_line.unwrap();
    assert!(!bound.passes);
    assert!((bound.clearance.value + 0.1).abs() < 1e-6);
    assert_eq!(bound.clearance.verdict, Some(Verdict::Outside));
    // To leave 0.05 everywhere the middle bush may stand 0.3 high: down by 0.3, and by twice what must be proven beyond that, and
    // what a move loses that is told to a hundredth of a millimetre in each direction.
    let down = 0.3 + 2.0 * (1.959_964 * bound.clearance.u + 0.0071);
    let Shift { aft, up } = bound.bushes[1].shift_mm.unwrap();
    assert!(aft.abs() < 1e-5 && (up + down).abs() < 1e-5, "{aft} {up} {down}");
    assert!(bound.advice.iter().any(|w| w.contains("moving B1 alone by 0.33 mm down")), "{:?}", bound.advice);
    assert!(bound.clearance.u < 0.02, "a gauge's zero moves all bushes alike");
}

#[test]
fn a_tilted_post_says_which_foot() {
    let mut plan = plan(3);
    let foot = |name: &str, aft: f64| Foot {
        name: name.to_owned(),
        aft: mm(aft),
        out: mm(0.0),
        travel: Travel { minus: mm(10.0), plus: mm(10.0) },
        adjust: Adjust::Screw { per_turn: mm(1.5), clockwise: Clockwise::Along },
    };
    plan.posts.push(Post {
        name: "root-post".to_owned(),
        span: mm(0.0),
        feet: vec![foot("fore foot", -400.0), foot("aft foot", 400.0)],
    });
    plan.tolerances.cross = Some(Limits::plus_minus(quantity::Degrees::new(0.2)));
    let mut log = Log::new();
    let r = |facing, value: f64| {
        What::Reading(reading(Point::at(PointKind::Cross, "root-post"), Kind::Angle, value, Some(facing), 1))
    };
    log.happens(r(Facing::Forward, 0.9));
    log.happens(r(Facing::Aft, -0.7));
    let a = judged(&plan, &log);
    let tilt = a.posts[0].cross.as_ref().unwrap();
    assert!((tilt.tilt.value - 0.8).abs() < 1e-12);
    assert_eq!(tilt.tilt.verdict, Some(Verdict::Outside));
    // 800 mm at 0.8 degrees are 11.17 mm between the feet, leading edge up: fore down, aft up.
    let total: f64 = tilt.turns.iter().map(|t| if t.foot == "aft foot" { t.turns } else { -t.turns }).sum();
    assert!((total * 1.5 - 11.17).abs() < 0.2, "{:?}", tilt.turns);
    assert!((a.zeros[0].zero_deg - 0.1).abs() < 1e-12);
}

/// (D1^2 - D2^2)/(4ab) for 3-4-5: diagonals of a square 3 by 4 bay are equal; one longer by 0.5 in 1000 leans it.
#[test]
fn a_leaning_bay() {
    let mut plan = plan(2);
    plan.instruments.push(gauge(0.05));
    plan.tolerances.square = Some(Limits::plus_minus(quantity::Degrees::new(0.05)));
    plan.bays.push(Bay {
        name: "inboard".to_owned(),
        a: mm(800.0),
        b: mm(600.0),
        diagonals: ["D1".to_owned(), "D2".to_owned()],
    });
    let lean = |d1: f64, d2: f64| {
        let mut log = Log::new();
        length(&mut log, Point::at(PointKind::Diagonal, "D1"), d1);
        length(&mut log, Point::at(PointKind::Diagonal, "D2"), d2);
        judged(&plan, &log).bays.remove(0).out_of_square
    };
    assert_eq!(lean(1000.0, 1000.0).value, 0.0);
    // A parallelogram leaning by 1 degree: D^2 = a^2 + b^2 +- 2ab sin 1 deg (law of cosines).
    let s = 2.0 * 800.0 * 600.0 * libm::sin(1f64.to_radians());
    let one = lean(libm::sqrt(1e6 + s), libm::sqrt(1e6 - s));
    assert!((one.value - 1.0).abs() < 1e-9);
    assert_eq!(one.verdict, Some(Verdict::Outside));
}

#[test]
fn a_row_of_countersinks_shows_spread_trend_and_the_worst_step() {
    let mut plan = plan(2);
    plan.instruments.push(gauge(0.001));
    let depths = [0.02, 0.03, 0.04, 0.05, 0.09, 0.07, 0.08];
    let mut log = Log::new();
    for (i, depth) in depths.iter().enumerate() {
        let name = format!("CS{i}");
        plan.spots.push(Spot {
            name: name.clone(),
            quantity: Kind::Length,
            limits: Some(Limits { lower: Some(0.0), upper: Some(0.085) }),
            row: Some(record::plan::RowPlace { row: "top".to_owned(), place: i as u32 }),
        });
        length(&mut log, Point::at(PointKind::Spot, &name), *depth);
    }
    let a = judged(&plan, &log);
    let row = &a.rows[0];
    assert!((row.spread - 0.07).abs() < 1e-12);
    assert_eq!(row.worst_step.map(|s| (s.after, (s.step * 1000.0).round())), Some((3, 40.0)));
    let RowTrend { slope, p } = row.trend.unwrap();
    assert!(slope > 0.0 && p < 0.01, "{slope} {p}");
    let verdict = |name: &str| a.points.iter().find(|p| p.point.to_string() == name).unwrap().verdict;
    // The gauge's stated limit of error of 0.5 mm swamps the zone: nothing is proven either way.
    assert_eq!(verdict("spot@CS1"), Some(Verdict::Undecided));
    assert!(a.gate.reasons.iter().any(|r| r.kind == ReasonKind::Stage));
}
