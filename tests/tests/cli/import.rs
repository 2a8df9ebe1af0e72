//! Tables of readings: units in the headers, all or nothing, bad lines named.

use crate::program::{Bench, SMALL_PLAN};
use serde_json::Value;

fn twist(bench: &Bench) -> Value {
    bench.line("check wing.jigtrue --json").json()["twist"].clone()
}

/// Typed one by one, in a table in degrees, in a table with a unit in every cell, and in minutes: the same profile.
#[test]
fn a_table_gives_the_profile_that_typing_gives() {
    let shown = [("S1", 2.10, -1.95), ("S2", 1.15, -0.90), ("S3", 0.20, 0.05)];
    let typed = Bench::begun();
    for (station, forward, aft) in shown {
        typed
            .run(&["take", "wing.jigtrue", &format!("incidence@{station}"), &format!("{forward:.2}")])
            .expect(0);
        let aft = format!("{aft:.2}");
        typed
            .run(&["take", "wing.jigtrue", &format!("incidence@{station}"), &aft, "--facing", "aft"])
            .expect(0);
    }
    let expected = twist(&typed);
    let mut tables = [
        "point,value_deg,facing\n".to_owned(),
        "# with a remark\npoint,value,unit,facing,note\n".to_owned(),
        "point;value;facing\n".to_owned(),
    ];
    for (station, forward, aft) in shown {
        for (value, facing) in [(forward, "forward"), (aft, "aft")] {
            tables[0].push_str(&format!("incidence@{station},{value:.2},{facing}\n"));
            tables[1].push_str(&format!("incidence@{station}, {value:.2} ,deg,{facing},\"seen, twice\"\n"));
            tables[2].push_str(&format!("incidence@{station};{value:.2}°;{facing}\r\n"));
        }
    }
    for table in tables {
        let bench = Bench::begun();
        bench.write("readings.csv", &table);
        let a = bench.line("import wing.jigtrue readings.csv --json").expect(0).json();
        assert_eq!(a["readings"], 6, "{a:#}");
        assert_eq!(twist(&bench), expected, "{table}");
    }
}

/// One bad line among many: nothing is recorded, and each bad line is named with its reason; twenty at most.
#[test]
fn bad_lines_are_named_and_nothing_is_recorded() {
    let bench = Bench::begun();
    let before = bench.line("export wing.jigtrue").out;
    bench.write(
        "bad.csv",
        "point,value,facing\nincidence@S1,2.0,forward\nincidence@S7,1,\nincidence@S1,\"0,35\",\nspot@bolt,3 mm,\n\
         incidence@S2,1.0,up\nincidence@S2\n,1.0,\nincidence@S2,,\nincidence@S3,0.1,aft\n",
    );
    let ran = bench.line("import wing.jigtrue bad.csv").expect(1);
    for (line, word) in [
        (3, "nearest is `incidence@S"),
        (4, "comma"),
        (5, "torque"),
        (6, "`up`"),
        (7, "fields"),
        (8, "point is missing"),
        (9, "value is missing"),
    ] {
        let said = ran.err.lines().find(|l| l.trim_start().starts_with(&format!("line {line}:")));
        assert!(said.is_some_and(|s| s.contains(word)), "line {line} with `{word}` is not in\n{}", ran.err);
    }
    assert!(!ran.err.contains("line 2:") && !ran.err.contains("line 10:"), "{}", ran.err);

    let mut many = "point,value_deg\n".to_owned();
    for i in 0..500 {
        many.push_str(&format!("incidence@Q{i},1.0\n"));
    }
    bench.write("many.csv", many);
    let ran = bench.line("import wing.jigtrue many.csv").expect(1);
    assert_eq!(ran.err.lines().filter(|l| l.trim_start().starts_with("line ")).count(), 20);
    assert!(ran.err.contains("480 more"), "{}", ran.err);
    assert_eq!(bench.line("export wing.jigtrue").out, before);
}

