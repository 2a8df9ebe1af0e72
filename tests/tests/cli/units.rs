//! Values in the units of the plan, or in those asked for; JSON in millimetres, degrees, newton metres and newtons.

use crate::program::{Bench, SMALL_PLAN};

/// The small plan for people who work in inches, degrees and minutes, and inch-pounds. Its wrench is marked in
/// inch-pounds.
fn imperial() -> String {
    let units = "[units]\nlength = \"in\"\nangle = \"deg-min\"\ntorque = \"in-lb\"\n\n[tolerance]";
    let gap = "[[spot]]\nname = \"gap\"\nquantity = \"length\"\nlower = 0.0\nupper = \"0.1 in\"\n\n";
    format!("{}\n{gap}", SMALL_PLAN.replacen("[tolerance]", units, 1))
}

fn measured(plan: &str) -> Bench {
    let bench = Bench::with_plan(plan);
    bench.line("stage").expect(0);
    for (station, forward, aft) in [("S1", 2.2, -1.9), ("S2", 1.2, -0.9), ("S3", 0.2, 0.1)] {
        bench.line(&format!("take {station} f {forward} a {aft}")).expect(0);
    }
    bench
}

/// A tape in inches is read in fractions, and nobody writes "in" behind each.
#[test]
fn a_fraction_without_its_unit_is_of_an_inch_where_a_bare_number_is() {
    let bench = Bench::with_plan(&imperial());
    bench.line("stage wing.jigtrue").expect(0);
    bench.line("take gap 5/64").expect(0);
    bench.piped("import -", "point,value\nspacing@S2,47 1/4\n").expect(0);
    let listed = bench.line("entries").expect(0).out;
    assert!(listed.contains("spot@gap 5/64 in") && listed.contains("spacing@S2 47 1/4 in"), "{listed}");
    let export = bench.line("export").expect(0).out;
    assert!(export.contains(",1.984375,"), "{export}");
}

#[test]
fn a_plan_in_inches_is_shown_in_inches_and_its_json_is_in_millimetres() {
    let (imperial, metric) = (measured(&imperial()), measured(SMALL_PLAN));
    let check = imperial.line("check").out;
    // Design 1° at S2 is 1°00', and ±0.3° is ±18'.
    assert!(check.contains("+1°00"), "{check}");
    assert!(check.contains("±0°18'"), "{check}");
    assert!(check.contains("span in"), "{check}");
    assert!(!check.contains("°60"), "{check}");
    let twist = |bench: &Bench| bench.line("check --json").json()["twist"]["stations"].clone();
    assert_eq!(twist(&imperial), twist(&metric), "JSON does not follow the units of the plan");
    // With `--units` the metric plan looks the same, and the other way round.
    let asked = metric.line("check --units dms,in,in-lb").out;
    assert!(asked.contains("±0°18'") && asked.contains("span in"), "{asked}");
    let asked = imperial.line("check --units mm,deg").out;
    assert!(asked.contains("±0.3") && asked.contains("span mm"), "{asked}");
    let json = |line: &str| imperial.line(line).out;
    assert_eq!(json("check --json"), json("check --json --units in,dms"));
}

#[test]
fn a_bare_number_is_in_the_unit_of_its_instrument_and_without_one_in_that_of_the_plan() {
    let bench = Bench::with_plan(&imperial());
    bench.line("stage").expect(0);
    let bolt = bench.line("take spot@bolt 85 --json").expect(0).json();
    let value = bolt["entry"]["body"]["value"].as_f64().unwrap_or_else(|| panic!("{bolt}"));
    // 1 lbf·in is 0.1129848 N·m.
    assert!((value - 85.0 * 0.112_984_8).abs() < 1e-5, "{bolt}");
    let gap = bench.line("take spot@gap 0.05 --json").expect(0).json();
    let value = gap["entry"]["body"]["value"].as_f64().unwrap_or_else(|| panic!("{gap}"));
    assert!((value - 1.27).abs() < 1e-9, "{gap}");
    assert_eq!(gap["entry"]["body"]["text"], "0.05 in", "the unit is in the record: {gap}");
    let entries = bench.line("entries").expect(0).out;
    assert!(entries.contains("85 in-lb") && entries.contains("0.05 in"), "{entries}");
    // A unit that is written counts.
    let gap = bench.line("take spot@gap \"1.3 mm\" --json").expect(0).json();
    assert!((gap["entry"]["body"]["value"].as_f64().unwrap() - 1.3).abs() < 1e-9, "{gap}");
    // The expected value is in the unit of a bare number.
    let far = bench.line("take spot@gap 7").expect(1);
    assert!(far.err.contains("in"), "{}", far.err);
}

