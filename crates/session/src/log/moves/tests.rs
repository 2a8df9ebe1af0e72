use super::amount;
use quantity::{Millimetres, Unit, Units};
use record::plan::{Adjust, Clockwise};

fn screw(clockwise: Clockwise) -> Adjust {
    Adjust::Screw { per_turn: Millimetres::new(1.5), clockwise }
}

#[test]
fn turns_are_converted_by_the_screw() {
    let cases = [
        ("1 turn cw", 1.5),
        ("3 1/4 cw", 4.875),
        ("2cw", 3.0),
        ("1/2 ccw", -0.75),
        ("2 turns clockwise", 3.0),
        ("3/8 turn ccw", -0.5625),
        ("1 3/8 turns cw", 2.0625),
        ("1-3/8 turn CW", 2.0625),
        ("0.25 turn anticlockwise", -0.375),
        ("1/8turn cw", 0.1875),
        ("0.5 mm", 0.5),
        ("-0.2 mm", -0.2),
        ("+0.2 mm shim", 0.2),
    ];
    for (text, expected) in cases {
        assert_eq!(
            amount(text, &screw(Clockwise::Along), Units::INSIDE).ok(),
            Some(Millimetres::new(expected)),
            "{text}"
        );
    }
    assert_eq!(
        amount("1 turn cw", &screw(Clockwise::Against), Units::INSIDE).ok(),
        Some(Millimetres::new(-1.5))
    );
}

#[test]
fn a_text_that_is_not_a_move_is_refused() {
    for text in [
        "",
        "turn",
        "1 turn",
        "1/0 turn cw",
        "1 turn up",
        "cw",
        "0,5 mm",
        "1 degree",
        "NaN mm",
        "1",
        "-0.5",
        "2 shims",
    ] {
        assert!(amount(text, &screw(Clockwise::Along), Units::INSIDE).is_err(), "{text}");
    }
    assert!(amount("1 turn cw", &Adjust::Shims { thicknesses: vec![] }, Units::INSIDE).is_err());
    assert!(amount("1 mm", &Adjust::Fixed, Units::INSIDE).is_err());
}

#[test]
fn a_bare_number_of_shims_is_in_the_plans_unit() {
    let shims = Adjust::Shims { thicknesses: vec![] };
    let inches = Units::INSIDE.with(Unit::Inch);
    assert_eq!(amount("0.02", &shims, inches).ok(), Some(Millimetres::new(0.508)));
    assert_eq!(amount("0.5 mm shim", &shims, inches).ok(), Some(Millimetres::new(0.5)));
    assert_eq!(amount("0.5", &shims, Units::INSIDE).ok(), Some(Millimetres::new(0.5)));
}
