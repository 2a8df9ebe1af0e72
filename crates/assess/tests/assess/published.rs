//! The judgements compared with published values.

use crate::wing::{Log, plan, reading};
use assess::view::PointView;
use assess::{Assessment, Chain, Compared, Verdict, assess, compare};
use quantity::{Celsius, Degrees, InstrumentKind, Kind, Millimetres, typed};
use record::plan::{Material, Plan, Side, Spot};
use record::{Instrument, Limits, Point, PointKind, What};

fn degrees(text: &str) -> f64 {
    typed(text, Kind::Angle).unwrap().amount.base()
}

fn instrument(name: &str, kind: InstrumentKind, repeatability: f64) -> Instrument {
    let (accuracy, repeatability) = (Some(0.0), Some(repeatability));
    Instrument { accuracy, repeatability, ..Instrument::of(name, kind, 1e-9) }
}

fn spot_verdict(value: f64, u: f64, limits: Limits<f64>) -> PointView {
    let mut plan = plan(2);
    plan.spots.push(Spot { name: "x".to_owned(), quantity: Kind::Angle, limits: Some(limits), row: None });
    plan.instruments = vec![instrument("ideal", InstrumentKind::Inclinometer, u)];
    let mut log = Log::new();
    let mut reading = reading(Point::at(PointKind::Spot, "x"), Kind::Angle, value, None, 1);
    reading.instrument = Some("ideal".to_owned());
    reading.resolution = 1e-9;
    log.happens(What::Reading(reading));
    let a = assess(&plan, &log.entries, &Chain::Whole);
    let point = a.points.into_iter().find(|p| p.point.to_string() == "spot@x").unwrap();
    assert_eq!((point.lower, point.upper), (limits.lower, limits.upper), "a spot check shows its own limits");
    point
}

/// Conformity probability p = Phi((T_U - y)/u) - Phi((T_L - y)/u), JCGM 106:2012, 7.2 and 7.4. The clause is cited from
/// memory; the values were computed with 40 digits outside this program.
#[test]
fn conformity_probabilities() {
    let band = Limits::plus_minus(0.5);
    for (y, u, p, verdict) in [
        (0.3, 0.1, 0.977_249_868_051_82, Verdict::Within),
        (0.4, 0.1, 0.841_344_746_068_543, Verdict::Undecided),
        (0.5, 0.1, 0.5, Verdict::Undecided),
        (0.6, 0.1, 0.158_655_253_931_457, Verdict::Undecided),
        (0.665, 0.1, 0.049_471_468_033_648_1, Verdict::Outside),
        (0.0, 0.5, 0.682_689_492_137_086, Verdict::Undecided),
    ] {
        let point = spot_verdict(y, u, band);
        assert!((point.probability.unwrap() - p).abs() < 1e-7, "{y} {u}: {:?}", point.probability);
        assert_eq!(point.verdict, Some(verdict), "{y} {u}");
    }
    // The largest value that passes at 95 % with u = 0.1 is 0.335514637304853.
    assert_eq!(spot_verdict(0.335_514_6, 0.1, band).verdict, Some(Verdict::Within));
    assert_eq!(spot_verdict(0.335_514_7, 0.1, band).verdict, Some(Verdict::Undecided));
}

/// Where u is more than 0.5102 of the tolerance no value at all can be accepted at 95 %: computed outside this program
/// from the same formula (u/T = 0.510213456924654).
#[test]
fn an_instrument_too_coarse_can_never_accept() {
    let band = Limits::plus_minus(1.0);
    assert_eq!(spot_verdict(0.0, 0.5102, band).verdict, Some(Verdict::Within));
    let hopeless = spot_verdict(0.0, 0.5103, band);
    assert_eq!(hopeless.verdict, Some(Verdict::Undecided));
    // The half width that would do at 95 %: 1.96 x 0.5102; each of two seatings has 0.5103/sqrt 2.
    let decide = hopeless.decide.unwrap();
    assert!(decide.contains("2 seatings of it (then ±0.71°)"), "{decide}");
}

