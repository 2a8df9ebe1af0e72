//! The same mathematics on any table, through the program, against published and worked values.

use crate::program::{Bench, near};
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// Certified data kept with the numerics' own tests.
fn data(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates/numerics/tests/numerics/data").join(name)
}

/// Digits that agree (log relative error).
fn digits(found: f64, certified: f64) -> f64 {
    if certified == 0.0 { -found.abs().log10() } else { -((found - certified) / certified).abs().log10() }
}

/// NIST StRD linear least squares: certified values and data as the set's file gives them, the header lines `B0 value sd`.
fn strd(name: &str) -> (Vec<(f64, f64)>, String) {
    let text = std::fs::read_to_string(data(&format!("nist/{name}.txt"))).unwrap();
    let mut certified = Vec::new();
    let mut rows = Vec::new();
    let mut in_data = false;
    for line in text.lines() {
        let words: Vec<&str> = line.split_whitespace().collect();
        if line.starts_with("DATA") {
            in_data = true;
        } else if in_data && !words.is_empty() && !line.starts_with('#') {
            rows.push(words.iter().map(|w| (*w).to_owned()).collect::<Vec<_>>());
        } else if let [label, value, sd] = words.as_slice()
            && label.strip_prefix('B').is_some_and(|n| n.parse::<u32>().is_ok())
        {
            certified.push((value.parse().unwrap(), sd.parse().unwrap()));
        }
    }
    // The files give y first; a table for `fit` has x first.
    let width = rows[0].len();
    let mut table = match width {
        2 => "x,y\n".to_owned(),
        n => (1..n).map(|i| format!("x{i},")).collect::<String>() + "y\n",
    };
    for row in rows {
        let (y, x) = row.split_first().unwrap();
        table.push_str(&format!("{},{y}\n", x.join(",")));
    }
    (certified, table)
}

#[test]
fn the_nist_sets_come_out_to_thirteen_digits() {
    let bench = Bench::new();
    let x = "x1,x2,x3,x4,x5,x6";
    for (name, how, exact) in [
        ("Norris", "--order 1".to_owned(), false),
        ("Pontius", "--order 2".to_owned(), false),
        ("NoInt1", "--order 1 --through-zero".to_owned(), false),
        ("NoInt2", "--order 1 --through-zero".to_owned(), false),
        ("Filip", "--order 10".to_owned(), false),
        ("Longley", format!("--columns {x} --y y"), false),
        ("Wampler1", "--order 5".to_owned(), true),
        ("Wampler2", "--order 5".to_owned(), true),
        ("Wampler3", "--order 5".to_owned(), false),
        ("Wampler4", "--order 5".to_owned(), false),
        ("Wampler5", "--order 5".to_owned(), false),
    ] {
        let (certified, table) = strd(name);
        let answer = bench.piped(&format!("fit - {how} --json"), &table).expect(0);
        let a = answer.json();
        assert_eq!(a["coefficients"].as_array().unwrap().len(), certified.len(), "{name}");
        for (i, (value, sd)) in certified.into_iter().enumerate() {
            let c = a["coefficients"][i].as_f64().unwrap();
            let se = a["standard_errors"][i].as_f64().unwrap();
            assert!(digits(c, value) >= 13.0, "{name} B{i}: {c:e} and certified {value:e}");
            if exact {
                assert!(se.abs() <= 1e-9 * value, "{name} B{i}: standard error {se:e}");
            } else {
                assert!(digits(se, sd) >= 13.0, "{name} sd {i}: {se:e} and certified {sd:e}");
            }
        }
        // The document itself shows 17 significant digits.
        let written =
            answer.out.lines().find(|l| l.trim_start().starts_with(|c: char| c.is_ascii_digit() || c == '-'));
        let mantissa = written.unwrap().trim().trim_start_matches('-').split('e').next().unwrap();
        assert_eq!(mantissa.chars().filter(char::is_ascii_digit).count(), 17, "{name}: {written:?}");
    }
}

