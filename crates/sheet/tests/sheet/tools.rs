//! Sheets at their extremes, read by other programs: long names, few and many stations, many causes, both papers.

use crate::cases::{clear, hold, left_and_right, stamp, wing};
use crate::reader::{Pdf, collisions, colours, said, sizes, told};
use assess::Assessment;
use sheet::{Form, Paper, Stamp};
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

fn file(name: &str, bytes: &[u8]) -> Pdf {
    Pdf::write(&Path::new(env!("CARGO_TARGET_TMPDIR")).join(name), bytes)
}

/// The extremes: the longest names a plan allows, 3, 12 and 60 stations, no, one and forty causes.
fn extremes() -> Vec<(&'static str, Assessment)> {
    let mut signed = hold();
    for (who, capacity) in [("Tam", "builder"), ("Tam", "inspector")] {
        let (mut all, sign) = (Vec::new(), sign(who, capacity));
        all.append(&mut signed.signatures);
        all.push(sign);
        signed.signatures = all;
    }
    vec![
        ("clear", clear()),
        ("hold", hold()),
        ("signed", signed),
        ("three", wing(3, |i| format!("S{}", i + 1), 0)),
        (
            "long",
            wing(
                12,
                |i| {
                    format!(
                        "a station with a name that goes on and on to the eightieth character that is {i:>3}"
                    )
                },
                1,
            ),
        ),
        ("sixty", wing(60, |i| format!("S{}", i + 1), 40)),
        ("words", wing(24, |i| format!("Łódź Жук rib {i}"), 3)),
    ]
}

fn sign(who: &str, capacity: &str) -> assess::view::SignView {
    assess::view::SignView {
        entry: 214,
        at: "2031-04-05T16:07:08Z".to_owned(),
        when: "2031-04-05 18:07 +02:00".to_owned(),
        who: who.to_owned(),
        by: who.to_owned(),
        capacity: capacity.to_owned(),
        statement: "measured by me as written down here, every point of it, with the instruments named"
            .to_owned(),
        gate: record::GateState::Hold,
        rule_0_1: false,
        entries: 213,
        head: "5c1d".repeat(16),
        key: Some("9f".repeat(32)),
        seal: record::signoff::Seal::Fits,
        copy_of: None,
        entries_uncovered: 0,
        entries_since: 3,
    }
}

/// A sheet on disk, with its origin.
struct Made {
    name: String,
    case: Assessment,
    paper: Paper,
    form: Form,
    pdf: Pdf,
}

/// Every extreme on both papers in both forms, made once.
fn every_sheet(mut look: impl FnMut(&str, &Assessment, Paper, &Form, &Pdf)) {
    static MADE: OnceLock<Vec<Made>> = OnceLock::new();
    let made = MADE.get_or_init(|| {
        let mut made = Vec::new();
        for (name, case) in extremes() {
            for (paper, form) in
                [(Paper::A4, Form::Full), (Paper::Letter, Form::Short), (Paper::Letter, Form::Full)]
            {
                let stamp = Stamp { form: form.clone(), ..stamp(paper) };
                let name = format!("{name}-{}-{}.pdf", paper.word(), form.word().replace(' ', "-"));
                let pdf = file(&name, &sheet::pdf(&case, &stamp).unwrap());
                made.push(Made { name, case: case.clone(), paper, form, pdf });
            }
        }
        made
    });
    made.iter().for_each(|m| look(&m.name, &m.case, m.paper, &m.form, &m.pdf));
}

/// Paper cannot be tapped: names of ordinary length are not cut off, and the limits of the twist have their numbers.
#[test]
fn nothing_is_cut_off_and_limits_have_their_numbers() {
    every_sheet(|name, case, _, _, pdf| {
        if name.starts_with("long") || name.starts_with("words") {
            return;
        }
        let Some(pages) = pdf.pages() else { return };
        for page in &pages {
            // The forty gaps are long names, too.
            let cut = |l: &&str| l.contains('\u{2026}') && !l.contains("gap 1 of the lower skin to");
            let cut: Vec<&str> = page.lines().filter(cut).collect();
            assert!(cut.is_empty(), "{name}: {cut:?}");
        }
        let plot = pages.iter().find(|p| p.contains("Twist error of each station, degrees"));
        if let (Some(twist), Some(plot)) = (&case.twist, plot) {
            for limit in [twist.lower_deg, twist.upper_deg].into_iter().flatten() {
                let first = |l: &str| {
                    let number = l.split_whitespace().next()?.replace('\u{2212}', "-");
                    number.parse::<f64>().ok()
                };
                assert!(plot.lines().any(|l| first(l) == Some(limit)), "{name}: {limit}");
            }
        }
    });
}

