//! Instrument files to start from, commented, all invented.

/// An example of an instrument file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Example {
    /// The word to ask for it: a kind of instrument, or a dialect.
    pub word: &'static str,
    /// The file.
    pub text: &'static str,
}

/// All of them.
pub const EXAMPLES: [Example; 7] = [
    Example { word: "inclinometer", text: include_str!("examples/inclinometer.toml") },
    Example { word: "caliper", text: include_str!("examples/caliper.toml") },
    Example { word: "torque-wrench", text: include_str!("examples/torque-wrench.toml") },
    Example { word: "modbus", text: include_str!("examples/modbus.toml") },
    Example { word: "nmea", text: include_str!("examples/nmea.toml") },
    Example { word: "jigtrue", text: include_str!("examples/jigtrue.toml") },
    Example { word: "bcd", text: include_str!("examples/bcd.toml") },
];