#[test]
fn headers_that_cannot_be_used_are_refused_with_the_reason() {
    let bench = Bench::begun();
    for (table, word) in [
        ("", "empty"),
        ("point,value_deg\n", "no readings"),
        ("value_deg\n1\n", "`point`"),
        ("point\nincidence@S1\n", "`value`"),
        ("point,value_furlong\nincidence@S1,1\n", "unknown unit"),
        ("point,valeu\nincidence@S1,1\n", "nearest is `value`"),
        ("point,value,value\nincidence@S1,1,1\n", "twice"),
        ("point,value_deg,value_mm\nincidence@S1,1,1\n", "more than one value"),
        ("point,value_mm\nincidence@S1,1\n", "angle"),
        ("point,value,at\nincidence@S1,1,yesterday\n", "2031-04-05T06:07:08Z"),
        ("point,value,at\nincidence@S1,1,2031-04-05T06:07:08\n", "offset from UTC"),
        ("point,value,round\nincidence@S1,1,0\n", "round"),
        ("point,value,round\nincidence@S1,1,4294967295\n", "1,000,000"),
        ("point,value,temperature_C\nincidence@S1,1,500\n", "80 °C"),
    ] {
        bench.write("t.csv", table);
        let ran = bench.line("import wing.jigtrue t.csv").expect(1);
        assert!(ran.err.contains(word), "{table:?}: `{word}` is not in\n{}", ran.err);
    }
    bench.write("t.csv", [b"point,value_deg\n".as_slice(), &[0xff, 0xfe, 0x00, 0x41]].concat());
    bench.line("import wing.jigtrue t.csv").expect(1);
}

/// Readings of another day keep their time and person; if they are out of order with the log, the inspector is told.
#[test]
fn times_and_persons_in_the_table_are_kept_and_a_clock_that_goes_back_is_named() {
    let bench = Bench::begun();
    bench.write(
        "old.csv",
        "point,value_deg,at,by,sure\nincidence@S1,2.0,2021-03-04T05:06:07Z,otto,yes\n\
         incidence@S2,1.0,2021-03-04T07:06:07+02:00,otto,yes\n",
    );
    bench.line("import wing.jigtrue old.csv").expect(0);
    let lines = bench.line("export wing.jigtrue --format jsonl").expect(0).out;
    let readings: Vec<Value> = lines
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .filter(|l: &Value| l["kind"] == "reading")
        .collect();
    assert_eq!(readings.len(), 2);
    assert_eq!(readings[0]["at"], "2021-03-04T05:06:07.000Z");
    assert_eq!(readings[1]["at"], "2021-03-04T05:06:07.000Z");
    assert_eq!(readings[0]["by"], "otto");
    let doubts = bench.line("check wing.jigtrue --json").json()["doubts"].clone();
    assert!(doubts.as_array().unwrap().iter().any(|d| d["kind"] == "clock"), "{doubts:#}");
}

/// A long table shows its progress on standard error, and its rounds continue those typed before.
#[test]
fn a_long_table_shows_progress() {
    let bench = Bench::begun();
    bench.line("take wing.jigtrue incidence@S1 2.05").expect(0);
    let mut table = "point,value_deg\n".to_owned();
    for i in 0..30_000 {
        let (station, off) = (i % 3, f64::from(i % 7) * 0.05);
        table.push_str(&format!("incidence@S{},{:.2}\n", station + 1, 2.0 - f64::from(station) + off));
    }
    bench.write("long.csv", table);
    let ran = bench.line("import wing.jigtrue long.csv").expect(0);
    assert!(ran.err.contains('%'), "{}", ran.err);
    assert!(ran.out.contains("30000 readings"), "{}", ran.out);
    let all = bench.line("export wing.jigtrue --format jsonl").expect(0).out;
    let last: Value = serde_json::from_str(all.lines().last().unwrap()).unwrap();
    assert_eq!(last["body"]["round"], 1);
    assert_eq!(last["seq"], 30_003);
}

