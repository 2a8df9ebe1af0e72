use super::Difference;
use quantity::Millimetres;
use record::plan::{Adjust, Clockwise, Foot, Post, Travel};

fn post() -> Post {
    let foot = |name: &str, aft: f64, out: f64| Foot {
        name: name.to_owned(),
        aft: Millimetres::new(aft),
        out: Millimetres::new(out),
        travel: Travel { minus: Millimetres::new(15.0), plus: Millimetres::new(15.0) },
        adjust: Adjust::Screw { per_turn: Millimetres::new(1.5), clockwise: Clockwise::Along },
    };
    let feet = vec![foot("fore", -450.0, 150.0), foot("aft", 450.0, 150.0), foot("inboard", 0.0, -200.0)];
    Post { name: "tip-post".to_owned(), span: Millimetres::new(4350.0), feet }
}

#[test]
fn a_tilt_across_gives_the_move_of_a_foot() {
    // By hand: the aft foot up by 3 mm over 900 mm is atan(3/900) = 0.19098 degrees, leading edge down.
    let seen = Difference { level: None, cross: Some(-0.190_98), u: 0.004 };
    let aft = seen.of_foot(&post(), &post().feet[1]).unwrap();
    assert!((aft.mm - 3.0).abs() < 0.001 && aft.misfit < 1e-9, "{aft:?}");
    assert!((aft.turns.unwrap() - 2.0).abs() < 0.001);
    // The inboard foot does not tilt it across at all.
    assert!(seen.of_foot(&post(), &post().feet[2]).is_none());
    let fore = seen.of_foot(&post(), &post().feet[0]).unwrap();
    assert!((fore.mm + 3.0).abs() < 0.001);
}

#[test]
fn two_tilts_identify_the_foot() {
    // The aft foot up by 3 mm also lifts the outboard side: 1.5 mm over 350 mm.
    let level = libm::atan(1.5 / 350.0).to_degrees();
    let seen = Difference { level: Some(level), cross: Some(-0.190_98), u: 0.004 };
    let fits: Vec<_> = seen.of_feet(&post()).into_iter().filter(|m| m.misfit < 3.0).collect();
    assert_eq!(fits.iter().map(|m| m.foot.as_str()).collect::<Vec<_>>(), ["aft"]);
}
