//! States of the live value, of a level that reads to 0.01°.

use bench::{Live, Shown};

pub const fn shown(value: f64) -> Shown {
    Shown { value, kind: quantity::Kind::Angle, step: 0.01 }
}

pub const fn moving(value: f64) -> Live {
    Live::Moving { shown: shown(value), why: None }
}

pub const fn settling(value: f64, progress: f32) -> Live {
    Live::Settling { shown: shown(value), progress }
}

pub const fn settled(value: f64) -> Live {
    Live::Settled { shown: shown(value) }
}

pub const fn taken(value: f64) -> Live {
    Live::Taken { shown: shown(value), for_ms: 0 }
}

pub const fn lost(seconds: u64, last: f64) -> Live {
    Live::Lost { for_ms: seconds * 1000, last: Some(shown(last)) }
}

pub fn wrong() -> Live {
    Live::Wrong { here: "T-0002".to_owned(), wanted: "T-0001".to_owned() }
}