/// What is exported as CSV has units in its headers and a row for every entry.
#[test]
fn the_export_holds_every_entry() {
    let bench = Bench::begun();
    bench.line("take wing.jigtrue incidence@S3 0°21' --temp 23 --note \"a, b \\ c\"").expect(0);
    bench.line("take wing.jigtrue spot@bolt \"88 in-lb\"").expect(0);
    bench.line("note wing.jigtrue \"two\"").expect(0);
    let csv = bench.line("export wing.jigtrue --format csv").expect(0).out;
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let head: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let column =
        |name: &str| head.iter().position(|h| h == name).unwrap_or_else(|| panic!("no {name} in {head:?}"));
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 5);
    assert!((rows[2][column("angle_deg")].parse::<f64>().unwrap() - 0.35).abs() < 1e-12);
    assert_eq!(&rows[2][column("part_temperature_C")], "23");
    assert_eq!(&rows[2][column("note")], "a, b \\ c");
    // 1 lbf·in is 0.1129848290276167 N·m, exact by definition.
    let torque = rows[3][column("torque_Nm")].parse::<f64>().unwrap();
    assert!((torque - 88.0 * 0.112_984_829_027_616_7).abs() < 1e-12);
    bench.line("export wing.jigtrue --format jsonl -o out.jsonl").expect(0);
    assert_eq!(String::from_utf8(bench.read("out.jsonl")).unwrap().lines().count(), 5);
    let before = bench.read("out.jsonl");
    bench.line("export wing.jigtrue -o nowhere/out.csv").expect(1);
    assert_eq!(bench.read("out.jsonl"), before);
}

/// What `export` wrote is imported again, as CSV and as JSON Lines: values, facings, times, rounds, persons,
/// questions.
#[test]
fn an_export_is_imported_again() {
    let bench = Bench::begun();
    bench.line("take S1 f 2.1 a -1.95 S2 a -.9 f 1.15").expect(0);
    bench.line("take S3 f .2 a .05 --temp 21 --note \"a, \\\"b\\\"\"").expect(0);
    bench.line("take S3 f 9 --sure").expect(0);
    bench.line("undo").expect(0);
    bench.line("note \"a remark\"").expect(0);
    let readings = |bench: &Bench| -> Vec<Value> {
        let all = bench.line("export wing.jigtrue --format jsonl").expect(0).out;
        let all = all.lines().map(|l| serde_json::from_str::<Value>(l).unwrap());
        all.filter(|l| l["kind"] == "reading" && l["withdrawn_by"].is_null())
            .map(|mut l| {
                l["body"]["source"] = Value::Null;
                serde_json::json!([l["at"], l["by"], l["stage"], l["body"]])
            })
            .collect()
    };
    let (expected, seen) = (readings(&bench), twist(&bench));
    assert_eq!(expected.len(), 6);
    for form in ["csv", "jsonl"] {
        let table = bench.line(&format!("export --format {form}")).expect(0).out;
        let other = Bench::begun();
        let ran = other.piped("import - --json", &table).expect(0);
        let a = ran.json();
        assert_eq!((a["readings"].as_u64(), a["passed_over"].as_u64()), (Some(6), Some(5)), "{form}: {a}");
        assert_eq!(readings(&other), expected, "{form}");
        assert_eq!(twist(&other), seen, "{form}");
        // The same again is not a second measurement, whatever is said about it.
        other.write("again.txt", &table);
        for line in ["import again.txt", "import again.txt --again"] {
            let ran = other.line(line).expect(1);
            assert!(ran.err.contains("is entry 3 of this log"), "{}", ran.err);
        }
        assert_eq!(readings(&other), expected, "{form}: nothing was taken twice");
        // In another stage they would count as taken there.
        other.line("stage --anyway \"to see it\"").expect(0);
        let ran = other.line("import again.txt --again").expect(1);
        assert!(ran.err.contains("was read in the stage `ribs on`"), "{}", ran.err);
        // Before any stage they would count for whichever begins next.
        let fresh = Bench::with_plan(SMALL_PLAN);
        let ran = fresh.piped("import -", &table).expect(1);
        assert!(ran.err.contains("in the stage `ribs on`, and this log has begun none"), "{}", ran.err);
        // Readings of another wing prove nothing about this one, and a row copied is no second reading.
        let right = Bench::with_plan(&SMALL_PLAN.replace("side = \"left\"", "side = \"right\""));
        right.line("stage wing.jigtrue \"ribs on\"").expect(0);
        let ran = right.piped("import -", &table).expect(1);
        assert!(ran.err.contains("line 2: is of another wing") || form == "jsonl", "{}", ran.err);
        assert!(ran.err.contains("left), and this log is of"), "{}", ran.err);
        let twice = format!("{table}{}\n", table.lines().find(|l| l.contains("incidence@S1")).unwrap());
        let ran = Bench::begun().piped("import -", &twice).expect(1);
        assert!(ran.err.contains("import each reading once"), "{}", ran.err);
    }
}