#[test]
fn text_is_large_enough_inside_the_margins_and_never_overlaps() {
    every_sheet(|name, _, paper, _, pdf| {
        let (Some(words), Some(unpacked)) = (pdf.words(), pdf.unpacked()) else { return };
        let sheet::Size { width, height } = paper.size_pt();
        let mm = 72.0 / 25.4;
        let least = sizes(&unpacked).into_iter().fold(f64::INFINITY, f64::min);
        assert!(least >= 7.499, "{name}: text of {least} pt");
        for w in &words {
            let inside = w.left > 20.0 * mm - 1.0
                && w.right < width - 12.0 * mm + 1.0
                && w.bottom < height - 12.0 * mm + 4.0;
            assert!(inside && w.top > 12.0 * mm - 6.0, "{name}: {w:?} is outside the margins");
        }
        let over = collisions(&words);
        assert!(over.is_empty(), "{name}: {over:#?}");
    });
}

#[test]
fn ink_is_black_or_white_without_transparency() {
    every_sheet(|name, _, _, _, pdf| {
        let Some(unpacked) = pdf.unpacked() else { return };
        let bad = colours(&unpacked);
        assert!(bad.is_empty(), "{name}: {bad:?}");
    });
}

#[test]
fn the_board_and_the_tally_add_up_to_the_obligations() {
    every_sheet(|name, case, _, _, pdf| {
        let (Some(unpacked), Some(text)) = (pdf.unpacked(), pdf.text()) else { return };
        let told = told(&unpacked);
        for o in &case.gate.obligations {
            let said = format!("{} {}: {}", o.kind.word(), o.about, o.state.obligation_word());
            assert_eq!(told.iter().filter(|t| **t == said).count(), 1, "{name}: {said}");
        }
        let first = text.split('\u{c}').next().unwrap();
        for state in assess::view::Verdict::WORST_FIRST {
            let counted = format!("{} {}", case.gate.count(state), state.obligation_word());
            assert!(first.lines().any(|l| l.contains(&counted)), "{name}: {counted}");
        }
    });
}

#[test]
fn every_cause_is_on_the_sheet_or_counted() {
    every_sheet(|name, case, _, _, pdf| {
        let Some(text) = pdf.text() else { return };
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for r in &case.gate.reasons {
            let what: String = r.what.split_whitespace().take(3).collect::<Vec<_>>().join(" ");
            assert!(text.contains(&what), "{name}: {what}");
        }
        let first = text.split("page 1 of").next().unwrap();
        if case.gate.reasons.len() >= 40 {
            assert!(first.contains("more causes ("), "{name}");
        }
    });
}

#[test]
fn pages_are_numbered_full_and_of_the_right_size() {
    every_sheet(|name, _, paper, form, pdf| {
        let (Some(pages), Some(words)) = (pdf.pages(), pdf.words()) else { return };
        let (n, mm) = (pages.len(), 72.0 / 25.4);
        for (i, page) in pages.iter().enumerate() {
            assert!(page.contains(&format!("page {} of {n}", i + 1)), "{name}");
            assert!(page.contains(&record::hex::grouped(&stamp(paper).head, 32)), "{name}, page {}", i + 1);
            assert!(page.contains(form.word()), "{name}");
        }
        let foot = match paper {
            Paper::A4 => 276.2 * mm,
            Paper::Letter => 258.6 * mm,
        };
        for page in 1..=n {
            let bottom = words
                .iter()
                .filter(|w| w.page == page && w.bottom < foot)
                .map(|w| w.bottom)
                .fold(0.0, f64::max);
            let strip = (foot - bottom) / mm;
            assert!(page == n || strip < 17.5, "{name}: {strip:.1} mm empty at the foot of page {page}");
            assert!(
                bottom > 12.0 * mm + (foot - 12.0 * mm) * 0.48,
                "{name}: page {page} of {n} is under half full"
            );
        }
    });
}

#[test]
fn qpdf_finds_no_fault_and_every_font_is_embedded() {
    let compared =
        file("compare.pdf", &sheet::compare_pdf(&left_and_right(), &stamp(Paper::A4), None).unwrap());
    let check = |pdf: &Pdf| {
        let path = pdf.0.to_str().unwrap();
        if let Some((good, out, warned)) = said("qpdf", &["--check", path]) {
            let out = String::from_utf8_lossy(&out).into_owned();
            assert!(good && out.contains("No syntax or stream encoding errors found"), "{out}{warned}");
        }
        if let Some((good, out, warned)) = said("pdffonts", &[path]) {
            let out = String::from_utf8_lossy(&out).into_owned();
            assert!(good && warned.is_empty(), "{warned}");
            let fonts: Vec<&str> = out.lines().skip(2).collect();
            assert!(!fonts.is_empty() && fonts.iter().all(|l| l.contains("yes yes yes")), "{out}");
        }
        if let Some((_, out, warned)) = said("pdfinfo", &[path]) {
            let out = String::from_utf8_lossy(&out).into_owned();
            assert!(warned.is_empty() && out.contains("Tagged:          yes"), "{out}{warned}");
        }
    };
    check(&compared);
    every_sheet(|_, _, _, _, pdf| check(pdf));
}

