//! `decide`: a value with uncertainty against limits.

use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::wrap::wrap;
use clap::{Args, ValueEnum};
use numerics::decide::{Limits, Rule, Verdict, decide};
use quantity::shown;
use serde::Serialize;
use session::SessionError;

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Way {
    /// Conformity must be proven (ISO 14253-1)
    Guarded,
    /// The value alone counts
    Simple,
}

#[derive(Debug, Args)]
pub struct Decide {
    /// The value
    #[arg(allow_hyphen_values = true)]
    value: f64,
    /// Its standard uncertainty
    #[arg(allow_hyphen_values = true)]
    u: f64,
    /// Lower limit, or - for none
    #[arg(allow_hyphen_values = true)]
    lower: String,
    /// Upper limit, or - for none
    #[arg(allow_hyphen_values = true)]
    upper: String,
    /// The rule
    #[arg(long, value_enum, default_value = "guarded")]
    rule: Way,
    /// Required probability of conformity
    #[arg(long, default_value_t = 0.95)]
    level: f64,
    /// Degrees of freedom behind the uncertainty (Student's t)
    #[arg(long)]
    dof: Option<f64>,
}

#[derive(Serialize)]
struct Answer {
    verdict: &'static str,
    probability: f64,
    passes_from: Option<f64>,
    passes_to: Option<f64>,
    can_ever_pass: bool,
    coarsest_u: Option<f64>,
}

impl Decide {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let limit = |text: &str| match text {
            "-" => Ok(None),
            text => {
                text.parse::<f64>().map(Some).map_err(|why| Refusal::NoLimit { text: text.to_owned(), why })
            }
        };
        let limits = Limits { lower: limit(&self.lower)?, upper: limit(&self.upper)? };
        let rule = match self.rule {
            Way::Guarded => Rule::Guarded { level: self.level },
            Way::Simple => Rule::Simple,
        };
        let d = decide(self.value, self.u, self.dof, limits, rule).map_err(SessionError::because)?;
        let finite = |v: f64| v.is_finite().then_some(v);
        let (verdict, exit) = match d.verdict {
            Verdict::Within => ("within", Exit::Done),
            Verdict::Outside => ("outside", Exit::Outside),
            Verdict::Undecided => ("undecided", Exit::Open),
        };
        let answer = Answer {
            verdict,
            probability: d.probability,
            passes_from: d.passing.and_then(|p| finite(p.from)),
            passes_to: d.passing.and_then(|p| finite(p.to)),
            can_ever_pass: d.passing.is_some(),
            coarsest_u: finite(d.coarsest),
        };
        let decimals = decimals(self.u);
        show.answer(|| text(&answer, decimals), &answer)?;
        Ok(exit)
    }
}

/// Decimals of the values that would pass: two digits of the uncertainty.
fn decimals(u: f64) -> usize {
    if u > 0.0 { shown::decimals(u) + 1 } else { 6 }
}

fn text(a: &Answer, decimals: usize) -> String {
    let mut out =
        vec![format!("{}: it conforms with probability {}", a.verdict, shown::percent(a.probability))];
    // A value reported as passing must pass: round toward the inside.
    let inside = |edge: f64, to: fn(f64) -> f64| {
        let scale = libm::pow(10.0, f64::from(u32::try_from(decimals).unwrap_or(6)));
        let rounded = to(edge * scale) / scale;
        shown::fixed(if rounded.is_finite() { rounded } else { edge }, decimals)
    };
    let from = a.passes_from.map(|edge| inside(edge, libm::ceil));
    let to = a.passes_to.map(|edge| inside(edge, libm::floor));
    match (a.can_ever_pass, from, to) {
        (false, _, _) => {
            let need = a.coarsest_u.map_or_else(String::new, |u| {
                format!("; a standard uncertainty of at most {} is needed", floored(u))
            });
            let words = "the uncertainty is too large for this tolerance: no value could ever pass";
            out.push(wrap("", &format!("{words}{need}")));
        }
        (true, Some(from), Some(to)) => out.push(format!("values from {from} to {to} would pass")),
        (true, Some(from), None) => out.push(format!("values from {from} up would pass")),
        (true, None, Some(to)) => out.push(format!("values up to {to} would pass")),
        (true, None, None) => {}
    }
    out.join("\n")
}

/// Two significant digits, rounded down: a value reported as sufficient must be sufficient.
fn floored(u: f64) -> String {
    if u <= 0.0 || !u.is_finite() {
        return format!("{u}");
    }
    let unit = libm::pow(10.0, libm::floor(libm::log10(u)) - 1.0);
    shown::significant(libm::floor(u / unit * (1.0 + 1e-12)) * unit, 2)
}
