//! What must be true of every sheet, whatever is on it.
#![expect(clippy::unwrap_used, reason = "a test")]

mod cases;

use assess::Assessment;
use assess::view::Finding;
use cases::{bare, clear, hold, left_and_right, sixty, stamp};
use sheet::{Fingerprint, Paper, PlotStyle, SheetError, Stamp};

fn made(assessment: &Assessment) -> Vec<u8> {
    sheet::pdf(assessment, &stamp(Paper::A4)).unwrap()
}

#[test]
fn the_same_log_gives_the_same_bytes() {
    for case in [clear(), hold(), sixty()] {
        assert_eq!(made(&case), made(&case.clone()));
        let style = PlotStyle::default();
        assert_eq!(sheet::profile_svg(&case, &style).unwrap(), sheet::profile_svg(&case, &style).unwrap());
    }
    let compared = || sheet::compare_pdf(&left_and_right(), &stamp(Paper::A4), None).unwrap();
    assert_eq!(compared(), compared());
}

#[test]
fn a_sheet_tells_which_log_it_is_of() {
    for paper in [Paper::A4, Paper::Letter] {
        let stamp = stamp(paper);
        for pdf in [sheet::pdf(&hold(), &stamp).unwrap(), sheet::pdf_1b(&hold(), &stamp).unwrap()] {
            let mark = sheet::mark_of_pdf(&pdf).unwrap();
            assert_eq!(mark.fingerprint, stamp.fingerprint().unwrap());
            assert_eq!((mark.paper, mark.made_at), (paper, stamp.made_at.clone()));
        }
    }
}

#[test]
fn a_sheet_can_be_made_again_from_its_own_mark() {
    let first = sheet::pdf(&clear(), &stamp(Paper::Letter)).unwrap();
    let mark = sheet::mark_of_pdf(&first).unwrap();
    let again = Stamp {
        plan_sha256: mark.fingerprint.plan_sha256,
        head: mark.fingerprint.head,
        entries: mark.fingerprint.entries,
        made_at: mark.made_at,
        paper: mark.paper,
        ..stamp(Paper::A4)
    };
    assert!(first == sheet::pdf(&clear(), &again).unwrap());
}

#[test]
fn another_log_gives_another_sheet() {
    let base = stamp(Paper::A4);
    let others = [
        Stamp { head: "0".repeat(64), ..base.clone() },
        Stamp { plan_sha256: "0".repeat(64), ..base.clone() },
        Stamp { entries: 215, ..base.clone() },
    ];
    for other in others {
        let pdf = sheet::pdf(&clear(), &other).unwrap();
        assert_ne!(sheet::mark_of_pdf(&pdf).unwrap().fingerprint, base.fingerprint().unwrap());
    }
}

#[test]
fn a_comparison_of_two_logs_names_both_and_is_no_sheet_of_either() {
    let other = Fingerprint::new(&"ab".repeat(32), &"cd".repeat(32), 198).unwrap();
    let own = stamp(Paper::A4).fingerprint().unwrap();
    let pdf = sheet::compare_pdf(&left_and_right(), &stamp(Paper::A4), Some(&other)).unwrap();
    let named = |head: &str, pdf: &[u8]| pdf.windows(head.len()).any(|w| w == head.as_bytes());
    assert!(named(&own.head, &pdf) && named(&other.head, &pdf));
    for pdf in [pdf, sheet::compare_pdf(&left_and_right(), &stamp(Paper::A4), None).unwrap()] {
        assert_eq!(sheet::mark_of_pdf(&pdf), None);
        assert!(sheet::is_comparison(&pdf) && !sheet::is_comparison(&made(&clear())));
    }
    let one_log = sheet::compare_pdf(&left_and_right(), &stamp(Paper::A4), Some(&own)).unwrap();
    assert!(!named(&other.head, &one_log));
    let svg = sheet::compare_svg(&left_and_right(), &PlotStyle::default()).unwrap();
    assert!(svg.contains("S12</text>") && svg.contains("more than measurement"));
}

#[test]
fn other_files_have_no_mark() {
    assert_eq!(sheet::mark_of_pdf(b"%PDF-1.7\n%%EOF"), None);
    let pdf = made(&clear());
    assert_eq!(sheet::mark_of_pdf(&pdf[..200]), None);
}

