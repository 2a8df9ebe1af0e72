//! The program `jigtrue-window`.

fn main() {}
