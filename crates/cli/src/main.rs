//! The program `jigtrue`.
fn main() {}
