use super::{Shown, sent};
use instrument::{Axis, Decimal, Sample};
use quantity::{Kind, Unit};

fn sample(mantissa: i64, exponent: i8, unit: Unit) -> Sample {
    Sample::bare(Axis::Angle, Decimal { mantissa, exponent }, unit)
}

#[test]
fn a_mean_is_recorded_in_the_digits_that_were_sent() {
    let it = sent(-1.969_52, &sample(-197, -2, Unit::Degree), 1.0);
    assert_eq!((it.text.as_str(), it.value), ("-1.97 °", -1.97));
    assert!((it.step - 0.01).abs() < 1e-12);
    let it = sent(2.149, &sample(215, -2, Unit::Degree), -1.0);
    assert_eq!((it.text.as_str(), it.value), ("-2.15 °", -2.15));
    let it = sent(-0.001, &sample(0, -2, Unit::Degree), 1.0);
    assert_eq!((it.text.as_str(), it.value), ("0.00 °", 0.0));
}

#[test]
fn figures_have_the_decimals_of_the_step() {
    let shown = |value, step| Shown { value, kind: Kind::Angle, step }.words();
    assert_eq!(shown(0.381, 0.001), "+0.381°");
    assert_eq!(shown(-1.2, 0.05), "-1.20°");
    assert_eq!(shown(-0.001, 0.01), "0.00°");
}
