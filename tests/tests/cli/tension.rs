//! Tensions of cables by every way in: typed from a dial, from a pipe, from a table, exported and imported again,
//! from a port.

use crate::listening::Listening;
use crate::program::Bench;
use serde_json::Value;

/// Limits and tables are invented.
const PLANE: &str = r#"format = 1
[aeroplane]
name = "Orrelby trainer"
[[cable]]
name = "rudder left"
size = "1/8 in, 7x19"
chart = [{ at = "0 °C", tension = "41 lbf" }, { at = "40 °C", tension = "60 lbf" }]
tolerance = "6 lbf"
[[cable]]
name = "rudder right"
size = "1/8 in, 7x19"
chart = [{ at = "0 °C", tension = "41 lbf" }, { at = "40 °C", tension = "60 lbf" }]
tolerance = "6 lbf"
[[difference]]
name = "rudder cables"
of = "tension@rudder left"
less = "tension@rudder right"
tolerance = "5 lbf"
[[stage]]
name = "controls rigged"
requires = ["tension@*"]
"#;

const DIAL: &str = r#"name = "tensiometer"
number = "4090"
kind = "tensiometer"
resolution = 1
accuracy = 1
checked = "2031-01-10"
due = "2099-01-10"
[[table]]
cable = "1/8 in, 7x19"
riser = "2"
accuracy = "1 lbf"
rows = [{ dial = 20, force = "30 lbf" }, { dial = 40, force = "60 lbf" }, { dial = 50, force = "80 lbf" }]
"#;

const POUND: f64 = 4.448_221_615_260_5;

fn bench() -> Bench {
    let bench = Bench::new();
    bench.write("plane.toml", PLANE);
    bench.write("dial.toml", DIAL);
    bench.line("new plane.toml plane.jigtrue").expect(0);
    bench.line("instrument add plane.jigtrue dial.toml").expect(0);
    bench.line("stage plane.jigtrue \"controls rigged\"").expect(0);
    bench
}

fn check(bench: &Bench) -> Value {
    bench.line("check plane.jigtrue --json").json()
}

fn tension(a: &Value, cable: &str) -> f64 {
    let name = format!("tension of {cable}");
    let all = a["rigging"].as_array().unwrap();
    let found = all.iter().find(|r| r["name"] == name.as_str()).unwrap_or_else(|| panic!("no {name}: {a:#}"));
    found["judged"]["value"].as_f64().unwrap() / POUND
}

fn holds_both(bench: &Bench) {
    let a = check(bench);
    assert!(
        (tension(&a, "rudder left") - 51.0).abs() < 1e-9 && (tension(&a, "rudder right") - 49.5).abs() < 1e-9
    );
    assert_eq!(a["gate"]["state"], "clear", "{:#}", a["gate"]["reasons"]);
    let pair = &a["rig_pairs"][0];
    assert_eq!(
        (pair["name"].as_str(), pair["difference"]["verdict"].as_str()),
        (Some("tension of rudder"), Some("within"))
    );
    // A tension has no direction; which of two is the greater has.
    let text = bench.line("check plane.jigtrue").expect(0).out;
    assert!(!text.contains("+22") && text.contains("difference rudder cables"), "{text}");
}

#[test]
fn a_dial_is_read_by_the_instruments_own_table() {
    let bench = bench();
    let said = bench.line("take plane.jigtrue \"tension@rudder left\" 34 --temp 20").expect(0).out;
    assert!(said.contains("34"), "{said}");
    for (typed, says) in [
        ("51 lbf", "shows divisions"),
        ("19", "goes from 20 to 50"),
        ("51", "goes from 20 to 50"),
        ("-34", "shows divisions"),
        ("nan", "shows divisions"),
        ("inf", "shows divisions"),
        ("1e1", "shows divisions"),
        ("33,5", "shows divisions"),
        ("", ""),
    ] {
        let ran =
            bench.line(&format!("take plane.jigtrue \"tension@rudder right\" --temp 20 -- \"{typed}\""));
        assert_ne!(ran.code, 0, "{typed}: {}", ran.out);
        assert!(ran.err.contains(says), "{typed}: {}", ran.err);
    }
    // A value between the steps of the dial is questioned.
    let asked = bench.line("take plane.jigtrue \"tension@rudder right\" 33.5 --temp 20").expect(1);
    assert!(asked.err.contains("is between the steps"), "{}", asked.err);
    assert_eq!(check(&bench)["gate"]["state"], "hold");
    bench.line("take plane.jigtrue \"tension@rudder right\" 33 --temp 20").expect(0);
    holds_both(&bench);
    for form in ["csv", "jsonl"] {
        let table = bench.line(&format!("export plane.jigtrue --format {form}")).expect(0).out;
        let other = self::bench();
        other.piped("import plane.jigtrue -", &table).expect(0);
        holds_both(&other);
    }
}

