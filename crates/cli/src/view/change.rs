//! What changed since the stage before.

use super::number::{signed, significance};
use super::wrap::wrap;
use assess::view::{Change, Changes};

/// A few lines: parts, then the stations that moved by more than measurement.
pub fn lines(changes: &Changes) -> Vec<String> {
    let mut out = Vec::new();
    for part in &changes.parts {
        let says = if part.real { "more than measurement" } else { "no more than measurement" };
        out.push(format!(
            "  {:<15} {} ± {:.2} deg  {:<10} {says}",
            part.part,
            signed(part.change_deg, 2),
            2.0 * part.u_deg,
            significance(part.p)
        ));
    }
    let moved: Vec<&Change> = changes.stations.iter().filter(|c| c.real).collect();
    if moved.is_empty() {
        out.push("  no station moved by more than measurement".to_owned());
    } else {
        let each: Vec<String> = moved
            .iter()
            .map(|c| format!("{} {} ± {:.2}", c.name, signed(c.change_deg, 2).trim(), 2.0 * c.u_deg))
            .collect();
        out.push(wrap("  stations that moved, deg: ", &each.join(", ")));
    }
    out
}
