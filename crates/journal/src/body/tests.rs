//! Tests of `body`.

use super::{Decoded, Parted, Stored, Tail, decode, take_tail};
use record::{UtcOffset, What};

#[test]
fn an_offset_is_the_last_key_and_reads_back() {
    for text in ["windy", "", "x,\"utc_offset_min\":120}", "\\", "\",\"utc_offset_min\":60}"] {
        let what = What::Note { text: text.to_owned() };
        for offset in [None, UtcOffset::from_minutes(-210), Some(UtcOffset::UTC)] {
            for highest_round in [None, Some(1), Some(u32::MAX)] {
                let tail = Tail { highest_round, offset };
                let Ok(mut stored) = Stored::new(&what) else { unreachable!() };
                stored.end(tail);
                let decoded = decode(stored.kind(), stored.body()).unwrap();
                assert_eq!(decoded, Decoded { what: what.clone(), offset });
                assert_eq!(take_tail(stored.body()).unwrap().tail, tail);
                assert!(serde_json_reads(stored.body()), "{}", stored.body());
            }
        }
    }
}

fn serde_json_reads(body: &str) -> bool {
    body.starts_with('{') && body.ends_with('}')
}

fn untouched(body: &str) -> Option<Parted<'_>> {
    Some(Parted { content: &body[..body.len() - 1], tail: Tail::default() })
}

#[test]
fn a_tail_not_spelled_as_this_program_spells_it_is_no_tail() {
    for tail in ["+60", "060", "1560", "-1560", "60.0", "1e1", "", " 60", "null"] {
        let body = format!("{{\"text\":\"x\",\"utc_offset_min\":{tail}}}");
        assert_eq!(take_tail(&body), untouched(&body), "{body}");
    }
    for tail in ["+7", "07", "-1", "4294967296", "7.0", "", "null"] {
        let body = format!("{{\"text\":\"x\",\"highest_round\":{tail}}}");
        assert_eq!(take_tail(&body).unwrap().tail, Tail::default(), "{body}");
    }
    let nested = "{\"a\":{\"x\":1,\"utc_offset_min\":60}}";
    assert_eq!(take_tail(nested), untouched(nested));
    for body in ["", "[]", "{\"text\":\"x\""] {
        assert!(take_tail(body).is_none() && decode("note", body).is_err(), "{body}");
    }
}
