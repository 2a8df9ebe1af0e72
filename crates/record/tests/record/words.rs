//! Enums written as words: the same in JSON as in a plan, and unchanged, since logs are kept for years.

use quantity::InstrumentKind;
use record::plan::{Acceptance, Attitude, Direction, Side};
use record::{Facing, GateState, Source};

/// Checks the words of an enum, in order, written and read.
macro_rules! written {
    ($of:ty: $($word:literal)+) => {
        assert_eq!(<$of>::ALL.map(<$of>::word), [$($word),+]);
        assert_eq!(<$of>::WORDS, <$of>::ALL.map(|one| (one.word(), one)));
        for one in <$of>::ALL {
            let json = serde_json::to_string(&one).unwrap();
            assert_eq!(json, format!("\"{}\"", one.word()));
            assert_eq!(serde_json::from_str::<$of>(&json).unwrap(), one);
        }
    };
}

#[test]
fn each_word_is_written_and_read_as_it_always_was() {
    written!(Facing: "forward" "aft");
    written!(Source: "typed" "imported" "port");
    written!(GateState: "clear" "hold");
    written!(Side: "left" "right" "both");
    written!(Attitude: "chord-level" "leading-edge-down" "leading-edge-up");
    written!(Direction: "up" "aft");
    written!(Acceptance: "guarded" "simple");
    written!(InstrumentKind: "inclinometer" "caliper" "tape" "torque-wrench" "tensiometer" "other");
}