/// A column that is another's sum is named, not dropped.
#[test]
fn a_rank_deficient_fit_is_refused_with_the_columns_named() {
    let bench = Bench::new();
    let table = "a,b,c,y\n1,2,3,1\n2,3,5,2\n4,1,5,0\n7,2,9,4\n3,3,6,1\n";
    let ran = bench.piped("fit - --columns a,b,c --y y", table).expect(1);
    assert!(ran.err.contains("`a`, `b`, `c` depend on each other"), "{}", ran.err);
    let weighted = bench.piped("fit - --weights u", "x,y,u\n1,2,1\n2,3,0\n3,5,1\n").expect(1);
    assert!(weighted.err.contains("row 2: the uncertainty in `u`"), "{}", weighted.err);
    bench.piped("fit - --order 5", "x,y\n1,1\n2,2\n").expect(1);
}

/// Worked by hand: heights 0 2 1 4 3 6 at 0..5: end point 13/5, least squares 73/35, minimum zone 2.
#[test]
fn straightness_of_worked_cases() {
    let bench = Bench::new();
    let table = "span_mm,offset_mm\n0,0\n1,2\n2,1\n3,4\n4,3\n5,6\n";
    let a = bench.piped("straight - --json", table).expect(0).json();
    near(&a["minimum_zone_mm"], 2.0, 1e-12);
    near(&a["least_squares_mm"], 73.0 / 35.0, 1e-12);
    near(&a["end_point_mm"], 13.0 / 5.0, 1e-12);
    let bump = "span_mm,offset_mm\n0,0\n1,3\n2,1\n3,0\n4,0\n5,0\n6,0\n7,0\n";
    let a = bench.piped("straight - --json", bump).expect(0).json();
    near(&a["minimum_zone_mm"], 3.0, 1e-12);
    near(&a["least_squares_mm"], 45.0 / 14.0, 1e-12);
    // The same in inches and with a straight line added: the zone does not change.
    let mut inches = "span_in,offset_in\n".to_owned();
    for (x, y) in [(0.0, 0.0), (1.0, 2.0), (2.0, 1.0), (3.0, 4.0), (4.0, 3.0), (5.0, 6.0)] {
        inches.push_str(&format!("{x},{:.4}\n", y + 0.25 * x - 3.0));
    }
    let a = bench.piped("straight - --json", &inches).expect(0).json();
    near(&a["minimum_zone_mm"], 2.0 * 25.4, 1e-9);
}

/// JCGM 106 conformance probabilities for ±0.5 and u 0.1 (computed to 15 digits from the normal distribution).
#[test]
fn decisions_of_known_cases() {
    let bench = Bench::new();
    for (value, u, probability, exit) in [
        ("0.3", "0.1", 0.977_249_868_051_82, 0),
        ("0.4", "0.1", 0.841_344_746_068_543, 11),
        ("0.5", "0.1", 0.5, 11),
        ("0.6", "0.1", 0.158_655_253_931_457, 11),
        ("0", "0.5", 0.682_689_492_137_086, 11),
        ("-0.8", "0.1", 0.001_349_898_031_63, 10),
    ] {
        let a = bench.line(&format!("decide {value} {u} -0.5 0.5 --json")).expect(exit).json();
        near(&a["probability"], probability, 1e-12);
    }
    let a = bench.line("decide 0.3 0.1 -0.5 0.5 --json").json();
    near(&a["passes_to"], 0.335_514_637_304_853, 1e-9);
    // u over 0.5102 of the tolerance's half width: no value could ever pass at 95 %.
    bench.line("decide 0 0.5102 -1 1").expect(0);
    let ran = bench.line("decide 0 0.5103 -1 1").expect(11);
    assert!(ran.out.contains("no value could ever pass"), "{}", ran.out);
    assert!(ran.out.replace('\n', " ").contains("at most 0.51 is needed"), "{}", ran.out);
    let ran = bench.line("decide 0.3 0.1 -0.5 0.5").expect(0);
    assert!(ran.out.contains("97.7 %") && ran.out.contains("from -0.335 to 0.335 would"), "{}", ran.out);
    // With t of 4 degrees of freedom a value that was within becomes undecided.
    bench.line("decide 0.3 0.1 -0.5 0.5 --dof 4").expect(11);
    bench.line("decide 0.45 0.1 -0.5 0.5 --rule simple").expect(0);
    bench.line("decide 1.0 0.1 - 1.2").expect(0);
    bench.line("decide nan 0.1 -1 1").expect(1);
    bench.line("decide 0 -0.1 -1 1").expect(1);
    bench.line("decide 0 0.1 1 -1").expect(1);
}