/// NAVEDTRA 14315 and 14018, wing twist check with a clinometer: limits from a longitudinal reading of 1 deg 35 min
/// are 1 deg 15 min to 2 deg 15 min (-0 deg 20 min, +0 deg 40 min); right against left within 0 deg 12 min. They
/// apply to one service aircraft and serve here only as a worked example of uneven limits.
#[test]
fn naval_twist_limits() {
    let limits = Limits {
        lower: Some(degrees("1°35'") - degrees("0°20'")),
        upper: Some(degrees("1°35'") + degrees("0°40'")),
    };
    assert!((limits.lower.unwrap() - 1.25).abs() < 1e-12);
    assert!((limits.upper.unwrap() - 2.25).abs() < 1e-12);
    let u = degrees("0°3'");
    assert_eq!(spot_verdict(degrees("1°35'"), u, limits).verdict, Some(Verdict::Within));
    assert_eq!(spot_verdict(degrees("1°14'"), u, limits).verdict, Some(Verdict::Undecided));
    assert_eq!(spot_verdict(degrees("1°9'"), u, limits).verdict, Some(Verdict::Outside));
    assert_eq!(spot_verdict(degrees("2°0'"), u, limits).verdict, Some(Verdict::Within));
    assert_eq!(spot_verdict(degrees("2°21'"), u, limits).verdict, Some(Verdict::Outside));

    let twelve = Limits::plus_minus(Degrees::new(degrees("0°12'")));
    let wing = |side, tip: f64| {
        let mut plan = plan(6);
        plan.wing.side = side;
        plan.tolerances.left_right = Some(twelve);
        let mut log = Log::new();
        log.stage("ready to skin");
        for s in &plan.stations {
            log.pair(&s.name, s.incidence.value() + tip * s.span.value() / 4000.0, 0.0);
        }
        (plan.clone(), assess(&plan, &log.entries, &Chain::Whole))
    };
    let (plan, left) = wing(Side::Left, 0.0);
    let verdict = |right: &Assessment| {
        let of = |found| Compared { plan: &plan, found };
        let c = compare(of(&left), of(right)).unwrap();
        c.parts.into_iter().find(|p| p.name == "washout error").unwrap().difference.verdict
    };
    assert_eq!(verdict(&wing(Side::Right, 0.0).1), Some(Verdict::Within));
    assert_eq!(verdict(&wing(Side::Right, degrees("0°11'")).1), Some(Verdict::Undecided));
    assert_eq!(verdict(&wing(Side::Right, degrees("0°30'")).1), Some(Verdict::Outside));
}

/// ISO 1: lengths are stated at 20 °C. Expansions: Callister, table B.6 (2024: 22.9, steel in JCGM 100 H.1: 11.5,
/// both 1e-6/K); a steel tape on 3000 mm of 2024 at 30 °C shows 0.3420 mm too much, computed outside this program.
#[test]
fn lengths_are_brought_to_20_degrees() {
    let mut plan = plan(2);
    plan.stations[1].span = Millimetres::new(3000.0);
    plan.wing.material = Some(Material { expansion: 22.9e-6, expansion_u: 0.2e-6 });
    let mut tape = instrument("tape", InstrumentKind::Tape, 0.0);
    tape.expansion = Some(11.5e-6);
    plan.instruments = vec![tape];
    let mut log = Log::new();
    let shown: f64 = 3000.0 * (1.0 + 22.9e-5) / (1.0 + 11.5e-5);
    assert!((shown - 3000.3420).abs() < 5e-5);
    let mut r = reading(Point::at(PointKind::Spacing, "S2"), Kind::Length, shown, None, 1);
    r.instrument = Some("tape".to_owned());
    r.resolution = 1e-9;
    r.temperature = Some(Celsius::new(30.0));
    log.happens(What::Reading(r));
    let a = assess(&plan, &log.entries, &Chain::Whole);
    assert!((a.spacing[0].measured_mm - 3000.0).abs() < 1e-9);
    // 3000 mm x 10 K x 0.2e-6/K.
    assert!((a.spacing[0].deviation.u - 0.006).abs() < 1e-5);
}