/// A table imported twice is questioned; a table that differs in a single value is another one, and so is one whose
/// readings were withdrawn.
#[test]
fn importing_the_same_table_twice_is_questioned() {
    let bench = Bench::begun();
    bench.write("a.csv", "point,value_deg,facing\nS1,2.1,forward\nS1,-1.95,aft\nS2,1.1,f\n");
    bench.line("import a.csv").expect(0);
    let before = bench.line("export").expect(0).out;
    let ran = bench.line("import a.csv").expect(1);
    assert!(ran.err.contains("entries 3 to 5"), "{}", ran.err);
    assert_eq!(bench.line("export").expect(0).out, before, "nothing was recorded");
    bench.write("b.csv", "point,value_deg,facing\nS1,2.1,forward\nS1,-1.95,aft\nS2,1.15,f\n");
    bench.line("import b.csv").expect(0);
    let ran = bench.line("import a.csv").expect(1);
    assert!(ran.err.contains("entries 3 to 5"), "found behind others: {}", ran.err);
    bench.line("withdraw 3-5 --reason \"wrong rib\"").expect(0);
    bench.line("import a.csv").expect(0);
}

/// Headers in any case, a byte order mark, semicolons with decimal commas, standard input, one instrument and facing
/// for all.
#[test]
fn a_table_as_a_spreadsheet_writes_it() {
    let bench = Bench::begun();
    bench.write(
        "bom.csv",
        "\u{feff}Point;Value_Deg;FACING\r\nS1;2,10;Forward\r\n\r\nS1;-1,95;AFT\r\nS2;1;f\r\n",
    );
    bench.line("import bom.csv").expect(0);
    let value = |line: &str| {
        let all = bench.line("export --format jsonl").expect(0).out;
        let last: Value = serde_json::from_str(all.lines().last().unwrap()).unwrap();
        last["body"][line].clone()
    };
    assert_eq!(value("value"), 1.0);
    let ran = bench.piped("import - --facing aft", "POINT\tVALUE\nS2\t-0,9\nS3\t0,05\n").expect(0);
    assert!(ran.out.contains("2 readings"), "{}", ran.out);
    assert_eq!((value("value"), value("facing")), (0.05.into(), "aft".into()));
    bench.piped("import - --instrument \"torque wrench\"", "point,value\nbolt,88\n").expect(0);
    assert_eq!(value("instrument"), "torque wrench");
    for (table, says) in [
        ("point;value\nS1;2,1\nS2;1.1\n", "line 3"),
        ("point,value\nS1,\"2,1\"\n", "comma"),
        ("point;value\nS1;1.002,1\n", "one decimal mark"),
        ("point;value\n\n\nS1;2,1,0\n", "line 4"),
    ] {
        let ran = bench.piped("import -", table).expect(1);
        assert!(ran.err.contains(says), "{table:?}: {}", ran.err);
    }
    let ran = bench.piped("import - --instrument \"torque wrench\"", "point,value\nS1,2\n").expect(1);
    assert!(ran.err.contains("does not read"), "{}", ran.err);
    bench.piped("import -", "").expect(1);
}