#[test]
fn a_sheet_repacked_by_another_program_still_names_its_log() {
    let pdf = file("repack.pdf", &sheet::pdf(&clear(), &stamp(Paper::A4)).unwrap());
    let (path, packed) = (pdf.0.to_str().unwrap(), pdf.0.with_extension("packed.pdf"));
    let arguments = ["--object-streams=generate", path, packed.to_str().unwrap()];
    let Some((good, _, text)) = said("qpdf", &arguments) else { return };
    assert!(good, "{text}");
    let fingerprint = sheet::mark_of_pdf(&std::fs::read(packed).unwrap()).map(|mark| mark.fingerprint);
    assert_eq!(fingerprint, Some(stamp(Paper::A4).fingerprint().unwrap()));
}

/// The seven marks at 7 pt, in black and white: every pair differs, at 300 dots per inch and by fax. A component's
/// sheet has a row with its mark for each obligation.
#[test]
fn the_seven_marks_differ_in_print_and_by_fax() {
    let mut case = clear();
    let tube = case.gate.obligations.iter().find(|o| o.about == "tube").unwrap().clone();
    let states = assess::view::Verdict::WORST_FIRST;
    let row = |(i, state)| assess::view::Obligation { state, what: format!("mark{i}"), ..tube.clone() };
    case.gate.obligations.retain(|o| o.about != "tube");
    // Each twice: two of one kind differ only by the grid.
    case.gate.obligations.extend(states.into_iter().chain(states).enumerate().map(row));
    let stamp = Stamp { form: Form::Component("tube".to_owned()), ..stamp(Paper::A4) };
    let pdf = file("marks.pdf", &sheet::pdf(&case, &stamp).unwrap());
    let Some(words) = pdf.words() else { return };
    for (across, down, least) in [(300, 300, 60), (204, 98, 12)] {
        let Some(pages) = (1..=2).map(|page| pdf.bits(page, across, down)).collect::<Option<Vec<_>>>() else {
            return;
        };
        let mark = |i: usize| -> Vec<bool> {
            let word = words.iter().find(|w| w.text == format!("mark{i}")).unwrap();
            let x = |pt: f64| (pt * across as f64 / 72.0).round() as usize;
            let y = |pt: f64| (pt * down as f64 / 72.0).round() as usize;
            let (left, middle) = (x(20.0 * 72.0 / 25.4) - 1, (word.top + word.bottom) / 2.0);
            let (top, wide, tall) = (y(middle - 4.6), x(8.6), y(9.2));
            (top..top + tall)
                .flat_map(|j| (left..left + wide).map(move |i| (i, j)))
                .map(|(i, j)| pages[word.page - 1].black(i, j))
                .collect()
        };
        let marks: Vec<Vec<bool>> = (0..2 * states.len()).map(mark).collect();
        for (i, a) in marks.iter().enumerate() {
            assert!(a.iter().any(|b| *b), "{} left no ink", states[i % 7].obligation_word());
            for (j, b) in marks.iter().enumerate().skip(i + 1).filter(|(j, _)| j % 7 != i % 7) {
                let differ = a.iter().zip(b).filter(|(a, b)| a != b).count();
                let pair = (states[i % 7].obligation_word(), states[j % 7].obligation_word());
                assert!(differ >= least, "{pair:?} differ in {differ} dots of {across} x {down} an inch");
            }
        }
    }
}

/// PDFBox's preflight knows PDF/A-1b only, so it is given the sheet in that form.
#[test]
fn a_validator_accepts_it_as_pdf_a() {
    let jars = [
        "preflight",
        "pdfbox2",
        "fontbox2",
        "xmpbox",
        "commons-logging",
        "commons-io",
        "javax.activation",
        "jaxb-api",
    ];
    let paths: Vec<String> = jars.iter().map(|jar| format!("/usr/share/java/{jar}.jar")).collect();
    if let Some(lacking) = paths.iter().find(|path| !PathBuf::from(path).exists()) {
        eprintln!("SKIPPED: {lacking} is not installed, so PDF/A was not checked");
        return;
    }
    let source = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/tools/Preflight.java");
    let files: Vec<Pdf> = [("clear", clear()), ("hold", hold())]
        .map(|(name, case)| {
            file(&format!("{name}-1b.pdf"), &sheet::pdf_1b(&case, &stamp(Paper::A4)).unwrap())
        })
        .into();
    let class_path = paths.join(":");
    let mut arguments = vec!["-cp", class_path.as_str(), source];
    arguments.extend(files.iter().map(|f| f.0.to_str().unwrap()));
    let Some((good, out, text)) = said("java", &arguments) else { return };
    let out = String::from_utf8_lossy(&out).into_owned();
    assert!(good, "{text}");
    assert_eq!(out.matches(" is PDF/A-1b").count(), 2, "{out}");
}
