//! What looks alike, as a table without pointers: that of the crate has one for each of its thousands of rows, and a program
//! would have to put every one of them right before it begins.
#![expect(clippy::disallowed_methods, reason = "a table is made while the program is built")]

use std::error::Error;
use std::fmt::Write;
use unicode_normalization::UnicodeNormalization;
use unicode_security::skeleton;

/// Beyond it nothing is written that looks like something else.
const LAST: char = '\u{2ffff}';

fn main() -> Result<(), Box<dyn Error>> {
    let (mut from, mut ends, mut to) = (String::new(), String::new(), String::new());
    let mut rows = 0;
    for c in '\0'..=LAST {
        let mut decomposed = std::iter::once(c).nfd();
        if decomposed.next() != Some(c) || decomposed.next().is_some() {
            continue;
        }
        let looks: String = skeleton(c.encode_utf8(&mut [0; 4])).collect();
        if !looks.chars().eq([c]) {
            to.push_str(&looks);
            write!(from, "{},", u32::from(c))?;
            write!(ends, "{},", u16::try_from(to.len())?)?;
            rows += 1;
        }
    }
    let table = format!(
        "static FROM: [u32; {rows}] = [{from}];\nstatic ENDS: [u16; {rows}] = [{ends}];\nstatic TO: &str = {to:?};\n"
    );
    std::fs::write(std::path::Path::new(&std::env::var("OUT_DIR")?).join("looks.rs"), table)?;
    println!("cargo::rerun-if-changed=build.rs");
    Ok(())
}
