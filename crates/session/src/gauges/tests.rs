use super::{Block, BothWays, Connected, check};
use quantity::InstrumentKind;
use record::Instrument;
use std::collections::BTreeMap;
use std::path::Path;

fn known() -> BTreeMap<String, Instrument> {
    let level = Instrument {
        accuracy: Some(0.2),
        repeatability: Some(0.05),
        ..Instrument::of("level", InstrumentKind::Inclinometer, 0.1)
    };
    BTreeMap::from([("level".to_owned(), level)])
}

fn shown<'a>(forward: &'a str, aft: &'a str) -> BothWays<'a> {
    BothWays { forward, aft }
}

#[test]
fn the_zero_is_half_the_sum_of_a_reversal_pair() {
    let found = check(&known(), "level", shown("0.3", "0.1"), None).unwrap();
    assert_eq!((found.method.as_str(), found.passed), ("reversal", true));
    assert!((found.found - 0.2).abs() < 1e-12);
    // By hand: sqrt((0.1² / 12 + 0.05²) / 2).
    assert!((found.u - 0.040_824_829).abs() < 1e-8, "{}", found.u);
    assert!(!check(&known(), "level", shown("0.4", "0.1"), None).unwrap().passed);
}

#[test]
fn a_known_slope_is_the_arc_sine_of_the_block() {
    // asin(20 / 400) = 2.8660 degrees, from a table of sines.
    let block = Block { height: "20.00", length: "400.0" };
    let found = check(&known(), "level", shown("2.9", "-2.8"), Some(block)).unwrap();
    assert!((found.found - (2.85 - 2.865_984)).abs() < 1e-6, "{}", found.found);
    assert!(found.passed);
    assert!(!check(&known(), "level", shown("3.2", "-3.1"), Some(block)).unwrap().passed);
}

#[test]
fn each_impossible_check_is_refused_with_a_message() {
    let mut known = known();
    assert!(check(&known, "levle", shown("0.3", "0.1"), None).unwrap_err().to_string().contains("`level`"));
    assert!(check(&known, "level", shown("0.3 mm", "0.1"), None).is_err());
    let high = Block { height: "400", length: "20" };
    assert!(check(&known, "level", shown("0.3", "0.1"), Some(high)).is_err());
    known.get_mut("level").unwrap().accuracy = None;
    let why = check(&known, "level", shown("0.3", "0.1"), None).unwrap_err().to_string();
    assert!(why.contains("no accuracy"), "{why}");
}

#[test]
fn the_shipped_files_can_be_read() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-readings/instruments");
    let super::InFolder { read: good, unreadable: bad } = super::in_folder(&folder).unwrap();
    assert!(bad.is_empty(), "{bad:?}");
    assert!(good.len() >= 5);
    let level = Connected::read(&folder.join("beam-level.toml")).unwrap();
    assert_eq!(level.facts.due.as_ref().map(ToString::to_string).as_deref(), Some("2032-01-10"));
    assert_eq!(level.settings.baud, 9600);
}