/// A level with a zero of 0.12 degree on a slope of 0.30: it shows 0.42 and -0.18.
#[test]
fn a_reversal_pair_takes_the_zero_out() {
    let bench = Bench::new();
    let a = bench.piped("level - --json", "at,forward_deg,aft_deg\nroot,0.42,-0.18\n").expect(0).json();
    near(&a["zero_deg"], 0.12, 1e-12);
    let pair = a.as_object().unwrap().values().find_map(Value::as_array).unwrap();
    near(&pair[0]["tilt_deg"], 0.30, 1e-12);
    assert!(a["zero_spread_deg"].is_null(), "one pair shows no spread");
}

/// A column that is not used is named: its name may be misspelt.
#[test]
fn a_column_that_is_not_used_is_named() {
    let bench = Bench::new();
    let ran = bench.piped("spacing -", "station,design,measured,temp\nS9,100,100.2,25\n").expect(0);
    assert!(ran.err.contains("not used: column `temp`"), "{}", ran.err);
    assert!(ran.out.contains("measured mm") && !ran.out.contains("at 20"), "{}", ran.out);
}

/// 3-4-5: a bay of 3000 by 4000 with diagonals 5000 is square; pulled to a rhombus of angle 90° + t its diagonals differ so that
/// D1² - D2² = 4ab sin t.
#[test]
fn squareness_from_diagonals() {
    let bench = Bench::new();
    let a = bench.line("square 3000 4000 5000 5000 --json").expect(0).json();
    near(&a["out_of_square_deg"], 0.0, 1e-12);
    let t: f64 = 0.2_f64.to_radians();
    let long = (25e6 + 24e6 * t.sin()).sqrt();
    let short = (25e6 - 24e6 * t.sin()).sqrt();
    let a = bench.line(&format!("square 3000 4000 {long:.9} {short:.9} --json")).expect(0).json();
    near(&a["out_of_square_deg"], 0.2, 1e-6);
}

/// Three bores of 30.2 in a line, the middle one 0.3 out: a shaft of 30 binds; moved back it passes with 0.1 all round.
#[test]
fn bores_out_of_line_bind_and_one_bush_frees_them() {
    let bench = Bench::new();
    let table = |up: f64| {
        format!("bush,span_mm,aft_mm,up_mm,bore_mm\nB1,0,0,0,30.2\nB2,1000,0,{up},30.2\nB3,2000,0,0,30.2\n")
    };
    let a = bench.piped("bores - --shaft 30 --json", &table(0.0)).expect(0).json();
    near(&a["clearance_mm"], 0.1, 1e-6);
    let a = bench.piped("bores - --shaft 30 --json", &table(0.3)).expect(10).json();
    // The best line lies half way: 0.15 off every centre, 0.1 of play.
    near(&a["clearance_mm"], -0.05, 1e-6);
}

/// ISO 1: lengths at 20 °C. Aluminium at 30 °C read with a steel tape at 30 °C: 3000 mm of aluminium have grown 0.342 mm more.
#[test]
fn distances_are_brought_to_twenty_degrees() {
    let bench = Bench::new();
    let table = "station,design_mm,measured_mm,temperature_°C\nS9,3000,3000.342,30\n";
    let a = bench.piped("spacing - --part 22.9e-6 --tape 11.5e-6 --json", table).expect(0).json();
    let rows = a.as_object().unwrap().values().find_map(Value::as_array).unwrap();
    near(&rows[0]["deviation_mm"], 0.0, 1e-4);
}

