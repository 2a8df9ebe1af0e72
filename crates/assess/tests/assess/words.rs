//! Each word in JSON: the same as in a sentence, and unchanged.

use assess::series::FoundKind;
use assess::view::{IncidenceFrom, ObligationKind, StraightnessMethod};

/// These are the words of an enum, in order.
macro_rules! written {
    ($of:ty: $($word:literal)+) => {
        assert_eq!(<$of>::ALL.map(<$of>::word), [$($word),+]);
        assert_eq!(<$of>::ALL.map(|one| serde_json::to_value(one).unwrap()), [$($word),+]);
    };
}

#[test]
fn each_word_is_written_as_before() {
    written!(ObligationKind: "stage" "level" "cross" "setting" "washout" "neighbour" "station" "straightness" "spacing" "square"
        "clearance" "spot" "rigging" "point" "instrument" "open_item" "record");
    written!(StraightnessMethod: "line" "walk");
    written!(IncidenceFrom: "incidence" "heights" "plumb");
    written!(FoundKind: "zero" "error");
}
