//! The feet of a post: real steps, signs, travel. The figures are plane geometry, worked out beside each check.

use assess::advice::feet::{Axis, Lean, Made, TiltU, level_feet, tilt_from_feet};
use assess::advice::steps::Grain;
use assess::advice::{FootAdvice, FootMove, steps};
use quantity::{Millimetres, Units};
use record::plan::{Adjust, Clockwise, Foot, Post, Travel};

fn screw(per_turn: f64) -> Adjust {
    Adjust::Screw { per_turn: Millimetres::new(per_turn), clockwise: Clockwise::Along }
}

fn travel(minus: f64, plus: f64) -> Travel {
    Travel { minus: Millimetres::new(minus), plus: Millimetres::new(plus) }
}

fn foot(name: &str, aft: f64, out: f64, adjust: Adjust) -> Foot {
    let (aft, out) = (Millimetres::new(aft), Millimetres::new(out));
    Foot { name: name.into(), aft, out, travel: travel(20.0, 20.0), adjust }
}

fn post(feet: Vec<Foot>) -> Post {
    Post { name: "root post".into(), span: Millimetres::new(0.0), feet }
}

fn four() -> Post {
    post(vec![
        foot("inboard forward", -300.0, -250.0, screw(1.6)),
        foot("inboard rear", 300.0, -250.0, screw(1.6)),
        foot("outboard forward", -300.0, 250.0, screw(1.6)),
        foot("outboard rear", 300.0, 250.0, screw(1.6)),
    ])
}

/// What is left after the moves, by the plane through the feet.
fn left(post: &Post, level: f64, cross: f64) -> (f64, f64) {
    let moves = foot_moves(post, level, cross);
    let moved = |f: &Foot| moves.iter().find(|m| m.foot == f.name).map_or(0.0, |m| m.mm);
    let mm: Vec<f64> = post.feet.iter().map(moved).collect();
    let gained = tilt_from_feet(&post.feet, &mm);
    (level + gained.along_deg, cross + gained.across_deg)
}

fn foot_advice(post: &Post, level: f64, cross: f64) -> FootAdvice {
    let exact = |deg| Some(TiltU { deg, u_deg: 0.0 });
    level_feet(post, &Lean { along: exact(level), across: exact(cross), made: vec![] }, Units::INSIDE)
}

fn foot_moves(post: &Post, level: f64, cross: f64) -> Vec<FootMove> {
    foot_advice(post, level, cross).moves
}

#[test]
fn a_high_outboard_end_comes_level_by_two_feet() {
    // 0.35 degree over 500 mm is 3.054 mm: 15.27 eighths of 0.2 mm, so 15.
    let moves = foot_moves(&four(), 0.35, 0.0);
    assert_eq!(moves.len(), 2, "{moves:?}");
    let raised = moves.iter().all(|m| m.mm > 0.0 && m.foot.starts_with("inboard"));
    let lowered = moves.iter().all(|m| m.mm < 0.0 && m.foot.starts_with("outboard"));
    assert!(raised || lowered, "{moves:?}");
    for m in &moves {
        assert!((m.mm.abs() - 3.0).abs() < 1e-9, "{moves:?}");
        assert_eq!(m.turns.map(f64::abs), Some(1.875));
        assert!(m.words.contains("1 7/8 turns"), "{}", m.words);
    }
}

#[test]
fn a_high_leading_edge_comes_level() {
    // 0.2 degree over 600 mm is 2.094 mm: ten eighths and a half of 0.2 mm.
    let moves = foot_moves(&four(), 0.0, 0.2);
    assert_eq!(moves.len(), 2);
    for m in &moves {
        assert!((m.mm.abs() - 2.0).abs() < 1e-9, "{moves:?}");
        assert_eq!(m.mm > 0.0, m.foot.ends_with("rear"), "{moves:?}");
    }
}

#[test]
fn both_tilts_end_smaller_than_one_step_makes() {
    for (level, cross) in [(0.41, -0.27), (-0.13, 0.55), (0.05, 0.05), (-0.8, -0.6), (0.0, 0.0)] {
        let (l, c) = left(&four(), level, cross);
        // An eighth (0.2 mm) over 500 mm is 0.023 degree, over 600 mm 0.019.
        assert!(l.abs() < 0.023 && c.abs() < 0.02, "{level} {cross}: left {l} {c}");
    }
}