/// The thermal-impedance gauge study: 10 parts, 3 persons, 3 trials (its mean squares computed exactly from the data).
#[test]
fn a_repeat_study_of_published_data() {
    let bench = Bench::new();
    let text = std::fs::read_to_string(data("grr_thermal.csv")).unwrap();
    let mut head = text.lines().next().unwrap().split(',');
    let names: Vec<String> = head.by_ref().map(|n| n.trim_matches('"').to_owned()).collect();
    let column = |wanted: &str| {
        let found = names.iter().find(|n| n.to_lowercase().contains(wanted));
        found.unwrap_or_else(|| panic!("no column like {wanted} in {names:?}")).clone()
    };
    let (point, person, value) = (column("part"), column("op"), column("val"));
    bench.write("study.csv", &text);
    let a = bench
        .run(&["repeat", "study.csv", "--point", &point, "--person", &person, "--value", &value, "--json"])
        .expect(0)
        .json();
    near(&a["mean"], 179.0 / 5.0, 1e-12);
    near(&a["repeatability_sd"], (23.0_f64 / 45.0).sqrt(), 1e-12);
    near(&a["reproducibility_sd"].clone(), (349.0_f64 / 270.0).sqrt(), 1e-12);
    near(&a["gauge_sd"], (487.0_f64 / 270.0).sqrt(), 1e-12);
}

#[test]
fn what_is_not_a_table_is_refused_with_a_message() {
    let bench = Bench::new();
    for (verb, table, word) in [
        ("fit -", "", "header"),
        ("fit -", "x,y\n", "no rows"),
        ("fit -", "1,2\n3,4\n", "header"),
        ("fit -", "x,y\n1,2\n2,abc\n", "abc"),
        ("fit -", "x,y\n1,\"2,5\"\n2,3\n3,4\n", "point"),
        ("fit -", "x,y\n1,NaN\n2,3\n3,4\n", "NaN"),
        ("fit -", "x\n1\n2\n", "columns"),
        ("fit -", "x,y\n# a remark\n1,2\n2\n", "standard input: line 4 has 1 field where the header has 2"),
        ("straight -", "span_mm,offset_deg\n1,1\n2,2\n3,4\n", "deg"),
        ("straight -", "a,b\n1,1\n2,2\n3,4\n", "span"),
        ("bores - --shaft 30", "span_mm,aft_mm,up_mm,bore_mm\n0,0,0,x\n", "row 1"),
        ("level -", "forward_deg,aft_deg\n0.4,3 mm\n", "angle"),
        ("repeat -", "point,person,value\nA,p,1\nA,q,2\nB,p,1\n", "q measured B 0 times"),
        ("repeat -", "point,person,value\nA,p,1\nA,q,2\nB,p,1\nB,r,2\n", "measured"),
        ("repeat - --person inspector", "point,person,value\nA,p,1\nA,p,2\nB,p,1\n", "no column `inspector`"),
        ("spacing -", "design,measured,temperature\n100,100.2,25\n", "--part and --tape"),
        ("spacing - --part 2e-5 --tape 1e-5", "design,measured\n100,100.2\n", "no temperature column"),
        ("straight -", "span,offset,u\n0,0,0.1\n1,0,-0.1\n2,0,0.1\n", "row 2"),
        ("bores - --shaft 39", "span,span,aft,up,bore\n0,5,0,0,40\n9,9,0,0,40\n", "two columns"),
        ("bores - --shaft 39", "span,aft,up,bore,bore_in\n0,0,0,40,1\n9,0,0,40,1\n", "`bore` and `bore_in`"),
        ("bores - --shaft 39", "span,aft,up,bore\n0,0,0,40\n9,0,0,-40\n", "row 2: the bore"),
        ("bores - --shaft 39 --clearance=-1", "span,aft,up,bore\n0,0,0,40\n9,0,0,40\n", "negative"),
    ] {
        let ran = bench.piped(verb, table);
        assert_eq!(ran.code, 1, "{verb} of {table:?}\n{}{}", ran.out, ran.err);
        assert!(ran.err.contains(word), "{verb} of {table:?}: `{word}` is not in\n{}", ran.err);
    }
    // Half of what is known would give too small an uncertainty; a word for a length says nothing of a level.
    bench.piped("level - --resolution 0.1", "forward,aft\n0.4,0.3\n").expect(2);
    bench.line("travel 20 --laid square --by chord").expect(2);
    bench.line("fit missing.csv").expect(1);
    bench.line("square 1 2 3").expect(2);
    bench.line("bores table.csv").expect(2);
}

