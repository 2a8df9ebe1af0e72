//! What a withdrawal withdraws, and what it cannot.

use proptest::prelude::*;
use record::{At, Entry, StageBegun, What, Withdrawn};

fn log(all: impl IntoIterator<Item = What>) -> Vec<Entry> {
    let entry = |(i, what): (usize, What)| Entry {
        seq: i as u64 + 1,
        at: At::from_millis(0),
        by: "ann".to_owned(),
        offset: None,
        what,
    };
    all.into_iter().enumerate().map(entry).collect()
}

fn note() -> What {
    What::Note { text: "x".to_owned() }
}

fn withdraw(seq: u64) -> What {
    What::Withdrawn { seq, reason: "typed wrong".to_owned() }
}

fn started() -> What {
    What::Started { plan: String::new(), program: String::new() }
}

#[test]
fn a_withdrawn_withdrawal_makes_its_target_count_again() {
    let entries = log([started(), note(), withdraw(2), withdraw(3), withdraw(4)]);
    let after = |n: usize| Withdrawn::of(&entries[..n]).contains(2);
    assert_eq!([2, 3, 4, 5].map(after), [false, true, false, true]);
    assert_eq!(Withdrawn::of(&entries).by(2), Some(3));
    assert_eq!(Withdrawn::of(&entries).by(4), Some(5));
}

#[test]
fn the_start_a_later_entry_and_itself_cannot_be_withdrawn() {
    let stage = What::Stage(StageBegun::new("ribs"));
    let entries = log([started(), withdraw(1), withdraw(3), withdraw(5), stage, withdraw(5)]);
    let gone = Withdrawn::of(&entries);
    assert_eq!([1, 2, 3, 4, 5, 6].map(|seq| gone.by(seq)), [None, None, None, None, Some(6), None]);
}

proptest! {
    /// Compared with the slow way: read forward and ask one by one about each withdrawal in force at the end.
    #[test]
    fn the_result_equals_asking_each_withdrawal_in_turn(targets in prop::collection::vec(1_u64..12, 1..12)) {
        let entries = log(std::iter::once(note()).chain(targets.iter().map(|t| withdraw(*t))));
        fn in_force(entries: &[Entry], seq: u64) -> bool {
            !entries.iter().any(|e| match e.what {
                What::Withdrawn { seq: target, .. } => target == seq && target < e.seq && in_force(entries, e.seq),
                _ => false,
            })
        }
        let gone = Withdrawn::of(&entries);
        for seq in 1..=entries.len() as u64 {
            prop_assert_eq!(gone.contains(seq), !in_force(&entries, seq), "{}", seq);
        }
    }
}