#[test]
fn three_feet_leave_one_alone() {
    let post = post(vec![
        foot("forward", -400.0, 0.0, screw(2.0)),
        foot("rear inboard", 200.0, -300.0, screw(2.0)),
        foot("rear outboard", 200.0, 300.0, screw(2.0)),
    ]);
    let moves = foot_moves(&post, 0.3, 0.2);
    assert!(moves.len() <= 2, "{moves:?}");
    let (l, c) = left(&post, 0.3, 0.2);
    assert!(l.abs() < 0.03 && c.abs() < 0.03, "{l} {c}");
}

#[test]
fn feet_in_one_line_say_what_they_cannot_do() {
    let post = post(vec![foot("forward", -300.0, 0.0, screw(1.5)), foot("rear", 300.0, 0.0, screw(1.5))]);
    let advice = foot_advice(&post, 0.4, 0.3);
    assert!((advice.level_left_deg - 0.4).abs() < 1e-9);
    assert!(advice.cross_left_deg.abs() < 0.02);
    assert_eq!(advice.moves.len(), 1);
    assert_eq!(advice.reasons.len(), 1);
    assert!(advice.reasons[0].contains("inboard or outboard"), "{:?}", advice.reasons);
}

#[test]
fn travel_is_never_exceeded_and_its_lack_is_reported() {
    let mut post = four();
    for f in &mut post.feet {
        f.travel = travel(0.5, 1.1);
    }
    // 1 degree over 500 mm is 8.7 mm; the feet have 1.6 mm together.
    let advice = foot_advice(&post, 1.0, 0.0);
    assert!(advice.moves.iter().all(|m| m.mm >= -0.5 && m.mm <= 1.1), "{advice:?}");
    assert!(advice.level_left_deg > 0.8 && advice.level_left_deg < 0.9, "{advice:?}");
    assert!(advice.reasons.iter().any(|r| r.contains("travel")));
}

#[test]
fn a_foot_that_does_not_move_stays() {
    let mut post = four();
    post.feet[0].adjust = Adjust::Fixed;
    let moves = foot_moves(&post, 0.35, 0.2);
    assert!(moves.iter().all(|m| m.foot != "inboard forward"));
    let (l, c) = left(&post, 0.35, 0.2);
    assert!(l.abs() < 0.03 && c.abs() < 0.03, "{l} {c}");
}

#[test]
fn an_unreadable_tilt_moves_nothing() {
    let advice = foot_advice(&four(), f64::NAN, 0.1);
    assert!(advice.moves.is_empty());
    assert!(advice.reasons[0].contains("measure it again"));
}

#[test]
fn words_name_the_direction_a_hand_turns() {
    let right = screw(1.25);
    let left = Adjust::Screw { per_turn: Millimetres::new(1.25), clockwise: Clockwise::Against };
    let say = |a: &Adjust, does: &str, mm| steps::words("root front", a, does, mm, Units::INSIDE);
    assert_eq!(say(&right, "raises", 0.468_75), "root front: 3/8 turn clockwise, raises 0.47 mm");
    assert_eq!(say(&left, "raises", 0.468_75), "root front: 3/8 turn anticlockwise, raises 0.47 mm");
    assert_eq!(say(&right, "lowers", -2.5), "root front: 2 turns anticlockwise, lowers 2.50 mm");
    assert_eq!(
        say(&left, "moves forward", -1.406_25),
        "root front: 1 1/8 turns clockwise, moves forward 1.41 mm"
    );
    let shelf = Adjust::Shims { thicknesses: [0.1, 0.25, 0.5].map(Millimetres::new).to_vec() };
    assert_eq!(
        say(&shelf, "raises", 0.85),
        "root front: put in shims of 0.5 + 0.25 + 0.1 mm, raises 0.85 mm"
    );
    assert_eq!(say(&shelf, "lowers", -0.5), "root front: take out shim of 0.5 mm, lowers 0.50 mm");
}