#[test]
fn a_stamp_that_cannot_be_right_is_refused() {
    let base = stamp(Paper::A4);
    let refused = |stamp: Stamp| sheet::pdf(&clear(), &stamp).unwrap_err();
    assert!(matches!(
        refused(Stamp { head: "abc".to_owned(), ..base.clone() }),
        SheetError::Fingerprint { which: "log", .. }
    ));
    assert!(matches!(
        refused(Stamp { plan_sha256: "g".repeat(64), ..base.clone() }),
        SheetError::Fingerprint { which: "plan", .. }
    ));
    for at in [
        "",
        "yesterday",
        "2031-04-05 16:07:08Z",
        "2031-13-05T16:07:08Z",
        "2031-04-05T16:07:08+01:00",
        "2031-04-05T16:0é:08Z",
    ] {
        assert!(
            matches!(refused(Stamp { made_at: at.to_owned(), ..base.clone() }), SheetError::MadeAt { .. }),
            "{at}"
        );
    }
    let fraction = Stamp { made_at: "2031-04-05T16:07:08.250Z".to_owned(), ..base };
    assert!(sheet::pdf(&clear(), &fraction).is_ok());
}

#[test]
fn odd_assessments_still_make_a_sheet() {
    let mut empty = bare("", 3, 0.0, None);
    empty.twist = None;
    empty.points.clear();
    empty.stage_verdict = None;

    let mut nonsense = hold();
    let twist = nonsense.twist.as_mut().unwrap();
    for found in [&mut twist.setting, &mut twist.washout_error] {
        let Finding::Judged(judged) = found else { panic!("judged") };
        (judged.value, judged.u, judged.upper95) = (f64::NAN, f64::INFINITY, f64::NAN);
    }
    twist.stations[0].deviation_deg = Some(1e300);
    twist.stations[2].twist_error_deg = Some(1e300);
    twist.stations[2].upper95_deg = Some(f64::INFINITY);
    twist.stations[1].deviation_deg = Some(f64::NAN);
    twist.band[3].fit_deg = f64::NAN;
    twist.band[4].upper_deg = Some(f64::INFINITY);

    let mut wordy = hold();
    wordy.wing = "W".repeat(3000);
    wordy.stage = Some("a stage whose name goes on and on ".repeat(200));
    wordy.gate.reasons[0].words = "because ".repeat(5000);
    wordy.twist.as_mut().unwrap().stations[3].name = "station ".repeat(60);
    wordy.points[2].point = record::Point::at(record::PointKind::Spot, &"@".repeat(500));
    wordy.doubts[0].words = "\u{7}\n\u{202e}\\u{7} 中文 ".repeat(30);
    wordy.instruments[0].number = Some("9".repeat(400));

    let mut many = bare("many", 300, 0.05, Some(0.2));
    many.gate.state = record::GateState::Hold;
    many.gate.reasons = (0..400)
        .map(|i| assess::view::Reason { words: format!("reason {i}"), ..hold().gate.reasons[3].clone() })
        .collect();

    for case in [empty, nonsense, wordy, many] {
        let pdf = made(&case);
        assert!(sheet::mark_of_pdf(&pdf).is_some());
        assert!(sheet::pdf_1b(&case, &stamp(Paper::Letter)).is_ok());
        let svg = sheet::profile_svg(&case, &PlotStyle::default()).unwrap();
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{}", &svg[..300]);
    }
}

#[test]
fn the_plot_is_the_one_looked_at() {
    let svg = sheet::profile_svg(&hold(), &PlotStyle::default()).unwrap();
    let kept = include_str!("profile-hold.svg");
    assert!(
        svg == kept,
        "the profile plot changed; look at it, and if it is right keep it as tests/profile-hold.svg:\n{svg}"
    );
}

#[test]
fn dark_and_small_plots_differ_in_inks_and_size_only() {
    let texts = |svg: &str| svg.matches("<text").count();
    let light = sheet::profile_svg(&clear(), &PlotStyle::default()).unwrap();
    let dark = sheet::profile_svg(&clear(), &PlotStyle { dark: true, ..PlotStyle::default() }).unwrap();
    assert_eq!(texts(&light), texts(&dark));
    assert!(light.contains("#ffffff") && !dark.contains("#ffffff"));
    let tiny = PlotStyle { width_pt: 60.0, height_pt: 40.0, ..PlotStyle::default() };
    assert!(sheet::profile_svg(&clear(), &tiny).unwrap().contains("width=\"60\" height=\"40\""));
}
