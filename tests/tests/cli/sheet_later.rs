//! The rest of the sheet: later pages, the rigged aeroplane, units, odd logs, boxes to sign.

use crate::program::{Bench, SMALL_PLAN};
use crate::reader;
use crate::reader::{collisions, told};
use crate::sheet::{check, plain, sheet};

/// No page shows a value as within if the first page says that it is not met.
#[test]
fn later_pages_answer_as_the_first_one_does() {
    let bench = &Bench::demo("hold");
    let a = check(bench, "demo.jigtrue");
    let Some(unpacked) = sheet(bench, "demo.jigtrue", "").unpacked() else { return };
    let stale = ["setting", "washout", "station"];
    let owed = a["gate"]["obligations"].as_array().unwrap();
    let owed = owed.iter().filter(|o| o["state"] == "stale" && stale.contains(&o["kind"].as_str().unwrap()));
    // One mark a row in the tables of the twist, beside the one of their cause; the board says it in other words.
    let rows = told(&unpacked).iter().filter(|t| *t == "stale").count();
    let owed = owed.count();
    assert!(owed > 1 && rows > owed, "{rows} marks of {owed}");
}

/// The rigged aeroplane has a page of its own, without a question about skins.
#[test]
fn the_rigged_aeroplane_is_shown_left_and_right() {
    let bench = &Bench::demo("rigged");
    let a = check(bench, "demo.jigtrue");
    for form in ["", "--short"] {
        let Some(pages) = sheet(bench, "demo.jigtrue", form).pages() else { return };
        assert!(pages.len() <= 4 && (form.is_empty() || pages.len() == 2), "{form}: {} pages", pages.len());
        let text = plain(&pages.concat());
        assert!(!text.contains("skin") && text.contains("Is it rigged as the plan asks?"), "{form}");
        assert!(!text.contains("limit none"), "{form}");
        let page = plain(&pages[1]);
        for pair in a["rig_pairs"].as_array().unwrap() {
            assert!(page.contains(pair["name"].as_str().unwrap()), "{form}: {pair}");
        }
        if form.is_empty() {
            for closure in a["rig_closures"].as_array().unwrap() {
                assert!(page.contains(closure["words"].as_str().unwrap()), "{closure}");
            }
        }
    }
    let one = sheet(bench, "demo.jigtrue", "--for \"left aileron\"");
    let Some(text) = one.text() else { return };
    assert!(text.contains("WITHIN") && text.contains("travel up of left aileron"), "{text}");
}

/// Values and limits are in the units of the plan, whatever units the person at the terminal prefers.
#[test]
fn the_sheet_speaks_in_the_units_of_the_plan() {
    let units = "\n[units]\nlength = \"in\"\nangle = \"deg-min\"\ntorque = \"in-lb\"\n\n[tolerance]\n";
    let bench = Bench::with_plan(&SMALL_PLAN.replacen("\n[tolerance]\n", units, 1));
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    for (station, degrees) in [("S1", 2.05), ("S2", 1.05), ("S3", 0.05)] {
        for (facing, sign) in [("forward", 1.0), ("aft", -1.0)] {
            let value = format!("{:.2}", sign * degrees);
            bench.line(&format!("take wing.jigtrue incidence@{station} {value} --facing {facing}")).expect(0);
        }
    }
    for form in ["", "--short", "--for S2"] {
        let pdf = sheet(&bench, "wing.jigtrue", form);
        let Some(text) = pdf.text() else { return };
        let text = plain(&text);
        assert!(!text.contains("N·m") && !text.contains(" mm"), "{form}: {text}");
        assert!(text.contains("0°18'"), "{form}: {text}");
        bench.run(&["verify", "wing.jigtrue", "--sheet", pdf.0.to_str().unwrap()]).expect(0);
        if form.is_empty() {
            assert!(text.contains("80 to 95 in-lb") && text.contains("11.81"), "{text}");
        }
    }
}

/// Odd logs still make sound sheets: nothing measured, forty open items, three hundred readings withdrawn, characters
/// that no font here has.
#[test]
fn odd_logs_make_sound_sheets() {
    let mm = 72.0 / 25.4;
    let bench = Bench::with_plan(SMALL_PLAN);
    let wide = SMALL_PLAN.replacen("small invented wing", &"翼 крыло wing \u{1f6e9} ".repeat(6), 1);
    bench.write("wide.toml", wide);
    bench.line("new wide.toml").expect(0);
    std::fs::copy(bench.path("wing.jigtrue"), bench.path("open.jigtrue")).unwrap();
    for i in 1..=40 {
        bench.line(&format!("open-item open.jigtrue \"item {i} that somebody will see to\"")).expect(0);
    }
    std::fs::copy(bench.path("wing.jigtrue"), bench.path("taken-back.jigtrue")).unwrap();
    bench.line("stage taken-back.jigtrue \"ribs on\"").expect(0);
    let mut rows = "point,value,unit,facing,instrument\n".to_owned();
    rows.push_str(
        &"incidence@S1,2.05,deg,forward,beam level\nincidence@S1,-1.95,deg,aft,beam level\n".repeat(150),
    );
    bench.write("r.csv", rows);
    bench.line("import taken-back.jigtrue r.csv").expect(0);
    bench.line("withdraw taken-back.jigtrue 3-302 --reason \"the level stood on a chip\"").expect(0);
    for (log, pages) in [("wing", 2), ("open", 4), ("taken-back", 4), ("wide", 2)] {
        let pdf = sheet(&bench, &format!("{log}.jigtrue"), "");
        let (Some(words), Some(found)) = (pdf.words(), pdf.pages()) else { return };
        assert!(found.len() <= pages, "{log}: {} pages", found.len());
        let over = collisions(&words);
        assert!(over.is_empty(), "{log}: {over:#?}");
        let right = words.iter().map(|w| w.right).fold(0.0, f64::max);
        assert!(right < 198.0 * mm + 1.0, "{log}: text to {:.1} mm", right / mm);
        let text = plain(&found.concat());
        assert!(!text.contains("u{5c}"), "{log}: spelled twice");
        match log {
            "open" => {
                assert!(plain(&found[0]).contains("left open: item 1 that somebody will see to"), "{text}");
                assert!(text.contains("item 40 that somebody will see to"), "{text}");
            }
            "taken-back" => {
                let said = "#3 to #302 withdrawn by";
                assert!(
                    text.contains(said) && text.contains("300 entries: the level stood on a chip"),
                    "{text}"
                );
            }
            _ => {}
        }
    }
}

/// Signature boxes are at least 16 mm high and 80 mm wide and name gate and entry.
#[test]
fn boxes_to_sign_name_what_is_signed() {
    let bench = &Bench::demo("hold");
    let mm = 72.0 / 25.4;
    for paper in ["a4", "letter"] {
        let pdf = sheet(bench, "demo.jigtrue", &format!("--paper {paper}"));
        let Some(words) = pdf.words() else { return };
        let find = |text: &str| -> Vec<&reader::Word> {
            words.iter().filter(|w| w.page == 1 && w.text == text).collect()
        };
        let (name, top) = (find("name,"), find("Builder"));
        let inspector = find("Inspector");
        assert!(name.len() == 2 && top.len() == 1 && inspector.len() == 1);
        assert!(name[0].bottom - top[0].top > 12.3 * mm, "{paper}");
        assert!(inspector[0].left - top[0].left > 82.0 * mm, "{paper}");
        let gate: Vec<&reader::Word> = find("HOLD,");
        assert_eq!(gate.len(), 2, "{paper}: each box names the gate");
    }
}
