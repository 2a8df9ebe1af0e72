//! A judged value on a line.

use super::{paint, wrap};
use assess::view::{Finding, Judged, Verdict};
use quantity::Units;
use quantity::shown::percent;

/// Columns before the value.
pub const NAME: usize = 22;

/// The row of a table: name, value, tolerance, verdict, probability. On a narrow terminal the probability is left out
/// and the columns are narrower; nothing but a name is ever cut.
fn row(name: &str, value: &str, tolerance: &str, verdict: Option<Verdict>, word: &str, sure: &str) -> String {
    let columns = wrap::terminal();
    let (values, tolerances) = if columns < 72 { (17, 11) } else { (20, 17) };
    let first =
        format!("{}{}{}", wrap::fit(name, NAME), padded(value, values), padded(tolerance, tolerances));
    if sure.is_empty() || columns < wrap::WIDTH {
        // What is not followed by anything needs no room after it.
        return format!("{first}{}", paint::verdict(verdict, word)).trim_end().to_owned();
    }
    format!("{first}{}{sure:>9}", paint::verdict(verdict, &wrap::fit(word, 10)))
}

/// The text with blanks up to its column, at least one.
fn padded(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(wrap::width(text)).max(1)))
}

pub fn head() -> String {
    paint::faint(&row("", "value, ± is 95 %", "tolerance", None, "verdict", "conforms"))
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
    let first = row(name, "-", &limits, not.verdict, word, "");
    format!("{first}\n{}", wrap::wrap("    ", &not.why.to_string()))
}

/// `washout error  -0.41 ±0.15°  ±0.35  undecided  21 %`, and below it what would decide it.
pub fn line(name: &str, judged: &Judged) -> String {
    let word = judged.verdict.map_or("", |v| v.word());
    let sure = judged.probability.map(percent).unwrap_or_default();
    let mut out = row(name, &judged.shown(), &judged.limits(), judged.verdict, word, &sure);
    if let Some(decide) = &judged.decide {
        out.push('\n');
        out.push_str(&wrap::wrap("    ", decide));
    }
    out
}
