//! Good readings are seldom questioned.

use crate::asked::{instrument, plan, reading};
use assess::expect::Round;
use numerics::rng::Rng;
use quantity::Kind;
use record::{Asked, Facing, Reading};

/// How many good readings are questioned: simulated wings that differ from what the thresholds assume (rounded normal
/// errors, a setting, a twist error, ribs that scatter, a zero within the stated accuracy), walked as a person does.
#[test]
fn at_most_one_good_reading_in_two_hundred_is_questioned() {
    let plan = plan();
    let level = instrument(&plan, Kind::Angle);
    let mut draw = Rng::new(20_310_405);
    let (mut readings, mut questions) = (0_u32, 0_u32);
    for wing in 0..2_000 {
        let mut round = Round::new(&plan);
        let zero = 0.2 * (draw.uniform() - 0.5);
        let (setting, twist) = (0.3 * draw.normal(), 0.3 * draw.normal());
        let mut take = |round: &mut Round<'_>, reading: Reading| {
            readings += 1;
            let with = instrument(&plan, reading.quantity).filter(|i| i.name != "wrench");
            match round.question(&reading, with.or(level)) {
                Some(_) => {
                    questions += 1;
                    round.push(&Reading {
                        asked: Some(Asked { expected: String::new(), why: String::new() }),
                        ..reading
                    });
                }
                None => round.push(&reading),
            }
        };
        let rounded = |value: f64, step: f64| (value / step).round() * step;
        let (along, across) = (0.4 * draw.normal(), 0.4 * draw.normal());
        for (point, truth) in [("level@post", along), ("cross@post", across)] {
            for facing in [Facing::Forward, Facing::Aft] {
                let shown = rounded(facing.sign() * truth + zero + 0.03 * draw.normal(), 0.05);
                take(&mut round, reading(&plan, point, Some(facing), shown));
            }
        }
        for (i, station) in plan.stations.iter().enumerate() {
            let eta = (station.span.value() - 200.0) / 3800.0;
            let truth = station.incidence.value() + setting + twist * eta + 0.1 * draw.normal();
            let ways = [Facing::Forward, Facing::Aft];
            // The level is turned once a station.
            for facing in if i % 2 == 0 { ways } else { [Facing::Aft, Facing::Forward] } {
                let shown = rounded(facing.sign() * truth + zero + 0.03 * draw.normal(), 0.05);
                take(&mut round, reading(&plan, &format!("incidence@{}", station.name), Some(facing), shown));
            }
        }
        let datum = 800.0 + 50.0 * draw.normal();
        let dihedral = 0.05 * draw.normal();
        for station in &plan.stations {
            let angle = (station.incidence.value() + setting).to_radians();
            let height = datum + dihedral * station.span.value() + draw.normal();
            let name = &station.name;
            take(&mut round, reading(&plan, &format!("height@front:{name}"), None, height));
            let rear = height - 600.0 * angle.sin() + draw.normal();
            take(&mut round, reading(&plan, &format!("height@rear:{name}"), None, rear));
            let offset = 50.0 + 0.01 * station.span.value() + 0.7 * draw.normal();
            take(&mut round, reading(&plan, &format!("offset@front:{name}"), None, offset));
            let spacing = station.span.value() - 200.0 + 0.6 * draw.normal();
            take(&mut round, reading(&plan, &format!("spacing@{name}"), None, spacing));
        }
        for bush in ["B1", "B2", "B3"] {
            take(&mut round, reading(&plan, &format!("bore@{bush}"), None, 12.2 + 0.03 * draw.normal()));
            take(&mut round, reading(&plan, &format!("bore-up@{bush}"), None, 30.0 + 0.3 * draw.normal()));
            take(&mut round, reading(&plan, &format!("bore-aft@{bush}"), None, 410.0 + 0.3 * draw.normal()));
        }
        for diagonal in ["D1", "D2"] {
            take(
                &mut round,
                reading(&plan, &format!("diagonal@{diagonal}"), None, 1000.0 + 0.8 * draw.normal()),
            );
        }
        take(&mut round, reading(&plan, "spot@bolt", None, 6.5 + 0.7 * draw.normal()));
        take(&mut round, reading(&plan, "spot@gap", None, 0.2 + 0.1 * draw.normal().abs()));
        take(&mut round, reading(&plan, "spot@edge", None, 10.0 + draw.normal()));
        let _ = wing;
    }
    let share = f64::from(questions) / f64::from(readings);
    println!("{questions} questions about {readings} good readings: 1 in {:.0}", 1.0 / share.max(1e-9));
    assert!(share <= 1.0 / 200.0, "{questions} of {readings}");
}