/// The temperature of a part and the shims of a move are not readings of an instrument, and follow the plan.
#[test]
fn what_no_instrument_shows_is_in_the_unit_of_the_plan() {
    let shims = "[[spar]]\nname = \"front\"\naft_root = 200\n[[support]]\nname = \"root\"\nspan = 0\nspar = \"front\"\n\
                 direction = \"up\"\ntravel = 12\nshims = [0.1, 0.2, 0.5, 1.0]\n[[stage]]";
    let plan = imperial().replacen("[units]\n", "[units]\ntemperature = \"°F\"\n", 1).replacen(
        "[[stage]]",
        shims,
        1,
    );
    let bench = Bench::with_plan(&plan);
    bench.line("stage").expect(0);
    for (typed, celsius) in [("68", 20.0), ("20 °C", 20.0), ("41", 5.0)] {
        let taken = bench
            .run(&["take", "wing.jigtrue", "spot@gap", "0.05", "--temp", typed, "--json"])
            .expect(0)
            .json();
        assert_eq!(taken["entry"]["body"]["temperature"], celsius, "{typed}: {taken}");
    }
    for (typed, mm, text) in [("0.02", 0.508, "0.02 in"), ("-0.5 mm", -0.5, "-0.5 mm")] {
        let moved = bench.run(&["move", "wing.jigtrue", "root", typed, "--json"]).expect(0).json();
        let body = &moved["entry"]["body"];
        assert!((body["amount"].as_f64().unwrap() - mm).abs() < 1e-12, "{moved}");
        assert_eq!(body["text"], text, "the unit is in the record: {moved}");
    }
}

#[test]
fn a_table_reads_a_bare_number_as_it_is_read_when_typed() {
    for (point, typed, table) in [
        ("spot@gap", "0.05", "point,value\nspot@gap,0.05\n"),
        ("spot@gap", "0.05", "point,value,read_to\nspot@gap,0.05,0.01\n"),
        ("spot@gap", "1.27 mm", "point,value\nspot@gap,1.27 mm\n"),
        ("spot@gap", "1.27", "point,value_mm\nspot@gap,1.27\n"),
        ("spot@gap", "0.05", "point,value,unit\nspot@gap,0.05,in\n"),
        ("spot@bolt", "85", "point,value\nspot@bolt,85\n"),
    ] {
        let kept = |bench: &Bench| {
            let check = bench.line("check --json").json();
            let seen = check["points"].as_array().unwrap().iter().find(|p| p["point"] == point).cloned();
            let seen = seen.unwrap_or_else(|| panic!("{check}"));
            assert!(seen["value"].is_number() && seen["u"].is_number(), "{seen}");
            (seen["value"].clone(), seen["u"].clone())
        };
        let bench = Bench::with_plan(&imperial());
        bench.line("stage").expect(0);
        let unit = if table.contains("value_mm") { " mm" } else { "" };
        bench.line(&format!("take {point} \"{typed}{unit}\"")).expect(0);
        let by_hand = kept(&bench);
        let bench = Bench::with_plan(&imperial());
        bench.line("stage").expect(0);
        bench.write("round.csv", table);
        bench.line("import round.csv").expect(0);
        assert_eq!(by_hand, kept(&bench), "{table}");
    }
}

#[test]
fn unknown_units_are_refused_with_the_nearest() {
    let bench = Bench::with_plan(SMALL_PLAN);
    for (units, said) in
        [("inn", "nearest is in"), ("in,mm", "one unit for each"), ("furlongs", "is not one of")]
    {
        let ran = bench.line(&format!("check --units {units}")).expect(2);
        assert!(ran.err.contains(said), "{units}: {}", ran.err);
    }
    bench.write(
        "odd.toml",
        SMALL_PLAN.replacen("[tolerance]", "[units]\nlength = \"feet\"\n\n[tolerance]", 1),
    );
    let ran = bench.line("new odd.toml other.jigtrue").expect(1);
    assert!(ran.err.contains("length"), "{}", ran.err);
}

/// An option is obeyed or refused, never passed over in silence.
#[test]
fn an_option_that_would_do_nothing_is_refused() {
    let bench = Bench::with_plan(SMALL_PLAN);
    for line in [
        "sheet -o s.pdf --units in",
        "sheet -o s.svg --svg --paper letter",
        "export --units in",
        "verify --units in",
        "ports --baud 9600",
        "take --facing aft",
        "take S1 f 1.45 --blind",
        "sign --new-key k --capacity builder",
        "open-item --reason sealed",
    ] {
        let ran = bench.line(line);
        assert!(ran.code != 0, "{line}: {} {}", ran.out, ran.err);
        assert!(!bench.path("s.pdf").exists() && !bench.path("s.svg").exists(), "{line}");
    }
    let ran = bench.line("sheet -o s.pdf --units in").expect(2);
    assert!(ran.err.contains("units of its plan"), "{}", ran.err);
}

#[test]
fn tables_without_a_log_are_shown_in_the_units_asked_for() {
    let bench = Bench::new();
    let table = "span_mm,offset_mm\n0,0\n254,25.4\n508,0\n";
    let out = bench.piped("straight - --units in", table).expect(0).out;
    assert!(out.contains("span in") && out.contains("1.00"), "{out}");
    let json = |line: &str| bench.piped(line, table).expect(0).out;
    assert_eq!(json("straight - --json"), json("straight - --json --units in"));
}
