//! The search against full enumeration on small cases.

use assess::advice::rows::Row;
use assess::advice::search::Task;
use numerics::rng::Rng;

/// Every combination of amounts.
fn every(amounts: &[Vec<f64>]) -> Vec<Vec<f64>> {
    amounts.iter().fold(vec![vec![]], |all, list| {
        all.iter().flat_map(|head| list.iter().map(move |a| [head.as_slice(), &[*a]].concat())).collect()
    })
}

fn moved(moves: &[f64]) -> usize {
    moves.iter().filter(|m| **m != 0.0).count()
}

fn length(moves: &[f64]) -> f64 {
    moves.iter().map(|m| m.abs()).sum()
}

/// Two rows of opposite sign per value, as two-sided tolerances give, and now and then a one-sided one.
fn case(rng: &mut Rng, supports: usize) -> (Vec<Row>, Vec<Vec<f64>>) {
    let mut rows = Vec::new();
    for i in 0..3 + (rng.bits() % 5) as usize {
        let per_mm: Vec<f64> = (0..supports).map(|_| rng.normal()).collect();
        let now = 2.0 * rng.normal();
        let unsure: Vec<f64> = (0..supports).map(|_| (0.3 * rng.uniform() - 0.1).max(0.0)).collect();
        let row = |side: f64| Row {
            what: format!("S{i}"),
            now: side * now,
            per_mm: per_mm.iter().map(|g| side * g).collect(),
            unsure: unsure.clone(),
            u: 0.1,
        };
        rows.push(row(1.0));
        if rng.uniform() < 0.8 {
            rows.push(row(-1.0));
        }
    }
    let amounts = (0..supports)
        .map(|_| {
            let step = 0.05 + 0.4 * rng.uniform();
            let (down, up) = ((rng.bits() % 6) as i32, (rng.bits() % 6) as i32);
            (-down..=up).map(|k| f64::from(k) * step).collect()
        })
        .collect();
    (rows, amounts)
}

#[test]
fn it_finds_what_full_enumeration_finds() {
    let mut rng = Rng::new(20_310_406);
    let (mut coarse, mut fewer) = (0, 0);
    for number in 0..300 {
        let supports = 1 + number % 4;
        let (rows, amounts) = case(&mut rng, supports);
        let task = Task { rows: &rows, amounts: &amounts };
        let slack = [0.0, 0.05, 0.3][number % 3];
        let found = task.search(slack).unwrap();
        let all = every(&amounts);
        let best = all.iter().map(|m| task.worst(m)).fold(f64::INFINITY, f64::min);
        assert!(best >= found.without_steps - 1e-6, "no real step beats the relaxation");
        // The rule in the module's own words: within the slack of the best of any size, else of the best real one.
        let reached = found.without_steps + slack;
        let threshold = if best <= reached + 1e-9 { reached } else { best + slack };
        coarse += usize::from(best > reached + 1e-9);
        let allowed: Vec<&Vec<f64>> = all.iter().filter(|m| task.worst(m) <= threshold + 1e-9).collect();
        let least = allowed.iter().map(|m| moved(m)).min().unwrap();
        let shortest =
            allowed.iter().filter(|m| moved(m) == least).map(|m| length(m)).fold(f64::INFINITY, f64::min);
        fewer += usize::from(least < supports);
        assert!(task.worst(&found.moves) <= threshold + 1e-9, "case {number}: {found:?}");
        assert_eq!(moved(&found.moves), least, "case {number}: {found:?}");
        assert!(
            (length(&found.moves) - shortest).abs() < 1e-6,
            "case {number}: {found:?} against {shortest}"
        );
        for (m, list) in found.moves.iter().zip(&amounts) {
            assert!(list.contains(m), "case {number}: {m} is no real amount");
        }
    }
    assert!(coarse > 30 && fewer > 30, "both sides of the rule were met: {coarse} {fewer}");
}

#[test]
fn what_is_good_already_is_left_alone() {
    let rows = vec![
        Row { what: "S1".into(), now: 0.02, per_mm: vec![1.0], unsure: vec![0.0], u: 0.1 },
        Row { what: "S1".into(), now: -0.02, per_mm: vec![-1.0], unsure: vec![0.0], u: 0.1 },
    ];
    let amounts = vec![(-20..=20).map(|k| f64::from(k) * 0.01).collect()];
    let found = Task { rows: &rows, amounts: &amounts }.search(0.05).unwrap();
    assert_eq!(found.moves, vec![0.0]);
}

#[test]
fn eight_screws_are_no_burden() {
    // A ladder of eight screws with 200 steps each: 1e18 combinations.
    let mut rng = Rng::new(7);
    let rows: Vec<Row> = (0..12)
        .flat_map(|i| {
            let per_mm: Vec<f64> = (0..8).map(|_| 0.3 * rng.normal()).collect();
            let now = 3.0 * rng.normal();
            [1.0, -1.0].map(|side: f64| Row {
                what: format!("S{i}"),
                now: side * now,
                per_mm: per_mm.iter().map(|g| side * g).collect(),
                unsure: vec![0.01; 8],
                u: 0.1,
            })
        })
        .collect();
    let amounts: Vec<Vec<f64>> =
        (0..8).map(|_| (-100..=100).map(|k| f64::from(k) * 0.15).collect()).collect();
    let found = Task { rows: &rows, amounts: &amounts }.search(0.05).unwrap();
    assert!(found.worst <= found.without_steps + 0.2, "{found:?}");
}
