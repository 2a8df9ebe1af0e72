//! The one station that is named where there is room for one.

use crate::whole::{Build, Way};
use assess::view::{StationView, Verdict};
use assess::{Chain, assess};

fn station(name: &str, error: f64, verdict: Verdict, probability: f64) -> StationView {
    StationView {
        name: name.to_owned(),
        twist_error_deg: Some(error),
        u_deg: Some(0.01),
        verdict: Some(verdict),
        probability: Some(probability),
        ..StationView::default()
    }
}

/// It is the one of most concern, however large the error of another is.
#[test]
fn the_worst_station_is_the_one_of_most_concern() {
    let b = Build::clear(Way::Angles, 1);
    let mut twist = assess(&b.plan, &b.entries, &Chain::Whole).twist.unwrap();
    twist.stations = vec![
        station("large", 0.3, Verdict::Within, 0.99),
        station("likely", -0.1, Verdict::Undecided, 0.9),
        station("unlikely", 0.05, Verdict::Undecided, 0.8),
    ];
    let worst = |twist: &assess::view::Twist| twist.worst().map(|s| s.name.clone());
    assert_eq!(worst(&twist).as_deref(), Some("unlikely"));
    // What has no value is not named, whatever its verdict.
    twist.stations[2].twist_error_deg = None;
    twist.stations[2].verdict = Some(Verdict::CannotJudge);
    assert_eq!(worst(&twist).as_deref(), Some("likely"));
    // Without a verdict the size decides.
    twist.stations.iter_mut().for_each(|s| (s.verdict, s.probability) = (None, None));
    assert_eq!(worst(&twist).as_deref(), Some("large"));
    twist.stations.clear();
    assert_eq!(worst(&twist), None);
}
