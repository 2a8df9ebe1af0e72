//! A wrench with an extension, against published examples.

use numerics::rigging::torque::{DragRule, Extension, with_drag};

fn gain(lever: f64, length: f64, degrees: f64) -> Option<f64> {
    Extension { lever, length, angle: f64::to_radians(degrees) }.gain()
}

/// US Army TM 1-1500-204-23-9, 8-16: 300 lbf in with 4 in on a lever of 10 in is set as 214. TM 9-254, figure 45: set at 60
/// with 2 in on 12 in gives 70.
#[test]
fn published_extensions() {
    let set = 300.0 / gain(10.0, 4.0, 0.0).unwrap();
    assert!((set - 214.285_714_285_714_3).abs() < 1e-9, "{set}");
    assert!((60.0 * gain(12.0, 2.0, 0.0).unwrap() - 70.0).abs() < 1e-12);
}

/// By the lever arm: with the extension square to the wrench, nut and drive are equally far from the line of the
/// hand's force.
#[test]
fn angles() {
    assert!((gain(10.0, 4.0, 90.0).unwrap() - 1.0).abs() < 1e-12);
    assert!((gain(10.0, 4.0, 60.0).unwrap() - 1.2).abs() < 1e-12);
    assert!((gain(10.0, 4.0, 180.0).unwrap() - 0.6).abs() < 1e-12);
    for (lever, length, degrees) in
        [(10.0, 10.0, 180.0), (10.0, 40.0, 170.0), (0.0, 1.0, 0.0), (10.0, -1.0, 0.0), (f64::NAN, 1.0, 0.0)]
    {
        assert_eq!(gain(lever, length, degrees), None, "{lever} {length} {degrees}");
    }
}

/// US Army TM 5-2330-325-13&P: 50 to 70 lbf in with a drag of 30 is 80 to 100; below 0.33 that manual ignores it.
#[test]
fn drag_by_both_rules() {
    for (wanted, drag, always, from_third) in
        [(50.0, 30.0, 80.0, 80.0), (70.0, 30.0, 100.0, 100.0), (100.0, 30.0, 130.0, 100.0)]
    {
        assert_eq!(with_drag(wanted, drag, DragRule::Add), always);
        assert_eq!(with_drag(wanted, drag, DragRule::AddFromThird), from_third);
    }
}
