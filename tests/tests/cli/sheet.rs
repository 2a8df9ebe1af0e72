//! The inspection sheet of the shipped jobs, made by the real program and read by other programs: what an inspector
//! must find on it.

use crate::program::{Bench, CASES, SMALL_PLAN};
use crate::reader;
use crate::reader::{Pdf, collisions, colours, sizes, told};
use serde_json::Value;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Words that are never said about a wing, and figures that no measurement gives.
const NEVER: [&str; 7] = ["approved", "airworthy", " OK", " valid", "± 0.000", "±0.000", "`"];

/// A sheet in a file of its own.
pub fn sheet(bench: &Bench, log: &str, more: &str) -> Pdf {
    static MADE: AtomicUsize = AtomicUsize::new(0);
    let name = format!("s{}.pdf", MADE.fetch_add(1, Ordering::Relaxed));
    bench.line(&format!("sheet {log} -o {name} {more}")).expect(0);
    Pdf(bench.path(&name))
}

pub fn check(bench: &Bench, log: &str) -> Value {
    bench.line(&format!("check {log} --json")).json()
}

/// Text in which the sheet's glyphs are as in JSON, one space between words.
pub fn plain(text: &str) -> String {
    let text = text.replace('\u{2212}', "-").replace("± ", "±").replace("> ", ">");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_demo_has_five_pages_two_in_short_and_one_for_a_component() {
    let bench = &Bench::demo("two-post");
    for paper in ["a4", "letter"] {
        for (form, pages) in [("", 5), ("--short", 2), ("--for \"torque tube\"", 1)] {
            let [pdf, again] =
                [(); 2].map(|()| sheet(bench, "demo.jigtrue", &format!("--paper {paper} {form}")));
            let bytes = std::fs::read(&pdf.0).unwrap();
            assert!(bytes.len() < 200_000, "{paper} {form}: {} bytes", bytes.len());
            assert!(bytes == std::fs::read(&again.0).unwrap(), "another run, other bytes");
            bench.run(&["verify", "demo.jigtrue", "--sheet", pdf.0.to_str().unwrap()]).expect(0);
            let Some(found) = again.pages() else { continue };
            assert_eq!(found.len(), pages, "{paper} {form}");
        }
    }
}

#[test]
fn page_one_answers_in_its_first_lines_and_in_order() {
    for case in CASES {
        let bench = &Bench::demo(case);
        let a = check(bench, "demo.jigtrue");
        let gate = &a["gate"];
        let all = gate["obligations"].as_array().unwrap();
        let met = all.iter().filter(|o| o["state"] == "met").count();
        let clear = gate["state"] == "clear";
        for form in ["", "--short"] {
            let Some(pages) = sheet(bench, "demo.jigtrue", form).pages() else { return };
            let first = &pages[0];
            let lines: Vec<&str> = first.lines().collect();
            let top = lines[..9].join("\n");
            let sentence = if clear {
                format!("Nothing against it: {met} of {met} met.")
            } else {
                format!("No: {} of {} not met.", all.len() - met, all.len())
            };
            for said in [a["wing"].as_str().unwrap(), if clear { "CLEAR" } else { "HOLD" }, &sentence] {
                assert!(top.contains(said), "{case} {form}: {said} is not in\n{top}");
            }
            let head = if clear { "Met, but look at these first" } else { "Not met, worst first" };
            let order = [
                &sentence,
                "What is not met?",
                "Is the log untouched?",
                "Who signed?",
                &format!("{met} met"),
                head,
                "Every obligation, one mark each",
                "Stages",
                "Signed in the log",
                "does not approve",
            ];
            let mut from = 0;
            for said in order {
                let at = first[from..].find(said).unwrap_or_else(|| panic!("{case} {form}: {said} in order"));
                from += at;
            }
            // The board's marks, read from the tags, are the obligations of the JSON.
            let Some(unpacked) = sheet(bench, "demo.jigtrue", form).unpacked() else { return };
            let told = told(&unpacked);
            for o in all {
                let state = o["state"].as_str().unwrap().replace("cannot_judge", "cannot be judged");
                let said =
                    format!("{} {}: {state}", o["kind"].as_str().unwrap(), o["about"].as_str().unwrap());
                assert_eq!(told.iter().filter(|t| **t == said).count(), 1, "{case} {form}: {said}");
            }
            let held: u64 =
                gate["reasons"].as_array().unwrap().iter().map(|r| r["obligations"].as_u64().unwrap()).sum();
            assert_eq!(held as usize, all.len() - met);
        }
    }
}

#[test]
fn the_sheet_says_what_check_says() {
    for case in CASES {
        let bench = &Bench::demo(case);
        let a = check(bench, "demo.jigtrue");
        let Some(text) = sheet(bench, "demo.jigtrue", "").text() else { return };
        let text = plain(&text);
        let has = |said: &str| assert!(text.contains(&plain(said)), "{case}: {said} is not on the sheet");
        for o in a["gate"]["obligations"].as_array().unwrap() {
            if o["kind"] == "station"
                || o["kind"] == "level"
                || o["kind"] == "straightness"
                || o["kind"] == "rigging"
            {
                o["found"].as_str().map(plain).iter().for_each(|f| has(f));
            }
        }
        for r in a["gate"]["reasons"].as_array().unwrap() {
            let what: Vec<&str> = r["what"].as_str().unwrap().split_whitespace().take(3).collect();
            has(&what.join(" "));
        }
        for m in a["moves"].as_array().unwrap() {
            has(m["text"].as_str().unwrap());
        }
        for w in a["withdrawn"].as_array().unwrap() {
            has(&format!("#{}", w["entry"]));
        }
        for s in a["stages"].as_array().unwrap() {
            has(s["name"].as_str().unwrap());
        }
        for i in a["instruments"].as_array().unwrap().iter().filter(|i| i["readings"] != 0) {
            has(i["name"].as_str().unwrap());
        }
        for word in NEVER {
            assert!(!text.contains(&plain(word)), "{case}: the sheet says {word}");
        }
    }
}

#[test]
fn every_page_is_sound_for_other_readers() {
    let mm = 72.0 / 25.4;
    for case in CASES {
        let bench = &Bench::demo(case);
        for paper in ["a4", "letter"] {
            for form in ["", "--short"] {
                let pdf = sheet(bench, "demo.jigtrue", &format!("--paper {paper} {form}"));
                let (Some(words), Some(unpacked), Some(pages)) = (pdf.words(), pdf.unpacked(), pdf.pages())
                else {
                    return;
                };
                let of = format!("{case} {paper} {form}");
                let over = collisions(&words);
                assert!(over.is_empty(), "{of}: {over:#?}");
                let bad = colours(&unpacked);
                assert!(bad.is_empty(), "{of}: {bad:?}");
                let least = sizes(&unpacked).into_iter().fold(f64::INFINITY, f64::min);
                assert!(least >= 7.499, "{of}: {least} pt");
                let foot = if paper == "a4" { 276.2 } else { 258.6 } * mm;
                for page in 1..=pages.len() {
                    let here = words.iter().filter(|w| w.page == page && w.bottom < foot);
                    let bottom = here.map(|w| w.bottom).fold(0.0, f64::max);
                    let strip = (foot - bottom) / mm;
                    assert!(
                        page == pages.len() || strip < 17.5,
                        "{of}: {strip:.1} mm are empty on page {page}"
                    );
                    assert!(bottom > 0.5 * foot, "{of}: page {page} is under half full");
                }
            }
        }
    }
}

#[test]
fn hold_and_clear_differ_at_arms_length_and_by_fax() {
    let share = |case: &str| -> Option<f64> {
        let bench = &Bench::demo(case);
        let pdf = sheet(bench, "demo.jigtrue", "");
        let words = pdf.words()?;
        let top = words.iter().find(|w| w.page == 1 && w.text == "May").unwrap().top - 6.0;
        let bottom = words.iter().find(|w| w.page == 1 && w.text == "untouched?").unwrap().top + 40.0;
        Some(pdf.bits(1, 204, 98)?.share((595.28, 841.89), [56.7, top, 561.2, bottom]))
    };
    let (Some(hold), Some(clear)) = (share("hold"), share("two-post")) else { return };
    assert!(hold > 0.40, "the share of black where it holds: {hold:.2}");
    assert!(clear < 0.20, "the share of black where it is clear: {clear:.2}");
}

#[test]
fn a_fax_of_page_one_can_be_read() {
    if reader::said("tesseract", &["--version"]).is_none() {
        return;
    }
    for (case, word) in [("hold", "HOLD"), ("two-post", "CLEAR")] {
        let bench = &Bench::demo(case);
        let gate = check(bench, "demo.jigtrue")["gate"].clone();
        let all = gate["obligations"].as_array().unwrap();
        let count = |state: &str| all.iter().filter(|o| o["state"] == state).count();
        let pdf = sheet(bench, "demo.jigtrue", "");
        let (fax, wide) = (bench.path("fax"), bench.path("wide.png"));
        let (fax, wide) = (fax.to_str().unwrap(), wide.to_str().unwrap());
        // The upper third, where the answer is; it has half as many dots down as across.
        let upper =
            ["-mono", "-rx", "204", "-ry", "98", "-l", "1", "-x", "0", "-y", "0", "-W", "1700", "-H", "320"];
        let file = ["-singlefile", pdf.0.to_str().unwrap(), fax];
        reader::said("pdftoppm", &upper.into_iter().chain(file).collect::<Vec<_>>());
        if reader::said("convert", &[&format!("{fax}.pbm"), "-resize", "100%x208%", wide]).is_none() {
            return;
        }
        let Some((_, out, _)) = reader::said("tesseract", &[wide, "-", "--psm", "11"]) else { return };
        let text = plain(&String::from_utf8_lossy(&out));
        let met = count("met");
        let sentence = if word == "HOLD" {
            format!("No: {} of {} not m", all.len() - met, all.len())
        } else {
            format!("Nothing against it: {met} of {met} met.")
        };
        for said in [word.to_owned(), sentence, format!("{} outside", count("outside"))] {
            assert!(text.contains(&said), "{case}: {said} is not in\n{text}");
        }
    }
}

/// The line to type is printed whole; copied and run it answers yes, and with one digit changed it does not.
#[test]
fn the_line_to_type_is_whole_in_every_form() {
    let bench = &Bench::demo("two-post");
    for form in ["", "--short", "--for \"torque tube\""] {
        let Some(text) = sheet(bench, "demo.jigtrue", form).text() else { return };
        let line = text.lines().find_map(|l| l.strip_prefix("jigtrue verify LOG --entry")).unwrap();
        let line = format!("verify demo.jigtrue --entry{line}");
        bench.line(&line).expect(0);
        let digit = line.chars().last().unwrap();
        let wrong = format!("{}{}", &line[..line.len() - 1], if digit == '0' { '1' } else { '0' });
        bench.line(&wrong).expect(1);
    }
}

/// A log with something of everything that page 1 must name, whatever its gate says.
#[test]
fn page_one_names_what_could_change_the_answer() {
    let bench = Bench::begun();
    bench.line("take wing.jigtrue incidence@S1 2.05").expect(0);
    let looser = SMALL_PLAN.replacen("0.3", "0.4", 1);
    assert_ne!(looser, SMALL_PLAN);
    bench.write("looser.toml", looser);
    bench.line("replan wing.jigtrue looser.toml --reason \"issue C\"").expect(0);
    bench.line("open-item wing.jigtrue \"name plate loose\"").expect(0);
    bench
        .line("open-item wing.jigtrue \"name plate loose\" --carry --reason \"no part of the wing\"")
        .expect(0);
    bench.line("sign wing.jigtrue --who tam --capacity builder --statement built --as-seen").expect(0);
    bench.line("sign wing.jigtrue --who tam --capacity inspector --statement seen --as-seen").expect(0);
    let Some(pages) = sheet(&bench, "wing.jigtrue", "").pages() else { return };
    let first = plain(&pages[0]);
    for said in [
        "A limit was made looser",
        "Carried past the gate: name plate loose",
        "tam, twice",
        "one person",
        "tam signed as builder and as inspector",
    ] {
        assert!(first.contains(said), "{said} is not on page 1:\n{first}");
    }
    // Somebody changes a byte of an entry: the sheet says so first.
    let mut journal = bench.read("wing.jigtrue");
    let at = journal.windows(10).position(|w| w == b"name plate").unwrap();
    journal[at] = b'N';
    bench.write("wing.jigtrue", journal);
    let Some(pages) = sheet(&bench, "wing.jigtrue", "").pages() else { return };
    let first = plain(&pages[0]);
    assert!(first.contains("HOLD") && first.contains("Do not sign: log broken at"), "{first}");
    assert!(first.contains("No: ") && first.contains("entries fit"), "{first}");
}

/// A check that failed, and a stage that was skipped with a reason.
#[test]
fn page_one_names_a_failed_check_and_a_skipped_stage() {
    let bench = Bench::with_plan(SMALL_PLAN);
    bench.line("instrument check wing.jigtrue \"beam level\" 0.50 0.30").expect(10);
    bench.line("stage wing.jigtrue \"ready to skin\" --anyway \"ribs were on when it came\"").expect(0);
    bench.line("take wing.jigtrue incidence@S1 2.05").expect(0);
    let Some(pages) = sheet(&bench, "wing.jigtrue", "").pages() else { return };
    let first = plain(&pages[0]);
    for said in [
        "An instrument failed its check: beam level",
        "A stage was skipped: ready to skin begun over ribs on: ribs were on when it came",
        "1 stage skipped on purpose",
        "skipped: ribs were on when it came",
    ] {
        assert!(first.contains(said), "{said} is not on page 1:\n{first}");
    }
    let trust = plain(&pages.concat());
    assert!(trust.contains("FAILED"), "{trust}");
}
