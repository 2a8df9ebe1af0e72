//! Repeat studies: the crossed study of Houf and Berman, and clipped components.

use numerics::Dd;
use numerics::anova::*;

fn near(got: f64, want: f64, relative: f64) {
    assert!((got - want).abs() <= relative * want.abs(), "{got:.17} {want:.17}");
}

fn exact(groups: &[&[f64]]) -> Vec<Vec<Dd>> {
    groups.iter().map(|g| g.iter().map(|v| Dd::new(*v)).collect()).collect()
}

/// Thermal impedance, 10 parts, 3 operators, 3 trials (Houf and Berman, as used by Montgomery). Fractions computed exactly
/// from the data; the published mean squares 437.33, 19.63, 2.70, 0.51 are their rounding.
#[test]
fn thermal_impedance() {
    let mut table = vec![vec![Vec::new(); 3]; 10];
    for line in include_str!("data/grr_thermal.csv").lines().skip(1) {
        let n: Vec<&str> = line.split(',').collect();
        let (part, operator): (usize, usize) = (n[0].parse().unwrap(), n[1].parse().unwrap());
        table[part - 1][operator - 1].push(Dd::parse(n[3]).unwrap());
    }
    let got = two_way(&table).unwrap();
    near(got.mean, 179.0 / 5.0, 1e-15);
    for (source, dof, squares) in [
        (got.part, 9, 177_118.0 / 45.0),
        (got.operator, 2, 589.0 / 15.0),
        (got.interaction, 18, 2183.0 / 45.0),
        (got.error, 60, 92.0 / 3.0),
        (got.total, 89, 20_272.0 / 5.0),
    ] {
        assert_eq!(source.dof, dof);
        near(source.sum_of_squares, squares, 1e-12);
        near(source.mean_square, squares / dof as f64, 1e-12);
    }
    for (component, variance) in [
        (got.repeatability, 23.0 / 45.0),
        (got.interaction_component, 1769.0 / 2430.0),
        (got.operator_component, 686.0 / 1215.0),
        (got.part_component, 13_039.0 / 270.0),
    ] {
        near(component.variance, variance, 1e-12);
        assert!(!component.clipped);
    }
    near(got.reproducibility(), 349.0 / 270.0, 1e-12);
    near(got.gauge(), 487.0 / 270.0, 1e-12);
    let parts = got.part_component.variance;
    near(got.gauge() / (got.gauge() + parts), 0.036_004_73, 1e-6);
    assert_eq!((1.41 * (parts / got.gauge()).sqrt()).floor(), 7.0);
}

/// By hand: two parts, two operators that agree on average, trials far apart.
#[test]
fn negative_components_are_clipped_and_say_so() {
    let table = vec![exact(&[&[0.0, 4.0], &[4.0, 0.0]]), exact(&[&[1.0, 5.0], &[5.0, 1.0]])];
    let got = two_way(&table).unwrap();
    near(got.repeatability.variance, 8.0, 1e-15);
    let (interaction, operator) = (got.interaction_component, got.operator_component);
    assert_eq!((interaction.variance, interaction.clipped), (0.0, true));
    assert_eq!((operator.variance, operator.clipped), (0.0, false));
    near(got.part_component.variance, 0.5, 1e-15);
    let single = one_way(&exact(&[&[0.0, 4.0], &[1.0, 3.0]])).unwrap();
    assert_eq!((single.between_component.variance, single.between_component.clipped), (0.0, true));
}

/// Groups of 3, 1 and 2 values, worked by hand: mean 4, between 3 + 25 + 2, within 2 + 0 + 2.
#[test]
fn unequal_groups() {
    let got = one_way(&exact(&[&[2.0, 3.0, 4.0], &[9.0], &[2.0, 4.0]])).unwrap();
    near(got.mean, 4.0, 1e-15);
    near(got.between.sum_of_squares, 30.0, 1e-15);
    near(got.within.sum_of_squares, 4.0, 1e-15);
    assert_eq!((got.between.dof, got.within.dof), (2, 3));
    // Size of a group: (N - sum n^2 / N) / (groups - 1).
    near(got.between_component.variance, (15.0 - 4.0 / 3.0) / ((6.0 - 14.0 / 6.0) / 2.0), 1e-15);
}

#[test]
fn refusals() {
    assert_eq!(one_way(&exact(&[&[1.0, 2.0]])), Err(AnovaError::TooFewGroups));
    assert_eq!(one_way(&exact(&[&[1.0], &[]])), Err(AnovaError::EmptyGroup(1)));
    assert_eq!(one_way(&exact(&[&[1.0], &[2.0]])), Err(AnovaError::NoRepeats));
    let uneven = vec![exact(&[&[1.0, 2.0], &[1.0, 2.0]]), exact(&[&[1.0, 2.0], &[1.0]])];
    assert_eq!(two_way(&uneven), Err(AnovaError::Unbalanced { part: 1, operator: 1 }));
    let once = vec![exact(&[&[1.0], &[2.0]]), exact(&[&[1.0], &[2.0]])];
    assert_eq!(two_way(&once), Err(AnovaError::NoRepeats));
}
