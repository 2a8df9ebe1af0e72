//! Failures as programs read them: `error` has the text of standard error, `failure` its parts.

use crate::program::{Bench, SMALL_PLAN};

#[test]
fn a_failure_says_what_it_is_with_the_nearest_word_and_the_exit_code() {
    let bench = Bench::with_plan(SMALL_PLAN);
    bench.line("stage").expect(0);
    for (line, code, kind, nearest) in [
        ("chek --json", 2, "usage", Some("check")),
        ("check --jsn --json", 2, "usage", Some("--json")),
        ("check wng.jigtrue --json", 1, "no_log", Some("wing.jigtrue")),
        ("take wing.jigtrue incidence@S21 1.0 --json", 1, "not_known", Some("incidence@S2")),
        ("take S1 f 1,45 --json", 1, "refused", None),
        ("take S1 f 25 --json", 1, "asked", None),
        ("take S1 f 2.0 --sure --json", 2, "nothing_asked", None),
        ("take S1 f 1000 --json", 1, "refused", None),
        ("check --stage nowhere --json", 1, "not_known", None),
        ("move nothing \"1 cw\" --json", 1, "not_known", None),
        ("import missing.csv --json", 1, "file", None),
    ] {
        let ran = bench.line(line).expect(code);
        let json = ran.json();
        assert_eq!(json["format"], 1, "{line}: {json}");
        let failure = &json["failure"];
        assert_eq!(failure["kind"], kind, "{line}: {json}");
        assert_eq!(failure["exit_code"], code, "{line}: {json}");
        assert_eq!(failure["nearest"].as_str(), nearest, "{line}: {json}");
        let words = json["error"].as_str().unwrap();
        let message = failure["message"].as_str().unwrap();
        assert!(!message.is_empty() && words.contains(message), "{line}: {json}");
        let said = words.lines().next().unwrap();
        assert!(ran.err.contains(said.trim_start_matches("error: ")), "{line}: {} | {}", ran.err, said);
    }
}

#[test]
fn a_table_names_its_lines() {
    let bench = Bench::with_plan(SMALL_PLAN);
    bench.line("stage").expect(0);
    bench.write("t.csv", "point,facing,value_deg\nincidence@S1,forward,2.0\n\nincidence@S9,forward,1.0\n");
    let json = bench.line("import t.csv --json").expect(1).json();
    assert_eq!(json["failure"]["kind"], "table", "{json}");
    assert_eq!(json["failure"]["lines"][0]["line"], 4, "{json}");
}