#[test]
fn a_dial_from_a_table() {
    let bench = bench();
    let head = "point,value,temperature_C\n";
    for (rows, says) in [
        ("tension@rudder left,60,20\n", "goes from 20 to 50"),
        ("tension@rudder left,34 lbf,20\n", "shows divisions"),
    ] {
        let ran = bench.piped("import plane.jigtrue -", &format!("{head}{rows}")).expect(1);
        assert!(ran.err.contains(says), "{rows}: {}", ran.err);
    }
    let ran = bench
        .piped("import plane.jigtrue -", "point,value_N,temperature_C\ntension@rudder left,230,20\n")
        .expect(1);
    assert!(ran.err.contains("divisions"), "{}", ran.err);
    let rows = "tension@rudder left,34,20\ntension@rudder right,33,20\n";
    bench.piped("import plane.jigtrue -", &format!("{head}{rows}")).expect(0);
    holds_both(&bench);
}

#[test]
fn a_dial_from_a_pipe() {
    let bench = bench();
    let ran = bench.piped("take plane.jigtrue --temp 20", "34\n33\n");
    assert_eq!(ran.code, 0, "{} {}", ran.out, ran.err);
    holds_both(&bench);
}

#[test]
fn an_impossible_file_is_refused() {
    let bench = bench();
    for (from, to, says) in [
        ("resolution = 1", "resolution = \"1 lbf\"", "resolution"),
        ("dial = 40, force = \"60 lbf\"", "dial = 40, force = \"20 lbf\"", "increases with the dial"),
        ("dial = 40, force", "dial = 20, force", "increases with the dial"),
        ("kind = \"tensiometer\"", "kind = \"tape\"", "only a tensiometer"),
        ("dial = 40, ", "", "dial"),
        ("force = \"60 lbf\"", "force = \"60 in\"", "force"),
        ("force = \"60 lbf\"", "force = nan", "force"),
        ("cable = \"1/8 in, 7x19\"\n", "", "cable"),
        ("riser", "raiser", "raiser"),
    ] {
        bench.write("other.toml", DIAL.replacen(from, to, 1));
        let ran = bench.line("instrument add plane.jigtrue other.toml").expect(1);
        assert!(ran.err.contains(says), "{to}: {}", ran.err);
    }
}

/// A tensiometer that sends forces, like lines of a keyboard.
#[test]
fn a_force_from_a_port() {
    let bench = Bench::new();
    bench.write("plane.toml", PLANE);
    bench.line("new plane.toml plane.jigtrue").expect(0);
    bench.line("stage plane.jigtrue \"controls rigged\"").expect(0);
    let file = "name = \"load cell\"\nkind = \"tensiometer\"\nresolution = \"0.1 lbf\"\naccuracy = \"0.5 lbf\"\nchecked = 2031-01-10\n\
                due = 2099-01-10\n[port]\nkeyboard = true\n[dialect]\nspeaks = \"lines\"\nline = \"F={force lbf .1}\"\n[axes]\n\
                measures = \"force\"\n[settle]\nhold_ms = 0\n";
    bench.write("cell.toml", file);
    let args = [
        "listen",
        "plane.jigtrue",
        "--port",
        "-",
        "--instrument",
        "cell.toml",
        "--hands-free",
        "--temp",
        "20",
    ];
    let mut program = Listening::start(&bench, &args);
    for line in ["F=51.0", "F=49.5"] {
        program.types(line);
        program.until("taken ");
    }
    // Nothing more is wanted, so it ends automatically.
    program.until("2 readings taken");
    program.ends();
    holds_both(&bench);
}
