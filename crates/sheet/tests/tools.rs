//! Sheets through the eyes of other programs: poppler, qpdf, a PDF/A-1b validator. A tool that is not installed is
//! skipped, loudly. Debian: `poppler-utils qpdf`, and for the validator `libpdfbox2-java libactivation-java
//! libjaxb-api-java` with a Java runtime.
#![expect(clippy::unwrap_used, reason = "a test")]
#![expect(clippy::disallowed_methods, reason = "the tools read files")]

mod cases;

use assess::Assessment;
use cases::{clear, hold, left_and_right, sixty, stamp};
use quantity::shown::{exact, fixed, signed, step_decimals};
use serde_json::Value;
use sheet::Paper;
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::Command;

/// What the tool says, or nothing if it is not there.
fn said(tool: &str, arguments: &[&str]) -> Option<(bool, String)> {
    match Command::new(tool).args(arguments).output() {
        Ok(output) => {
            let text = String::from_utf8_lossy(&output.stdout).into_owned()
                + &String::from_utf8_lossy(&output.stderr);
            Some((output.status.success(), text))
        }
        Err(_) => {
            eprintln!("SKIPPED: {tool} is not installed, so this was not checked");
            None
        }
    }
}

fn file(name: &str, pdf: &[u8]) -> String {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, pdf).unwrap();
    path.to_str().unwrap().to_owned()
}

