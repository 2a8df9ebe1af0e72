//! The `[port]` table: how the serial line is set.

use super::table::Table;
use super::{FileFault, Parity, PortSettings, Right};

/// Usual rates of serial lines. Common practice, no source.
const USUAL: [u32; 29] = [
    50, 75, 110, 150, 300, 600, 1_200, 1_800, 2_400, 4_800, 7_200, 9_600, 14_400, 19_200, 28_800, 31_250,
    38_400, 56_000, 57_600, 76_800, 115_200, 128_000, 230_400, 250_000, 460_800, 500_000, 921_600, 1_000_000,
    2_000_000,
];

/// The settings; a keyboard has none.
pub(super) fn settings(root: &Table<'_, '_>) -> Option<PortSettings> {
    let table = root.required("port", root.table("port"), "[port] needs baud = 9600, or keyboard = true")?;
    let keyboard = table.flag("keyboard").unwrap_or(false);
    let sure = table.flag("sure").unwrap_or(false);
    let baud = table.whole("baud", 50..=4_000_000).and_then(|baud| u32::try_from(baud).ok());
    let baud = if keyboard && baud.is_none() {
        Some(PortSettings::default().baud)
    } else {
        table.required("baud", baud, "write baud = 9600, or the rate in its manual")
    };
    if let Some(baud) = baud.filter(|baud| !sure && !USUAL.contains(baud)) {
        let nearest = USUAL.into_iter().min_by_key(|usual| usual.abs_diff(baud)).unwrap_or(baud);
        let at = table.table.get("baud").map(toml::Spanned::span).unwrap_or_default();
        table.mistakes.note(&at, FileFault::Rate(baud), Some(Right::Rate(nearest)));
    }
    let either = |key: &'static str, one: u8, other: u8, usual: u8| {
        let Some(value) = table.value(key) else { return Some(usual) };
        let number = value.get_ref().as_integer().and_then(|it| it.as_str().parse::<u8>().ok());
        match number.filter(|number| [one, other].contains(number)) {
            Some(number) => Some(number),
            None => table.wrong(&value.span(), FileFault::Either { key, one, other }),
        }
    };
    let data_bits = either("data_bits", 7, 8, 8);
    let parity = match table.value("parity") {
        None => Some(Parity::None),
        Some(_) => table.word("parity", "word", &Parity::WORDS),
    };
    let stop_bits = either("stop_bits", 1, 2, 1);
    table.finish();
    Some(PortSettings { baud: baud?, data_bits: data_bits?, parity: parity?, stop_bits: stop_bits? })
}
