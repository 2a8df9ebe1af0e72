//! Texts kept beside the tests and compared with the present output.

use std::path::Path;

/// Fails if the text differs from the kept one; with `KEEP=1` in the environment it is written instead.
pub fn same_as_kept(name: &str, now: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/instrument/kept").join(name);
    if std::env::var_os("KEEP").is_some() {
        std::fs::write(&path, now).unwrap();
    }
    let kept: String = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = kept.lines().zip(now.lines()).position(|(kept, now)| kept != now);
    assert!(
        kept == now,
        "{name} differs from line {differs:?} on; if it should, run the test once with KEEP=1"
    );
}
