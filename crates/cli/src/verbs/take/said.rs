//! How a recorded reading is acknowledged.

use crate::show::Show;
use crate::view::wrap::{WIDTH, width};
use record::What;
use session::{Pair, Taken, shown};

/// One line: its number, what was recorded, and the result of a pair: `73 incidence@S4 aft -1.2       S4 +1.325°,
/// zero +0.125`.
pub fn taken(taken: &Taken) -> String {
    let What::Reading(reading) = &taken.entry.what else { return taken.ack.clone() };
    let mut line = format!("{} {}", taken.entry.seq, shown(&reading.point.to_string()));
    // A facing implies an angle, and a pair shows the degrees.
    let value = match reading.facing {
        Some(facing) => format!("{} {}", facing.word(), reading.text),
        None => taken.value.as_ref().unwrap_or(&reading.text).clone(),
    };
    line.push_str(&format!(" {}", shown(&value)));
    if let Some(pair) = &taken.pair {
        line.push_str(&format!("       {}", pair_words(pair)));
    }
    if reading.instrument.is_none() {
        line.push_str("; no instrument is known for it, so only the typed resolution counts");
    }
    if let Some(asked) = &reading.asked {
        line.push_str(&format!("; kept on purpose, where {} was expected", shown(&asked.expected)));
    }
    line
}

/// `S4 +1.325°, zero +0.125`
pub fn pair_words(pair: &Pair) -> String {
    format!("{} {}, zero {}", shown(&pair.name), pair.value, pair.zero)
}

/// In a round: the result of a pair, with its entries at the right end; for a single value only its number.
pub fn in_round(done: &Taken) -> String {
    let seq = done.entry.seq;
    let (left, right) = match &done.pair {
        Some(pair) => (pair_words(pair), format!("entries {}, {}", pair.other.min(seq), pair.other.max(seq))),
        None => return String::new(),
    };
    let gap = WIDTH.saturating_sub(6 + width(&left) + width(&right)).max(2);
    format!("      {left}{}{right}", " ".repeat(gap))
}

/// Which of several values are on disk, if one was not recorded.
pub fn on_disk(entries: &[u64], show: &Show) {
    match entries {
        [] => {}
        [only] => show.aside(&format!("Entry {only} is on disk; nothing after it was recorded.")),
        [first, .., last] => {
            show.aside(&format!("Entries {first} to {last} are on disk; nothing after them was recorded."));
        }
    }
}
