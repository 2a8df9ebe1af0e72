//! What must hold for every sheet.

use crate::cases::{clear, hold, left_and_right, stamp, wing};
use assess::Assessment;
use assess::view::{Comparison, Finding};
use sheet::{Fingerprint, Form, Paper, PlotStyle, SheetError, Stamp};

fn made(assessment: &Assessment) -> Vec<u8> {
    sheet::pdf(assessment, &stamp(Paper::A4)).unwrap()
}

fn forms() -> [Form; 3] {
    [Form::Full, Form::Short, Form::Component("tube".to_owned())]
}

#[test]
fn the_same_log_gives_the_same_bytes() {
    for case in [clear(), hold()] {
        for form in forms() {
            let stamp = Stamp { form, ..stamp(Paper::A4) };
            let pdf = sheet::pdf(&case, &stamp).unwrap();
            assert_eq!(pdf, sheet::pdf(&case.clone(), &stamp).unwrap());
        }
        let style = PlotStyle::default();
        assert_eq!(sheet::profile_svg(&case, &style).unwrap(), sheet::profile_svg(&case, &style).unwrap());
    }
    let compared = || sheet::compare_pdf(&left_and_right(), &stamp(Paper::A4), None).unwrap();
    assert_eq!(compared(), compared());
}

#[test]
fn a_sheet_can_be_made_again_from_its_own_mark() {
    for paper in [Paper::A4, Paper::Letter] {
        for form in forms() {
            let stamp = Stamp { form, ..stamp(paper) };
            let first = sheet::pdf(&clear(), &stamp).unwrap();
            let mark = sheet::mark_of_pdf(&first).unwrap();
            assert_eq!(mark.fingerprint, stamp.fingerprint().unwrap());
            let again = Stamp {
                plan_sha256: mark.fingerprint.plan_sha256,
                head: mark.fingerprint.head,
                entries: mark.fingerprint.entries,
                made_at: mark.made_at,
                paper: mark.paper,
                form: mark.form,
                ..stamp
            };
            assert!(first == sheet::pdf(&clear(), &again).unwrap());
        }
    }
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
fn an_unknown_component_is_refused_with_the_known_ones() {
    let stamp = Stamp { form: Form::Component("tubes".to_owned()), ..stamp(Paper::A4) };
    let SheetError::NoComponent { known, .. } = sheet::pdf(&clear(), &stamp).unwrap_err() else {
        panic!("another error");
    };
    assert!(
        ["tube", "root-post", "S4", "bay", "bolt"].iter().all(|n| known.iter().any(|k| k == n)),
        "{known:?}"
    );
}

#[test]
fn a_comparison_of_two_logs_names_both_and_is_not_a_sheet_of_either() {
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
    // With nothing to compare, each height of the picture still has a label of its own.
    let none = Comparison { stations: Vec::new(), ..left_and_right() };
    let svg = sheet::compare_svg(&none, &PlotStyle::default()).unwrap();
    let mut labels: Vec<&str> = svg.lines().filter(|line| line.contains("text-anchor=\"end\"")).collect();
    labels.iter_mut().for_each(|line| *line = line.split_once('>').unwrap().1);
    let count = labels.len();
    labels.dedup();
    assert!(count > 2 && labels.len() == count, "{labels:?}");
}

#[test]
fn other_files_have_no_mark() {
    assert_eq!(sheet::mark_of_pdf(b"%PDF-1.7\n%%EOF"), None);
    let pdf = made(&clear());
    assert_eq!(sheet::mark_of_pdf(&pdf[..200]), None);
}

#[test]
fn an_invalid_stamp_is_refused() {
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
    for at in ["", "yesterday", "2031-04-05 16:07:08Z", "2031-13-05T16:07:08Z", "2031-04-05T16:07:08+01:00"] {
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
    let mut empty = clear();
    empty.twist = None;
    empty.points.clear();
    empty.stages.clear();
    empty.gate.obligations.clear();
    empty.stage_verdict = None;

    let mut nonsense = hold();
    let twist = nonsense.twist.as_mut().unwrap();
    for found in [&mut twist.setting, &mut twist.washout_error] {
        let Finding::Judged(judged) = found else { continue };
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
    wordy.gate.reasons[0].what = "because ".repeat(5000);
    wordy.twist.as_mut().unwrap().stations[3].name = "station ".repeat(60);
    wordy.points[2].point = record::Point::at(record::PointKind::Spot, &"@".repeat(500));
    wordy.open_items[0].item = "\u{7}\n\u{202e}\\u{7} 中文 ".repeat(30);
    wordy.instruments[0].number = Some("9".repeat(400));

    let mut many = wing(60, |i| format!("S{i}"), 40);
    many.gate.reasons = (0..400)
        .map(|i| assess::view::Reason { what: format!("reason {i}"), ..many.gate.reasons[0].clone() })
        .collect();

    for case in [empty, nonsense, wordy, many] {
        for form in [Form::Full, Form::Short] {
            let pdf = sheet::pdf(&case, &Stamp { form, ..stamp(Paper::A4) }).unwrap();
            assert!(sheet::mark_of_pdf(&pdf).is_some());
        }
        assert!(sheet::pdf_1b(&case, &stamp(Paper::Letter)).is_ok());
        let svg = sheet::profile_svg(&case, &PlotStyle::default()).unwrap();
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{}", &svg[..300]);
    }
}

/// The plots are in the units of the plan, as the tables beside them.
#[test]
fn plots_are_in_the_units_of_the_plan() {
    let degrees = clear();
    let mut minutes = clear();
    minutes.units = minutes.units.with(quantity::Unit::ArcMinute);
    let svg = |a: &Assessment| sheet::profile_svg(a, &PlotStyle::default()).unwrap();
    let (degrees, minutes) = (svg(&degrees), svg(&minutes));
    let numbers =
        |svg: &str, with: char| svg.split(['<', '>']).filter(|t| t.contains(with) && t.len() < 9).count();
    assert!(numbers(&degrees, '.') > 2 && numbers(&degrees, '\'') == 0, "{degrees}");
    assert!(numbers(&minutes, '\'') > 2, "{minutes}");
    // The same picture: only what is written differs.
    let lines = |svg: &str| svg.matches("<circle").count();
    assert_eq!(lines(&degrees), lines(&minutes));
}

#[test]
fn dark_and_small_plots_differ_only_in_inks_and_size() {
    let texts = |svg: &str| svg.matches("<text").count();
    let light = sheet::profile_svg(&clear(), &PlotStyle::default()).unwrap();
    let dark = sheet::profile_svg(&clear(), &PlotStyle { dark: true, ..PlotStyle::default() }).unwrap();
    assert_eq!(texts(&light), texts(&dark));
    assert!(light.contains("#ffffff\"/>") && dark.contains("#000000\"/>"));
    let tiny = PlotStyle { width_pt: 60.0, height_pt: 40.0, ..PlotStyle::default() };
    assert!(sheet::profile_svg(&clear(), &tiny).unwrap().contains("width=\"60\" height=\"40\""));
}
