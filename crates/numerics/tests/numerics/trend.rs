//! A trend, compared with certified values.

use numerics::trend::trend;

#[test]
fn norris_comes_out_as_certified() {
    let text = include_str!("data/nist/Norris.txt");
    let data = text.lines().skip_while(|l| !l.starts_with("DATA")).skip(1).filter(|l| !l.starts_with('#'));
    let (mut x, mut y) = (vec![], vec![]);
    for line in data {
        let numbers: Vec<f64> = line.split_whitespace().filter_map(|w| w.parse().ok()).collect();
        if let [b, a] = numbers.as_slice() {
            x.push(*a);
            y.push(*b);
        }
    }
    assert_eq!(x.len(), 36);
    let found = trend(&x, &y).unwrap();
    // Certified: B1 1.00211681802045, its standard deviation 0.429796848199937E-03.
    assert!((found.slope - 1.002_116_818_020_45).abs() < 1e-12, "{found:?}");
    assert!((found.u - 0.429_796_848_199_937e-3).abs() < 1e-11, "{found:?}");
    assert!(found.p < 1e-12);
}

#[test]
fn two_values_or_one_place_have_no_trend() {
    assert_eq!(trend(&[1.0, 2.0], &[1.0, 2.0]), None);
    assert_eq!(trend(&[1.0, 1.0, 1.0], &[1.0, 2.0, 3.0]), None);
    assert!(trend(&[1.0, 2.0, 3.0], &[5.0, 5.0, 5.0]).is_some_and(|t| t.p >= 1.0));
}