/// The blank form has every value of a stage; filled in, it is imported as it is.
#[test]
fn a_form_is_filled_in_and_imported() {
    let bench = Bench::begun();
    let page = bench.line("form").expect(0).out;
    assert!(page.contains("small invented wing") && page.contains("beam level, steps of 0.05°"), "{page}");
    assert!(page.lines().any(|l| l.starts_with("S2") && l.contains("1500") && l.contains("aft")), "{page}");
    bench.line("form --csv -o round.csv").expect(0);
    let blank = String::from_utf8(bench.read("round.csv")).unwrap();
    assert!(blank.starts_with("point,facing,value,instrument,temperature_C,at,by,note\n"), "{blank}");
    let mut values = ["2.1", "-1.95", "-.9", "1.15", ".2", ".05"].into_iter();
    let filled: Vec<String> = blank
        .lines()
        .map(|line| {
            if line.starts_with("incidence") {
                line.replacen(",,", &format!(",{},", values.next().unwrap()), 1)
            } else {
                line.to_owned()
            }
        })
        .collect();
    // If values are left blank, it names the lines that lack one.
    assert!(bench.line("import round.csv").expect(1).err.contains("the value is missing"));
    bench.write("round.csv", filled.join("\n"));
    bench.line("import round.csv").expect(0);
    assert!(bench.line("check --json").json()["wanted"].as_array().unwrap().is_empty());
    assert!(bench.line("form --stage \"ready to skn\"").expect(1).err.contains("ready to skin"));
    assert!(bench.line("form --stage \"ready to skin\"").expect(0).out.contains("torque wrench"));
}

/// The blank form as a printed page: every place of the stage on it, the same bytes twice, on both papers.
#[test]
fn a_form_is_printed_to_be_filled_in() {
    let bench = Bench::begun();
    bench.line("form -o a.pdf").expect(0);
    bench.line("form -o again.pdf").expect(0);
    assert_eq!(bench.read("a.pdf"), bench.read("again.pdf"));
    bench.line("form -o letter.pdf --paper letter --stage \"ready to skin\"").expect(0);
    assert!(bench.line("form -o b.pdf --paper a3").expect(1).err.contains("a4 or letter"));
    bench.line("form -o b.txt --paper letter").expect(1);
    bench.line("form --csv -o b.pdf").expect(1);
    assert!(bench.line("form -o wing.jigtrue").expect(1).err.contains("wing.jigtrue"));
    // It is not accepted as an inspection sheet.
    assert!(bench.line("verify --sheet a.pdf").expect(1).err.contains("blank form"));
    let tool = |tool: &str, arguments: &[&str]| {
        let ran = std::process::Command::new(tool).args(arguments).current_dir(bench.path(".")).output();
        ran.ok().map(|ran| String::from_utf8_lossy(&[ran.stdout, ran.stderr].concat()).into_owned())
    };
    match tool("pdftotext", &["-layout", "a.pdf", "-"]) {
        None => stories::disk::skip("reading a blank form's text (pdftotext)"),
        Some(text) => {
            for wanted in [
                "small invented wing",
                "ribs on",
                "S1",
                "S2",
                "S3",
                "forward",
                "aft",
                "1500",
                "±0.3",
                "steps of 0.05°",
            ] {
                assert!(text.contains(wanted), "{wanted}: {text}");
            }
            for wanted in ["date", "measured by", "temperature", "signature", "page 1 of 1", "about"] {
                assert!(text.contains(wanted), "{wanted}: {text}");
            }
            let text = tool("pdftotext", &["-layout", "letter.pdf", "-"]).unwrap();
            assert!(
                text.contains("bolt") && text.contains("torque wrench") && text.contains("in-lb"),
                "{text}"
            );
        }
    }
    for file in ["a.pdf", "letter.pdf"] {
        match tool("qpdf", &["--check", file]) {
            None => stories::disk::skip("checking a blank form (qpdf)"),
            Some(said) => {
                assert!(
                    said.contains("No syntax or stream encoding errors") && !said.contains("WARNING"),
                    "{said}"
                );
            }
        }
    }
}

/// The answer names the unit in which a bare number was recorded.
#[test]
fn an_acknowledgement_says_the_unit() {
    let bench = Bench::begun();
    let said = bench.line("take spot@bolt 90").expect(0).out;
    assert!(said.contains("spot@bolt 90 in-lb"), "{said}");
    let words = bench.line("take spot@bolt 91 --json").expect(0).json()["words"].to_string();
    assert!(words.contains("spot@bolt = 91 in-lb"), "{words}");
    let said = bench.line("take spot@bolt \"92 in-lb\"").expect(0).out;
    assert!(said.contains("spot@bolt 92 in-lb") && !said.contains("in-lb in-lb"), "{said}");
}
