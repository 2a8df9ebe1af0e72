//! Tests of `wrap`.

use super::*;

#[test]
fn every_line_fits_and_no_word_is_lost() {
    let set = Typesetter::new().unwrap();
    let text =
        "the reading at S4 stands out from its neighbours and should be taken again before the gate is asked";
    for width in [60.0, 90.0, 200.0, 5000.0] {
        let lines = wrap(&set, Face::Medium, 8.0, text, width);
        assert!(lines.iter().all(|l| set.width(Face::Medium, 8.0, l) <= width + 0.5), "{lines:?}");
        assert_eq!(lines.join(" "), text);
    }
}

#[test]
fn a_number_keeps_its_half_width_and_its_unit() {
    let set = Typesetter::new().unwrap();
    let text =
        "tip rear was −11.88 mm; BR3 12.70 ± 0.27 N·m, 97.2 % (12.1 in-lb) and 5 more of the same kind";
    for width in 60..300 {
        let lines = wrap(&set, Face::Medium, 8.5, text, f64::from(width));
        assert_eq!(lines.join(" "), text);
        for whole in ["−11.88 mm", "12.70 ± 0.27 N·m", "97.2 %", "12.1 in-lb"] {
            let fits = set.width(Face::Medium, 8.5, &format!("{whole},")) <= f64::from(width) - 4.0;
            assert!(!fits || lines.iter().any(|l| l.contains(whole)), "at {width}: {lines:?}");
        }
    }
}

#[test]
fn a_word_wider_than_the_line_is_cut() {
    let set = Typesetter::new().unwrap();
    let word = "W".repeat(300);
    let lines = wrap(&set, Face::Medium, 8.0, &format!("a {word} b"), 100.0);
    assert!(lines.iter().all(|l| set.width(Face::Medium, 8.0, l) <= 100.5));
    assert_eq!(lines.concat().matches('W').count(), 300);
    assert_eq!(wrap(&set, Face::Medium, 8.0, "", 100.0), [""]);
}