/// Long: `./test --long --test cli mathematics`. A table of 100,000 rows in under a second each, in an optimised build on a
/// machine that does nothing else.
#[test]
#[ignore = "long, and a time that an optimised build alone keeps"]
fn a_hundred_thousand_rows_answer_in_under_a_second() {
    let bench = Bench::new();
    let rows = 100_000;
    let wobble = |i: u32| f64::from(i.wrapping_mul(2_654_435_761) >> 8) / 16_777_216.0;
    let row = |verb: &str, i: u32| {
        let (x, w) = (f64::from(i) * 0.5, wobble(i));
        match verb {
            "level" => format!("{w:.2},{:.2}\n", 0.1 - w),
            "repeat" => format!("P{},O{},{w:.3}\n", i % 100, i / 100 % 10),
            "known" => format!("{x:.1},{w:.3},0.01\n"),
            _ => format!("{x:.1},{:.3}\n", x + w),
        }
    };
    for (verb, line, head) in [
        ("fit", "fit t.csv --order 3", "x,y"),
        ("straight", "straight t.csv", "span_mm,offset_mm"),
        ("known", "straight t.csv", "span_mm,offset_mm,u_mm"),
        ("level", "level t.csv", "forward_deg,aft_deg"),
        ("spacing", "spacing t.csv", "design_mm,measured_mm"),
        ("repeat", "repeat t.csv", "point,person,value"),
    ] {
        let rows: String = (0..rows).map(|i| row(verb, i)).collect();
        bench.write("t.csv", format!("{head}\n{rows}"));
        let began = Instant::now();
        bench.line(line).expect(0);
        let took = began.elapsed();
        println!("{line} ({head}): {took:?}");
        assert!(took.as_secs_f64() < 1.0, "{line} ({head}) took {took:?}");
    }
}

/// ISO/TS 28037:2010, 6.3, first example: a 1.867, u 0.465; b 1.757, u 0.120; covariance -0.050; chi squared 1.665 on 4. The
/// uncertainties of y are stated, so the residuals do not shrink them.
#[test]
fn stated_uncertainties_count_as_stated() {
    let bench = Bench::new();
    let table = "x,y,u\n1,3.3,0.5\n2,5.6,0.5\n3,7.1,0.5\n4,9.3,0.5\n5,10.7,0.5\n6,12.1,0.5\n";
    let a = bench.piped("fit - --weights u --json", table).expect(0).json();
    near(&a["coefficients"][0], 1.867, 5e-4);
    near(&a["coefficients"][1], 1.757, 5e-4);
    near(&a["standard_errors"][0], 0.465, 5e-4);
    near(&a["standard_errors"][1], 0.120, 5e-4);
    near(&a["covariance"][0][1], -0.050, 5e-4);
    near(&a["chi_squared"], 1.665, 5e-4);
    // Ten times larger ones make ten times larger errors.
    let a = bench.piped("fit - --weights u --json", &table.replace(",0.5\n", ",5\n")).expect(0).json();
    near(&a["standard_errors"][0], 4.65, 5e-3);
}

