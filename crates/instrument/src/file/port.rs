//! The `[port]` table: how the serial line is set.

use super::{FileFault, Parity, PortSettings, Table};
use std::format;

/// Usual rates of serial lines. Common practice, no source.
const USUAL: [u32; 29] = [
    50, 75, 110, 150, 300, 600, 1_200, 1_800, 2_400, 4_800, 7_200, 9_600, 14_400, 19_200, 28_800, 31_250,
    38_400, 56_000, 57_600, 76_800, 115_200, 128_000, 230_400, 250_000, 460_800, 500_000, 921_600, 1_000_000,
    2_000_000,
];

/// The settings; a keyboard has none.
pub(super) fn settings(table: &Table<'_, '_>) -> Option<PortSettings> {
    let usual = PortSettings::default();
    let sure = table.flag("sure").unwrap_or(false);
    let baud = if table.flag("keyboard").unwrap_or(false) && !table.has("baud") {
        Some(usual.baud)
    } else {
        table
            .wants("baud", "write baud = 9600, or the rate in its manual")
            .whole_within("baud", 50..=4_000_000)
    };
    if let (Some(baud), Some(at)) = (baud.filter(|baud| !sure && !USUAL.contains(baud)), table.value("baud"))
    {
        let nearest = USUAL.into_iter().min_by_key(|usual| usual.abs_diff(baud)).unwrap_or(baud);
        let right = format!("did you mean {nearest}? If not, write sure = true below it");
        table.mistakes().note(at.span(), FileFault::Rate(baud), Some(right));
    }
    let either =
        |key, within, usual| if table.has(key) { table.whole_within(key, within) } else { Some(usual) };
    let (data_bits, stop_bits) = (either("data_bits", 7..=8, 8), either("stop_bits", 1..=2, 1));
    let parity = if table.has("parity") { table.word("parity", &Parity::WORDS) } else { Some(usual.parity) };
    Some(PortSettings { baud: baud?, data_bits: data_bits?, parity: parity?, stop_bits: stop_bits? })
}
