//! What changed since the stage before.

use super::wrap::{terminal, width, wrap};
use assess::view::{Change, Changes};
use quantity::shown::significance;
use quantity::{Kind, Units};

/// A few lines: parts, then the stations that moved by more than measurement.
pub fn lines(changes: &Changes, units: Units) -> Vec<String> {
    let angle = |value, u| units.with_u(Kind::Angle, value, u).signed_with();
    let mut out = Vec::new();
    for part in &changes.parts {
        let says = if part.real { "more than measurement" } else { "no more than measurement" };
        let change = angle(part.change_deg, part.u_deg);
        let first = format!("  {:<15} {change:<16} {:<10} ", part.part, significance(part.p));
        let apart = if width(&first) + width(says) > terminal() { "\n    " } else { "" };
        out.push(format!("{}{apart}{says}", if apart.is_empty() { &first } else { first.trim_end() }));
    }
    let moved: Vec<&Change> = changes.stations.iter().filter(|c| c.real).collect();
    if moved.is_empty() {
        out.push("  no station moved by more than measurement".to_owned());
    } else {
        let each: Vec<String> =
            moved.iter().map(|c| format!("{} {}", c.name, angle(c.change_deg, c.u_deg))).collect();
        out.push(wrap("  stations that moved: ", &each.join(", ")));
    }
    out
}