#[test]
fn real_amounts_stay_inside_travel() {
    let eighths = steps::real_amounts(&screw(1.6), travel(0.5, 0.6), Grain::Eighths);
    assert_eq!(eighths.len(), 6, "-0.4, -0.2, 0, 0.2, 0.4, 0.6: {eighths:?}");
    assert!((eighths[5] - 0.6).abs() < 1e-12);
    let shelf = Adjust::Shims { thicknesses: [0.2, 0.5].map(Millimetres::new).to_vec() };
    // By hand: 0.2, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9 (0.5 + 0.2 + 0.2), 1.0.
    assert_eq!(
        steps::real_amounts(&shelf, travel(0.0, 1.0), Grain::Eighths),
        vec![0.0, 0.2, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0]
    );
    assert_eq!(steps::shims(&shelf, -0.9), Some(vec![0.5, 0.2, 0.2]));
    assert_eq!(steps::real_amounts(&Adjust::Fixed, travel(5.0, 5.0), Grain::Eighths), vec![0.0]);
    assert_eq!(steps::travel_left(travel(3.0, 4.0), 1.5), travel(4.5, 2.5));
}

/// A post on three feet, one of them inboard.
fn three() -> Post {
    post(vec![
        foot("fore", -450.0, 150.0, screw(1.5)),
        foot("aft", 450.0, 150.0, screw(1.5)),
        foot("inboard", 0.0, -200.0, screw(1.5)),
    ])
}

fn tilt(deg: f64) -> TiltU {
    TiltU { deg, u_deg: 0.006 }
}

#[test]
fn one_live_tilt_leaves_the_other_alone() {
    // 0.381 degree over 900 mm is 5.985 mm: the aft foot goes up 3 mm and the fore foot down 3 mm, two turns each.
    let advice = level_feet(&three(), &Lean::on(Axis::Across, tilt(0.381)), Units::INSIDE);
    let said: Vec<(&str, Option<f64>)> = advice.moves.iter().map(|m| (m.foot.as_str(), m.turns)).collect();
    assert_eq!(said, [("aft", Some(2.0)), ("fore", Some(-2.0))], "{advice:?}");
    assert!(advice.level_left_deg.abs() < 1e-9 && advice.cross_left_deg.abs() < 0.01, "{advice:?}");
}

#[test]
fn after_one_foot_was_turned_the_other_finishes() {
    // The aft foot went up so far that the tilt fell from 0.381 to 0.201: 0.18 degree over 900 mm is 2.83 mm.
    let lean =
        Lean { made: vec![Made { foot: "aft".into(), mm: 2.827 }], ..Lean::on(Axis::Across, tilt(0.201)) };
    let advice = level_feet(&three(), &lean, Units::INSIDE);
    // 0.201 degree over 900 mm is 3.16 mm: two turns and an eighth.
    let [only] = advice.moves.as_slice() else { panic!("{advice:?}") };
    assert_eq!((only.foot.as_str(), only.turns), ("fore", Some(-2.125)), "{advice:?}");
}

/// A foot that was turned half way is turned on, where the others would need two.
#[test]
fn a_foot_turned_half_way_finishes_alone() {
    let post = three();
    let made = vec![Made { foot: "inboard".into(), mm: 1.1 }];
    let moves = level_feet(&post, &Lean { made, ..Lean::on(Axis::Along, tilt(0.15)) }, Units::INSIDE).moves;
    assert_eq!(moves.len(), 1, "{moves:?}");
    assert_eq!(moves[0].foot, "inboard", "{moves:?}");
    // 0.15 degree over 350 mm is 0.92 mm.
    assert!((moves[0].mm - 0.92).abs() < 0.1, "{moves:?}");
}

#[test]
fn a_vague_tilt_is_given_in_quarter_turns() {
    let vague = TiltU { deg: 0.381, u_deg: 0.05 };
    for m in level_feet(&three(), &Lean::on(Axis::Across, vague), Units::INSIDE).moves {
        assert_eq!((m.turns.unwrap() * 4.0).fract(), 0.0, "{m:?}");
        assert!(m.give_or_take_mm > 1.0, "{m:?}");
    }
}

#[test]
fn many_feet_do_not_cost_too_much() {
    let ring = |n: u32| {
        let feet = (0..n).map(|i| {
            let angle = f64::from(i) * 0.1;
            foot(&format!("F{i}"), 500.0 * angle.cos(), 500.0 * angle.sin(), screw(1.5))
        });
        post(feet.collect())
    };
    let advice = level_feet(&ring(60), &Lean::on(Axis::Along, tilt(0.3)), Units::INSIDE);
    assert!(!advice.moves.is_empty() && advice.level_left_deg.abs() < 0.05, "{advice:?}");
    assert!(level_feet(&ring(10_000), &Lean::on(Axis::Along, tilt(0.3)), Units::INSIDE).moves.is_empty());
}
