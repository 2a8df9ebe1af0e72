//! The order of a curve from its stations.

use numerics::order::{of_scatter, order};

fn even(n: u32, first: f64, last: f64) -> Vec<f64> {
    (0..n).map(|i| first + (last - first) * f64::from(i) / f64::from(n - 1)).collect()
}

#[test]
fn the_order_follows_from_the_stations() {
    let found: Vec<usize> = (2..=14).map(|n| order(&even(n, 0.0, 1.0), None)).collect();
    assert_eq!(found, [1, 1, 1, 2, 3, 3, 3, 3, 4, 4, 4, 4, 4]);
    assert_eq!(order(&even(12, 0.03, 0.97), None), 4);
    assert_eq!(order(&even(12, 0.06, 0.97), None), 3);
    assert_eq!(order(&even(12, 0.03, 0.95), None), 3);
    assert_eq!(order(&even(12, 0.0, 1.0), Some(2)), 2);
    assert_eq!(order(&even(5, 0.0, 1.0), Some(3)), 2);
}

#[test]
fn scatter_has_three_degrees_of_freedom_if_the_datums_are_shown() {
    let of = |n: u32, first: f64| {
        let eta = even(n, first, 1.0);
        of_scatter(&eta, order(&eta, None))
    };
    let found: Vec<usize> = (4..=8).map(|n| of(n, 0.0)).collect();
    assert_eq!(found, [1, 1, 2, 3, 3]);
    assert_eq!([of(5, 0.04), of(6, 0.04)], [2, 3]);
}
