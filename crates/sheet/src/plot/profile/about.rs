//! The profile in words, for people who cannot see it.

use assess::Verdict;
use assess::view::{Finding, PreviousTwist, Twist};
use quantity::shown::{exact, fixed};

pub(super) fn words(twist: &Twist, previous: Option<&PreviousTwist>) -> String {
    let errors = || twist.stations.iter().filter_map(|s| s.twist_error_deg).filter(|v| v.is_finite());
    let least = errors().fold(f64::INFINITY, f64::min);
    let most = errors().fold(f64::NEG_INFINITY, f64::max);
    let mut out = format!("Twist error along the span at {} stations", twist.stations.len());
    if let (Some(first), Some(last)) = (twist.stations.first(), twist.stations.last()) {
        out.push_str(&format!(", from {} mm to {} mm", exact(first.span_mm), exact(last.span_mm)));
    }
    if least <= most {
        out.push_str(&format!("; it goes from {}° to {}°", fixed(least, 3), fixed(most, 3)));
    }
    match &twist.washout_error {
        Finding::Judged(washout) => {
            out.push_str(&format!("; washout error {}", washout.shown()));
        }
        Finding::Not(_) => out.push_str("; washout error not known"),
    }
    for verdict in Verdict::WORST_FIRST {
        let count = twist.stations.iter().filter(|s| s.verdict == Some(verdict)).count();
        if count > 0 {
            out.push_str(&format!("; {count} {}", verdict.word()));
        }
    }
    if let Some(previous) = previous {
        out.push_str(&format!("; with the profile of the stage {} behind it", previous.stage));
    }
    out.push('.');
    out
}
