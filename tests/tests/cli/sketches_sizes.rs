//! What the example sketches need of a small board.

use crate::emulated::{Emulator, Size, emulator};

/// The figures of the table row that names a file.
fn stated(text: &str, file: &str) -> Size {
    let row = text.lines().find(|line| line.starts_with('|') && line.contains(file));
    let row = row.unwrap_or_else(|| panic!("no figures of {file}"));
    let figures: Vec<usize> = row.split('|').filter_map(|cell| cell.trim().parse().ok()).collect();
    Size { flash: figures[0], ram: figures[1] }
}

#[test]
fn sketches_take_no_more_than_is_stated() {
    let Some(emulator) = emulator() else { return };
    for sketch in ["tilt_sensor", "caliper_bridge"] {
        let size = emulator.compile(sketch, &format!("{sketch}_size"), &[]).size();
        for text in
            [include_str!("../../../README.md"), include_str!("../../../firmware-protocol/PROTOCOL.md")]
        {
            let stated = stated(text, &format!("{sketch}.c"));
            assert!(
                size.flash <= stated.flash && size.ram <= stated.ram,
                "{sketch}: {size:?}, stated {stated:?}"
            );
        }
    }
}

/// What one line costs a board.
struct Cost {
    flash: usize,
    /// With the stack.
    ram: usize,
    cycles: f64,
}

/// Runs a sketch that makes one line after another for a while.
fn cost(emulator: &Emulator, sketch: &str, name: &str, more: &[&str]) -> Cost {
    let sketch = emulator.compile(sketch, name, more);
    let Size { flash, ram } = sketch.size();
    let (_, said) = sketch.run("wait 500\n");
    let measured = said.lines().find(|line| line.contains("cycles in")).unwrap_or_else(|| panic!("{said}"));
    let figures: Vec<usize> =
        measured.split(|c: char| !c.is_ascii_digit()).filter_map(|figure| figure.parse().ok()).collect();
    let [cycles, lines, stack] = figures[..] else { panic!("{measured}") };
    Cost { flash, ram: ram + stack, cycles: cycles as f64 / lines as f64 }
}

/// Compared with the C library's snprintf making the same line without its CRC. The two rows after that are not
/// rivals but limits: the number alone, without a name, a unit or a check.
#[test]
fn a_line_costs_a_board_less_than_by_the_c_library() {
    let Some(emulator) = emulator() else { return };
    let ours = cost(emulator, "line_ours", "line_ours", &["-DJIGTRUE_SENDS_ONLY"]);
    let show = |name: &str, it: &Cost| {
        println!(
            "{name:<32} flash {:>4} ({:.2})  RAM with stack {:>3} ({:.2})  cycles a line {:>4.0} ({:.2})",
            it.flash,
            ours.flash as f64 / it.flash as f64,
            it.ram,
            ours.ram as f64 / it.ram as f64,
            it.cycles,
            ours.cycles / it.cycles
        );
    };
    let printed = cost(emulator, "line_printf", "line_printf", &[]);
    show("jigtrue.h (its share of each)", &ours);
    show("jigtrue.h, hearing commands", &cost(emulator, "line_ours", "line_hearing", &[]));
    show("snprintf, the same line, no CRC", &printed);
    show("snprintf, the number alone", &cost(emulator, "line_printf", "line_bare", &["-DBARE"]));
    show("dtostrf, the number alone", &cost(emulator, "line_printf", "line_float", &["-DFLOAT"]));
    assert!(ours.flash < printed.flash && ours.ram < printed.ram && ours.cycles < printed.cycles);
}
