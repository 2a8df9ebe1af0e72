//! `decide`: a value with uncertainty against limits.

use super::table::refused;
use crate::exit::Exit;
use crate::show::Show;
use crate::view::wrap::wrap;
use clap::{Args, ValueEnum};
use numerics::decide::{Limits, Rule, Verdict, decide};
use serde::Serialize;
use session::SessionError;

/// The rule.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Way {
    /// Conformity must be proven (ISO 14253-1)
    Guarded,
    /// The value alone counts
    Simple,
}

/// `decide`
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
    /// Probability of conformity asked for
    #[arg(long, default_value_t = 0.95)]
    level: f64,
    /// Degrees of freedom behind the uncertainty (Student's t)
    #[arg(long)]
    dof: Option<f64>,
}

#[derive(Serialize)]
struct Answer {
    format: u32,
    verdict: &'static str,
    probability: f64,
    passes_from: Option<f64>,
    passes_to: Option<f64>,
    can_ever_pass: bool,
    coarsest_u: Option<f64>,
}

impl Decide {
    /// Decides it.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let limit = |text: &str| match text {
            "-" => Ok(None),
            text => text.parse::<f64>().map(Some).map_err(|_| {
                refused(format!("`{}` is no limit; write a number, or - for none", session::shown(text)))
            }),
        };
        let limits = Limits { lower: limit(&self.lower)?, upper: limit(&self.upper)? };
        let rule = match self.rule {
            Way::Guarded => Rule::Guarded { level: self.level },
            Way::Simple => Rule::Simple,
        };
        let d = decide(self.value, self.u, self.dof, limits, rule).map_err(refused)?;
        let finite = |v: f64| v.is_finite().then_some(v);
        let (verdict, exit) = match d.verdict {
            Verdict::Within => ("within", Exit::Done),
            Verdict::Outside => ("outside", Exit::Outside),
            Verdict::Undecided => ("undecided", Exit::Open),
        };
        let answer = Answer {
            format: 1,
            verdict,
            probability: d.probability,
            passes_from: d.passing.and_then(|p| finite(p.0)),
            passes_to: d.passing.and_then(|p| finite(p.1)),
            can_ever_pass: d.passing.is_some(),
            coarsest_u: finite(d.coarsest),
        };
        show.answer(|| text(&answer), &answer)?;
        Ok(exit)
    }
}

fn text(a: &Answer) -> String {
    let mut out = vec![format!("{}: it conforms with probability {}", a.verdict, probability(a.probability))];
    match (a.can_ever_pass, a.passes_from, a.passes_to) {
        (false, _, _) => {
            let need = a.coarsest_u.map_or_else(String::new, |u| {
                format!("; a standard uncertainty of at most {u:.6} is needed")
            });
            let words = "the uncertainty is too large for this tolerance: no value could ever pass";
            out.push(wrap("", &format!("{words}{need}")));
        }
        (true, Some(from), Some(to)) => out.push(format!("values from {from:.6} to {to:.6} would pass")),
        (true, Some(from), None) => out.push(format!("values from {from:.6} up would pass")),
        (true, None, Some(to)) => out.push(format!("values up to {to:.6} would pass")),
        (true, None, None) => {}
    }
    out.join("\n")
}

/// Never rounded up to certainty or down to nothing.
fn probability(p: f64) -> String {
    if p > 0.999_999_5 {
        "over 0.999999".to_owned()
    } else if p < 0.000_000_5 {
        "under 0.000001".to_owned()
    } else {
        format!("{p:.6}")
    }
}