/// Readings of one round at two temperatures are compared at 20 °C, each by its own. With the expansions above, 4000 mm grows
/// by 1.824 mm against the tape from 20 to 60 °C: readings as far apart agree, and equal ones contradict each other.
#[test]
fn readings_at_two_temperatures_are_compared_at_20_degrees() {
    let verdict = |warm: f64, expansion: Option<f64>| {
        let mut plan = plan(2);
        plan.wing.material = Some(Material { expansion: 22.9e-6, expansion_u: 0.2e-6 });
        plan.tolerances.spacing = Some(Limits::plus_minus(Millimetres::new(5.0)));
        let mut tape = instrument("tape", InstrumentKind::Tape, 0.05);
        (tape.expansion, tape.accuracy) = (expansion, Some(0.1));
        plan.instruments = vec![tape];
        let mut log = Log::new();
        for (shown, at) in [(4000.0, 20.0), (warm, 60.0)] {
            let mut r = reading(Point::at(PointKind::Spacing, "S2"), Kind::Length, shown, None, 1);
            r.instrument = Some("tape".to_owned());
            r.temperature = Some(Celsius::new(at));
            log.happens(What::Reading(r));
        }
        assess(&plan, &log.entries, &Chain::Whole).spacing[0].deviation.verdict
    };
    assert_eq!(verdict(4001.8, Some(11.5e-6)), Some(Verdict::Within));
    assert_eq!(verdict(4000.0, Some(11.5e-6)), Some(Verdict::Doubtful));
    // Of a tape that states no expansion, either can be right.
    assert_eq!(verdict(4001.8, None), Some(Verdict::Within));
    assert_eq!(verdict(4000.0, None), Some(Verdict::Within));
    assert_eq!(verdict(3990.0, None), Some(Verdict::Doubtful));
}

/// Sine of a block under one end, as with a sine bar: 100 mm between the points and 17.3648177667 mm of height are 10
/// degrees; 2.5 degrees are 4.3619387365 mm; 5 in at 30 degrees are 2.5000 in (machinist's tables).
#[test]
fn incidence_from_heights() {
    let incidence = |apart: f64, height: f64| {
        let mut plan: Plan = plan(2);
        plan.spars[1].aft_root = plan.spars[0].aft_root + Millimetres::new(apart);
        plan.spars[1].aft_tip = plan.spars[1].aft_root;
        plan.instruments = vec![instrument("gauge", InstrumentKind::Caliper, 0.01)];
        let mut log = Log::new();
        log.stage("ready to skin");
        for station in ["S1", "S2"] {
            for (spar, z) in [("front", 50.0 + height), ("rear", 50.0)] {
                let mut r = reading(Point::on(PointKind::Height, spar, station), Kind::Length, z, None, 1);
                r.instrument = Some("gauge".to_owned());
                log.happens(What::Reading(r));
            }
        }
        let a = assess(&plan, &log.entries, &Chain::Whole);
        let s = a.twist.unwrap().stations.remove(0);
        assert_eq!(s.from, Some(assess::view::IncidenceFrom::Heights));
        (s.measured_deg.unwrap(), s.measured_u_deg.unwrap())
    };
    assert!((incidence(100.0, 17.364_817_766_7).0 - 10.0).abs() < 1e-9);
    assert!((incidence(100.0, 4.361_938_736_5).0 - 2.5).abs() < 1e-9);
    assert!((incidence(127.0, 63.5).0 - 30.0).abs() < 1e-9);
    // d(angle) = dS/(L cos angle): 0.01 mm twice in quadrature, and the display's step of 0.1 mm.
    let u = libm::sqrt(2.0 * (0.01f64.powi(2) + 0.1f64.powi(2) / 12.0));
    let (_, found) = incidence(100.0, 17.364_817_766_7);
    assert!((found - (u / (100.0 * libm::cos(10f64.to_radians()))).to_degrees()).abs() < 1e-9);
}

/// The shared zero of a height gauge cancels in the difference of two heights: JCGM 100, F.1.2.3 and H.3.6 (a common
/// error leaves the slope's uncertainty alone).
#[test]
fn a_shared_zero_cancels_in_heights() {
    let u = |accuracy: Option<f64>| {
        let mut plan = plan(3);
        let mut gauge = instrument("gauge", InstrumentKind::Caliper, 0.05);
        gauge.accuracy = accuracy;
        plan.instruments = vec![gauge];
        let mut log = Log::new();
        log.stage("ready to skin");
        for station in ["S1", "S2", "S3"] {
            for spar in ["front", "rear"] {
                let mut r = reading(Point::on(PointKind::Height, spar, station), Kind::Length, 70.0, None, 1);
                r.instrument = Some("gauge".to_owned());
                log.happens(What::Reading(r));
            }
        }
        assess(&plan, &log.entries, &Chain::Whole).twist.unwrap().setting.judged().unwrap().u
    };
    assert!((u(None) - u(Some(5.0))).abs() < 1e-12);
}