fn cases() -> [(&'static str, Assessment); 3] {
    [("clear", clear()), ("hold", hold()), ("sixty", sixty())]
}

fn sheet_file(name: &str, assessment: &Assessment, paper: Paper) -> String {
    file(&format!("{name}-{}.pdf", paper.word()), &sheet::pdf(assessment, &stamp(paper)).unwrap())
}

#[test]
fn qpdf_finds_no_fault() {
    let mut files: Vec<String> = Vec::new();
    for (name, case) in cases() {
        files.extend(
            [Paper::A4, Paper::Letter].map(|paper| sheet_file(&format!("qpdf-{name}"), &case, paper)),
        );
    }
    files.push(file(
        "qpdf-compare.pdf",
        &sheet::compare_pdf(&left_and_right(), &stamp(Paper::A4), None).unwrap(),
    ));
    for path in files {
        let Some((good, text)) = said("qpdf", &["--check", &path]) else { return };
        assert!(good && text.contains("No syntax or stream encoding errors found"), "{text}");
    }
}

#[test]
fn a_sheet_packed_again_by_another_program_still_tells_its_log() {
    let path = sheet_file("repack", &clear(), Paper::A4);
    let packed = format!("{path}.packed.pdf");
    let Some((good, text)) = said("qpdf", &["--object-streams=generate", &path, &packed]) else { return };
    assert!(good, "{text}");
    let fingerprint = sheet::mark_of_pdf(&std::fs::read(packed).unwrap()).map(|mark| mark.fingerprint);
    assert_eq!(fingerprint, Some(stamp(Paper::A4).fingerprint().unwrap()));
}

#[test]
fn every_font_is_embedded() {
    for (name, case) in cases() {
        let Some((good, text)) = said("pdffonts", &[&sheet_file(&format!("fonts-{name}"), &case, Paper::A4)])
        else {
            return;
        };
        assert!(good, "{text}");
        let fonts: Vec<&str> = text.lines().skip(2).filter(|line| line.contains("DejaVu")).collect();
        assert!(!fonts.is_empty(), "{text}");
        // Columns: emb, sub, uni.
        assert!(fonts.iter().all(|line| line.contains("yes yes yes")), "{text}");
    }
}

#[test]
fn pages_are_as_many_as_they_say_and_of_the_right_size() {
    for (name, case, least, most) in
        [("clear", clear(), 3, 7), ("hold", hold(), 4, 8), ("sixty", sixty(), 7, 13)]
    {
        let path = sheet_file(&format!("pages-{name}"), &case, Paper::Letter);
        let Some((_, text)) = said("pdfinfo", &[&path]) else { return };
        let pages: usize =
            text.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap().trim().parse().unwrap();
        assert!((least..=most).contains(&pages), "{name}: {pages}");
        assert!(text.contains("612 x 792 pts (letter)"), "{text}");
        assert!(text.contains("Tagged:          yes"), "{text}");
        let Some((_, text)) = said("pdftotext", &["-layout", &path, "-"]) else { return };
        for page in 1..=pages {
            assert!(text.contains(&format!("page {page} of {pages}")), "{name}: page {page}");
        }
        let fingerprint = record::hex::grouped(&stamp(Paper::A4).head, 32);
        assert_eq!(text.matches(&fingerprint).count(), pages, "{name}");
    }
}

/// Every number of a JSON value, rounded as the sheet says it rounds, must stand in the text.
fn numbers(row: &Value, spans: &BTreeSet<&str>, missing: &mut Vec<String>) {
    let u = |key: &str| row.get(key).and_then(Value::as_f64);
    for (key, value) in row.as_object().unwrap() {
        let Some(value) = value.as_f64() else { continue };
        let printed = match key.as_str() {
            "span_mm" => exact(value),
            "eta" => fixed(value, 4),
            "design_deg" => signed(value, step_decimals(value).max(2)),
            "measured_u_deg" | "u_deg" => sheet::half(value),
            "measured_deg" | "deviation_deg" | "residual_deg" => {
                signed(value, sheet::decimals(u("measured_u_deg")))
            }
            "twist_error_deg" | "change_deg" => signed(value, sheet::decimals(u("u_deg"))),
            // The ends of an interval follow from its middle and its width, which are printed.
            "lower95_deg" | "upper95_deg" => continue,
            "probability" => sheet::probability(value).trim_end_matches(" %").to_owned(),
            "p" => sheet::significance(value),
            other => format!("(no rule for {other})"),
        };
        let plus_minus = format!("±{printed}");
        if !spans.contains(printed.as_str()) && !spans.contains(plus_minus.as_str()) {
            missing.push(format!("{key} {printed}"));
        }
    }
}

#[test]
fn every_number_of_the_twist_json_can_be_found_in_the_text() {
    for (name, case) in cases() {
        let path = sheet_file(&format!("numbers-{name}"), &case, Paper::A4);
        let Some((_, text)) = said("pdftotext", &["-layout", &path, "-"]) else { return };
        let words: BTreeSet<&str> = text.split_whitespace().collect();
        let json = serde_json::to_value(&case).unwrap();
        let mut missing = Vec::new();
        let stations = json["twist"]["stations"].as_array().unwrap();
        let changes = json["changes"]["stations"].as_array().unwrap();
        for row in stations.iter().chain(changes) {
            numbers(row, &words, &mut missing);
            assert!(words.contains(row["name"].as_str().unwrap()));
        }
        assert!(missing.is_empty(), "{name}: {missing:?}");
        assert!(stations.len() >= 12);
    }
}

#[test]
fn nothing_an_inspector_asks_for_is_left_out() {
    let case = hold();
    let Some((_, text)) = said("pdftotext", &["-layout", &sheet_file("asked", &case, Paper::A4), "-"]) else {
        return;
    };
    // One space between words, so that a broken line does not hide a sentence.
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let short = |words: &str| words.split_whitespace().take(5).collect::<Vec<_>>().join(" ");
    let has = |words: &str| assert!(text.contains(words), "not on the sheet: {words}");
    has("HOLD");
    case.gate.reasons.iter().for_each(|r| has(&short(&r.words)));
    case.doubts.iter().for_each(|d| has(&d.words));
    case.withdrawn.iter().for_each(|w| has(&w.entry.to_string()));
    case.open_items.iter().for_each(|i| has(&i.item));
    case.points.iter().for_each(|p| has(&p.point.to_string()));
    case.moves.iter().for_each(|m| has(&m.text));
    case.signatures.iter().for_each(|s| has(&s.statement));
    case.instruments.iter().filter_map(|i| i.due.as_deref()).for_each(has);
    has("It does not approve the wing");
    has("no clearance");
    has("Дарья Ωμέγα");
    has("\\u{62f1}");
    has("Characters spelled out");
    assert!(!text.contains('\u{7}') && !text.contains('\u{fffd}'));
}

#[test]
fn an_independent_validator_takes_the_1b_sheet() {
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
    let files = cases().map(|(name, case)| {
        file(&format!("{name}-1b.pdf"), &sheet::pdf_1b(&case, &stamp(Paper::A4)).unwrap())
    });
    let class_path = paths.join(":");
    let mut arguments = vec!["-cp", class_path.as_str(), source];
    arguments.extend(files.iter().map(String::as_str));
    let Some((good, text)) = said("java", &arguments) else { return };
    assert!(good, "{text}");
    assert_eq!(text.matches(" is PDF/A-1b").count(), 3, "{text}");
}
