//! Tests of `scale`.

use super::*;
use quantity::shown::fixed;

#[test]
fn ticks_are_round_and_inside() {
    let Ticks { values, decimals } = Scale::over([-0.3, 0.3], 0.0, 0.0).ticks(6.0);
    let shown: Vec<String> = values.iter().map(|t| fixed(*t, decimals)).collect();
    assert_eq!(shown, ["-0.3", "-0.2", "-0.1", "0.0", "0.1", "0.2", "0.3"]);
}

#[test]
fn minutes_are_parts_of_a_degree() {
    for (reach, about, expected) in [
        (18.0, 4.0, vec![-10.0, 0.0, 10.0]),
        (45.0, 6.0, vec![-45.0, -30.0, -15.0, 0.0, 15.0, 30.0, 45.0]),
        (150.0, 5.0, vec![-120.0, -60.0, 0.0, 60.0, 120.0]),
    ] {
        let Ticks { values, .. } = Scale::over([-reach, reach], 0.0, 0.0).minutes(about);
        assert_eq!(values, expected, "{reach}");
    }
}

#[test]
fn a_scale_always_has_a_width() {
    for values in [vec![], vec![f64::NAN], vec![2.0], vec![1e-300]] {
        let scale = Scale::over(values, 0.1, 0.1).onto(0.0, 100.0);
        assert!(scale.at(0.5).is_finite());
        assert!(!scale.ticks(5.0).values.is_empty());
    }
}
