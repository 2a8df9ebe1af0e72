//! Tables of readings, put in by `import`.

use crate::program::{Bench, Ran};
use record::{Facing, Reading};
use std::collections::BTreeSet;

/// The heading of [`row`]'s columns.
pub const HEAD: &str = "point,value,facing,instrument,sure,temperature_C,read_to,round\n";

/// A reading as a line of a table; `more` fills the columns after the instrument.
pub fn row(r: &Reading, value: &str, more: &str) -> String {
    let facing = r.facing.map_or("", Facing::word);
    let instrument = r.instrument.as_deref().unwrap_or_default();
    format!("{},{value},{facing},{instrument},{more}\n", r.point)
}

/// Which round the readings of a table get.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rounds {
    /// None: the program numbers them.
    Left,
    /// Their own.
    Named,
}

/// Imports readings and confirms what is questioned; returns how the last try ended.
pub fn import(bench: &Bench, readings: &[Reading], rounds: Rounds) -> Ran {
    let mut sure: BTreeSet<usize> = BTreeSet::new();
    loop {
        let lines = readings.iter().enumerate().map(|(i, r)| {
            let sure = if sure.contains(&(i + 2)) { "yes" } else { "" };
            let round = if rounds == Rounds::Named { r.round.to_string() } else { String::new() };
            row(r, &r.text, &format!("{sure},,,{round}"))
        });
        bench.write("some.csv", HEAD.to_owned() + &lines.collect::<String>());
        let ran = bench.line("import wing.jigtrue some.csv");
        let named = ran.err.split("line ").skip(1);
        let before = sure.len();
        sure.extend(named.filter_map(|rest| rest.split(':').next()?.parse::<usize>().ok()));
        if ran.code == 0 || sure.len() == before {
            return ran;
        }
    }
}
