//! A judged value on a line.

use super::number::{limits, percent, places_of, signed};
use super::{paint, wrap};
use assess::view::Judged;

/// Columns before the value.
const NAME: usize = 22;

/// What the columns are.
pub fn head() -> String {
    let name = " ".repeat(NAME);
    paint::faint(&format!(
        "{name}{}{}{}{:>9}",
        wrap::fit("value ± twice its u", 22),
        wrap::fit("tolerance", 17),
        wrap::fit("verdict", 10),
        "conforms"
    ))
}

/// `washout error  -0.41 ± 0.15 deg  (-0.35 to +0.35)  undecided  21.0 %`, and below it what would decide it.
pub fn line(name: &str, judged: &Judged) -> String {
    let places = places_of(judged);
    let value = format!("{} ± {:.places$} {}", signed(judged.value, places), 2.0 * judged.u, judged.unit);
    let limits = limits(judged.lower, judged.upper).unwrap_or_else(|| "no tolerance".to_owned());
    let word = judged.verdict.map_or("", |v| v.word());
    let sure = judged.probability.map(percent).unwrap_or_default();
    let mut out = format!(
        "{}{}{}{}{sure:>9}",
        wrap::fit(name, NAME),
        wrap::fit(&value, 22),
        wrap::fit(&limits, 17),
        paint::verdict(judged.verdict, &wrap::fit(word, 10)),
    );
    out.truncate(out.trim_end().len());
    if let Some(decide) = &judged.decide {
        out.push('\n');
        out.push_str(&wrap::wrap("    ", decide));
    }
    out
}