/// FAA AC 43.13-1B, table 7-1 (US Army TM 9-6150-228-13&P, table H-1, has the same): 1/4-28 in tension takes 50 to 70 in-lb.
/// In N·m that is 5.65 to 7.91, rounded; the upper end rounded up is just outside.
#[test]
fn bolt_torques_typed_either_way() {
    let base = |text: &str| typed(text, Kind::Torque).unwrap().amount.base();
    let limits = Limits { lower: Some(base("50 in-lb")), upper: Some(base("70 in-lb")) };
    let inside = |text: &str| (limits.lower.unwrap()..=limits.upper.unwrap()).contains(&base(text));
    for (text, within) in
        [("50 in-lb", true), ("5.65", true), ("5.64", false), ("70 in-lb", true), ("7.91", false)]
    {
        assert_eq!(inside(text), within, "{text}");
    }
}

/// One station's incidence by two spars 100 mm apart, measured with a tape.
fn by_spars(kind: PointKind, front: f64, rear: f64, at: Option<f64>, change: impl Fn(&mut Plan)) -> f64 {
    let mut plan: Plan = plan(2);
    plan.spars[1].aft_root = plan.spars[0].aft_root + Millimetres::new(100.0);
    plan.spars[1].aft_tip = plan.spars[1].aft_root;
    plan.wing.material = Some(Material { expansion: 22.9e-6, expansion_u: 0.2e-6 });
    let mut tape = instrument("tape", InstrumentKind::Tape, 0.01);
    tape.expansion = Some(11.5e-6);
    plan.instruments = vec![tape];
    change(&mut plan);
    let mut log = Log::new();
    log.stage("ready to skin");
    for station in ["S1", "S2"] {
        for (spar, shown) in [("front", front), ("rear", rear)] {
            let mut r = reading(Point::on(kind, spar, station), Kind::Length, shown, None, 1);
            r.instrument = Some("tape".to_owned());
            r.temperature = at.map(Celsius::new);
            log.happens(What::Reading(r));
        }
    }
    assess(&plan, &log.entries, &Chain::Whole).twist.unwrap().stations[0].measured_deg.unwrap()
}

/// ISO 1: a warm wing is larger by its own expansion and a warm tape shows less by its own; the angle is that at 20 °C, the sine
/// of 17.3648177667 mm over the drawing's 100 mm. Uncorrected it would be 0.004° off at 60 °C.
#[test]
fn heights_and_plumb_distances_are_brought_to_20_degrees() {
    let shown = |mm: f64, t: f64| mm * (1.0 + 22.9e-6 * (t - 20.0)) / (1.0 + 11.5e-6 * (t - 20.0));
    let edge = |plan: &mut Plan| plan.wing.attitude = record::plan::Attitude::LeadingEdgeDown;
    let flat = |_: &mut Plan| {};
    let (front, rear) = (50.0 + 17.364_817_766_7, 50.0);
    for at in [-10.0, 20.0, 60.0] {
        let (f, r) = (shown(front, at), shown(rear, at));
        assert!((by_spars(PointKind::Height, f, r, Some(at), flat) - 10.0).abs() < 1e-9, "{at}");
        assert!((by_spars(PointKind::Plumb, f, r, Some(at), edge) - 10.0).abs() < 1e-9, "{at}");
    }
    let (f, r) = (shown(front, 60.0), shown(rear, 60.0));
    assert!((by_spars(PointKind::Height, f, r, None, flat) - 10.0).abs() > 0.004);
}

/// A line at the upper surface is nearer where one at the lower surface is further off: a plan that names the wrong
/// side gives the twist the wrong sign.
#[test]
fn the_side_a_plumb_line_hangs_on_sets_the_sign() {
    use record::plan::{Attitude, PlumbSide};
    let rise = 17.364_817_766_7;
    for (attitude, side, front, rear) in [
        (Attitude::LeadingEdgeDown, None, 50.0 + rise, 50.0),
        (Attitude::LeadingEdgeDown, Some(PlumbSide::Lower), 50.0 + rise, 50.0),
        (Attitude::LeadingEdgeDown, Some(PlumbSide::Upper), 50.0, 50.0 + rise),
        (Attitude::LeadingEdgeUp, Some(PlumbSide::Upper), 50.0, 50.0 + rise),
    ] {
        let found = by_spars(PointKind::Plumb, front, rear, None, |plan| {
            plan.wing.attitude = attitude;
            plan.wing.plumb = side;
        });
        assert!((found - 10.0).abs() < 1e-9, "{attitude:?} {side:?}: {found}");
    }
}
