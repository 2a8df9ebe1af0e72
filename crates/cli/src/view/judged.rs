//! A judged value on a line.

use super::{paint, wrap};
use assess::view::{Finding, Judged};
use quantity::Units;
use quantity::shown::percent;

/// Columns before the value.
pub const NAME: usize = 22;
/// Columns of the value, its ± and its unit.
const VALUE: usize = 20;

pub fn head() -> String {
    let name = " ".repeat(NAME);
    paint::faint(&format!(
        "{name}{}{}{}{:>9}",
        wrap::fit("value, ± is 95 %", VALUE),
        wrap::fit("tolerance", 17),
        wrap::fit("verdict", 10),
        "conforms"
    ))
}

/// A line for something that may have no value; then the reason is below it.
pub fn found(name: &str, found: &Finding, units: Units) -> String {
    let not = match found {
        Finding::Judged(judged) => return line(name, judged),
        Finding::Not(not) => not,
    };
    let limits =
        units.scale(not.unit).limits(not.lower, not.upper).unwrap_or_else(|| "no tolerance".to_owned());
    let word = not.verdict.map_or("", |v| v.word());
    let first = format!(
        "{}{}{}{}",
        wrap::fit(name, NAME),
        wrap::fit("-", VALUE),
        wrap::fit(&limits, 17),
        paint::verdict(not.verdict, word),
    );
    format!("{}\n{}", first.trim_end(), wrap::wrap("    ", &not.why.to_string()))
}

/// `washout error  -0.41 ±0.15°  ±0.35  undecided  21 %`, and below it what would decide it.
pub fn line(name: &str, judged: &Judged) -> String {
    let word = judged.verdict.map_or("", |v| v.word());
    let sure = judged.probability.map(percent).unwrap_or_default();
    let mut out = format!(
        "{}{}{}{}{sure:>9}",
        wrap::fit(name, NAME),
        wrap::fit(&judged.shown(), VALUE),
        wrap::fit(&judged.limits(), 17),
        // What is not followed by anything needs no room after it.
        paint::verdict(judged.verdict, &if sure.is_empty() { word.to_owned() } else { wrap::fit(word, 10) }),
    );
    out.truncate(out.trim_end().len());
    if let Some(decide) = &judged.decide {
        out.push('\n');
        out.push_str(&wrap::wrap("    ", decide));
    }
    out
}