/// Years to order 8: ((year - 2000)/10)^8 has 1e-8 before x^8, whatever the other powers amount to.
#[test]
fn years_are_fitted_to_order_eight() {
    let bench = Bench::new();
    let row = |k: i32| format!("{},{:.8}\n", 2000 + k, f64::from(k).powi(8) / 1e8);
    let table: String = std::iter::once("year,y\n".to_owned()).chain((-10..=10).map(row)).collect();
    let a = bench.piped("fit - --order 8 --json", &table).expect(0).json();
    near(&a["coefficients"][8], 1e-8, 1e-14);
    near(&a["coefficients"][7], -1.6e-4, 1e-9);
    near(&a["residual_sd"], 0.0, 1e-9);
    assert!(
        bench
            .piped(
                "fit - --order 8",
                "x,y\n2000,1\n2000,2\n2001,2\n2001,3\n2002,1\n2000,1\n2001,1\n2002,1\n2000,3\n2001,5\n"
            )
            .expect(1)
            .err
            .contains("not determined")
    );
}

#[test]
fn diagonals_that_no_bay_has_cannot_be_judged() {
    let bench = Bench::new();
    for line in [
        "square 800 600 100 1000",
        "square 800 600 1000 10000",
        "square 800 600 960 960",
        "square 800 600 1100 1100 --u 0.5",
    ] {
        let ran = bench.line(line).expect(11);
        assert!(ran.out.contains("cannot be judged"), "{line}: {}", ran.out);
        let a = bench.line(&format!("{line} --json")).expect(11).json();
        assert!(a["out_of_square_deg"].is_null() && a["cannot_judge"].is_string(), "{a}");
    }
    // By the law of cosines a lean of one degree makes 1008.34 and 991.59 of 1000.
    let a = bench.line("square 800 600 1008.34 991.59 --u 0.5 --json").expect(0).json();
    near(&a["out_of_square_deg"], 1.0, 2e-3);
}

/// A step of a level walk rises by its length times the sine: 30 degrees over 100 mm is 50 mm.
#[test]
fn a_step_rises_by_the_sine() {
    let bench = Bench::new();
    let a = bench.piped("straight - --walk --json", "step,tilt\n100,30\n100,0\n").expect(0).json();
    near(&a["minimum_zone_mm"], 25.0, 1e-9);
}

#[test]
fn without_measurements_nothing_is_certain() {
    let bench = Bench::new();
    let rows: String = (0..10).map(|i| format!("{},3.2,0.05\n", 100 * i)).collect();
    let a = bench.piped("straight - --json", &format!("span,offset,u\n{rows}")).expect(0).json();
    assert!(a["minimum_zone_u_mm"].as_f64().unwrap() > 0.05, "{a}");
    let a = bench
        .piped(
            "bores - --shaft 12 --json",
            "span,aft,up,bore,u\n0,0,0,12.30,0.02\n1000,0,0,12.31,0.02\n2000,0,0,12.30,0.02\n",
        )
        .expect(0)
        .json();
    let u = a["u_mm"].as_f64().unwrap();
    assert!((0.01..0.1).contains(&u), "{a}");
}

#[test]
fn one_person_is_a_study_of_the_instrument_alone() {
    let bench = Bench::new();
    let rows = [("p", 1.0), ("p", 1.1), ("q", 2.0), ("q", 2.2), ("r", 3.1), ("r", 3.0)];
    let with: String = rows.iter().map(|(p, v)| format!("{p},ann,{v}\n")).collect();
    let without: String = rows.iter().map(|(p, v)| format!("{p},{v}\n")).collect();
    let a = bench.piped("repeat - --json", &format!("point,person,value\n{with}")).expect(0).json();
    let b = bench.piped("repeat - --json", &format!("point,value\n{without}")).expect(0).json();
    assert_eq!(a, b);
}
