//! The cells of the acceptance table: shapes, amplitudes in s, and bounds.

use super::shape::Kind;

/// One row of the table with its bounds.
#[derive(Clone, Copy, Debug)]
pub struct Cell {
    pub name: &'static str,
    pub kind: Kind,
    /// Least coverage of stations, setting and washout error.
    pub numbers: f64,
    /// Least coverage of the band.
    pub band: f64,
    /// Most coverage of any.
    pub most: f64,
}

const fn cell(name: &'static str, kind: Kind, numbers: f64, band: f64) -> Cell {
    Cell { name, kind, numbers, band, most: 1.0 }
}

const NONE: Kind = Kind { bow: 0.0, s: 0.0, kink: 0.0, scatter: 0.0, dent: 0.0 };

pub const STRAIGHT: Cell = Cell { name: "straight", kind: NONE, numbers: 0.94, band: 0.94, most: 0.998 };

/// Smooth wings.
pub const SMOOTH: [Cell; 7] = [
    cell("bow 1", Kind { bow: 1.0, ..NONE }, 0.94, 0.935),
    cell("bow 2", Kind { bow: 2.0, ..NONE }, 0.94, 0.935),
    cell("bow 4", Kind { bow: 4.0, ..NONE }, 0.94, 0.935),
    cell("S 1", Kind { s: 1.0, ..NONE }, 0.94, 0.935),
    cell("S 2", Kind { s: 2.0, ..NONE }, 0.94, 0.935),
    cell("kink 4", Kind { kink: 4.0, ..NONE }, 0.94, 0.935),
    cell("kink 8", Kind { kink: 8.0, ..NONE }, 0.94, 0.935),
];

/// Ribs that scatter.
pub const SCATTERED: [Cell; 5] = [
    cell("scatter 1.3", Kind { scatter: 1.3, ..NONE }, 0.935, 0.93),
    cell("scatter 2", Kind { scatter: 2.0, ..NONE }, 0.935, 0.93),
    cell("scatter 4", Kind { scatter: 4.0, ..NONE }, 0.935, 0.93),
    cell("S 2 + scatter 1.3", Kind { s: 2.0, scatter: 1.3, ..NONE }, 0.935, 0.93),
    cell("bow 2 + scatter 2", Kind { bow: 2.0, scatter: 2.0, ..NONE }, 0.935, 0.93),
];

/// First station at 0.06, last at 0.95.
pub const SHORT: [Cell; 4] = [
    cell("short, straight", NONE, 0.93, 0.92),
    cell("short, bow 2", Kind { bow: 2.0, ..NONE }, 0.93, 0.92),
    cell("short, S 1", Kind { s: 1.0, ..NONE }, 0.93, 0.92),
    cell("short, S 2", Kind { s: 2.0, ..NONE }, 0.93, 0.92),
];
