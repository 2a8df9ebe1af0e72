//! A slip in a fixed word is answered with the word that was meant, wherever such a word is typed.

use crate::program::{Bench, SMALL_PLAN, SUPPORT};
use stories::seeded::Draws;

/// Commands with `WORD` in place of a fixed word, and right words for it.
const PLACES: [(&str, &[&str]); 26] = [
    ("WORD", &["check", "take", "import", "stage", "sheet", "verify", "withdraw"]),
    ("check --WORD", &["brief", "json", "full"]),
    ("take S1 2.05 --facing WORD", &["forward", "aft"]),
    ("take S1 WORD 2.05", &["forward", "aft", "outboard", "inboard", "fwd"]),
    ("take WORD 2.05", &["incidence@S1", "spot@bolt"]),
    ("take bolt 88 --instrument WORD", &["torque wrench"]),
    ("check --color WORD", &["always", "never", "auto"]),
    ("check --units WORD", &["deg-min", "in-lb", "in"]),
    ("check --stage WORD", &["ribs on", "ready to skin"]),
    ("form --stage WORD", &["ribs on"]),
    ("stage WORD", &["ready to skin"]),
    ("move wing.jigtrue WORD 1mm", &["tip front"]),
    ("move wing.jigtrue \"tip front\" 1/8WORD", &["cw", "ccw", "clockwise", "anticlockwise"]),
    ("export --format WORD", &["csv", "jsonl"]),
    ("sheet -o x.pdf --paper WORD", &["a4", "letter"]),
    ("form -o x.pdf --paper WORD", &["a4", "letter"]),
    ("sheet -o x.pdf --for WORD", &["bolt"]),
    ("plan --explain WORD", &["incidence", "diagonal", "spacing"]),
    ("instrument example WORD", &["inclinometer", "caliper", "modbus"]),
    ("demo --case WORD", &["hold", "sixty", "upright", "rigged"]),
    ("man WORD", &["check", "take"]),
    ("completions WORD", &["bash", "zsh", "fish"]),
    ("sign --capacity WORD --statement x --as-seen", &["builder", "inspector"]),
    ("decide 1 .1 0 2 --rule WORD", &["guarded", "simple"]),
    ("open-item WORD --close", &["tip post brace loose"]),
    ("fit t.csv --y WORD", &["second", "third"]),
];

/// The columns and words of a table.
const TABLES: [(&str, &[&str]); 5] = [
    ("WORD,value\nS1,2.05\n", &["point"]),
    (
        "point,value,WORD\nS1,2.05,\n",
        &["facing", "instrument", "temperature_C", "round", "note", "read_to", "sure"],
    ),
    ("point,value,facing\nS1,2.05,WORD\n", &["forward", "aft", "fwd", "inboard"]),
    ("point,value,instrument\nS1,2.05,WORD\n", &["beam level"]),
    ("point,value,facing,sure\nS1,9,f,WORD\n", &["yes", "no"]),
];

/// Words of a plan, each as a change of it.
const PLANS: [(&str, &str, &[&str]); 5] = [
    ("side = \"left\"", "side = \"WORD\"", &["left", "right"]),
    ("attitude = \"chord-level\"", "attitude = \"WORD\"", &["chord-level"]),
    ("direction = \"up\"", "direction = \"WORD\"", &["up", "aft"]),
    ("clockwise = \"raises\"", "clockwise = \"WORD\"", &["raises", "lowers"]),
    ("quantity = \"torque\"", "quantity = \"WORD\"", &["torque", "length"]),
];

/// The word with one slip: a letter doubled, or two exchanged if that makes another word.
fn slip(word: &str, draws: &mut Draws) -> String {
    let mut letters: Vec<char> = word.chars().collect();
    let most = letters.len() as u64 - 1;
    let at = usize::try_from(draws.below(most)).unwrap();
    if draws.below(2) == 0 && letters[at] != letters[at + 1] {
        letters.swap(at, at + 1);
    } else {
        letters.insert(at, letters[at]);
    }
    letters.into_iter().collect()
}

#[test]
fn every_fixed_word_has_its_nearest() {
    let plan = SMALL_PLAN.replacen("[[stage]]", &format!("{SUPPORT}\n[[stage]]"), 1);
    let bench = Bench::with_plan(&plan);
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    bench.write("t.csv", "first,second,third\n1,2,3\n2,3,4\n3,5,6\n");
    let mut draws = Draws::new(17);
    let mut wrong = Vec::new();
    let mut looked = 0;
    let mut see = |what: String, word: &str, ran: crate::program::Ran| {
        looked += 1;
        // The answer repeats what was typed, so the right word must stand by itself.
        let said = format!("{} {}", ran.err, ran.out);
        let named = ["nearest", "Nearest", "similar", "did you mean"].iter().any(|how| said.contains(how));
        if ran.code == 0 || !named || !said.contains(word) {
            wrong.push(format!("{what} (exit {}): {}", ran.code, said.trim()));
        }
    };
    for (line, words) in PLACES {
        for word in words {
            let typed = slip(word, &mut draws);
            let args: Vec<String> =
                crate::program::words(line).into_iter().map(|w| w.replace("WORD", &typed)).collect();
            see(args.join(" "), word, bench.run(&args));
        }
    }
    for (table, words) in TABLES {
        for word in words {
            let typed = table.replace("WORD", &slip(word, &mut draws));
            see(typed.clone(), word, bench.piped("import wing.jigtrue -", &typed));
        }
    }
    for (was, is, words) in PLANS {
        for word in words {
            let typed = slip(word, &mut draws);
            bench.write("p.toml", plan.replacen(was, &is.replace("WORD", &typed), 1));
            see(typed, word, bench.line("new p.toml p.jigtrue"));
        }
    }
    assert!(wrong.is_empty(), "{} of {looked}:\n{}", wrong.len(), wrong.join("\n\n"));
    println!("{looked} slips, each answered with the word that was meant");
}

/// Facings and directions that were misspelt, typed, in a table and in a round.
#[test]
fn misspelt_facings_and_directions_are_answered() {
    let bench = Bench::begun();
    let ran = bench.line("take S1 forwrad 2.05").expect(1);
    assert!(ran.err.contains("no facing `forwrad`; nearest is `forward`"), "{}", ran.err);
    let ran = bench.line("take S1 f 2.05 --facing aft").expect(1);
    assert!(ran.err.contains("contradict each other"), "{}", ran.err);
    bench.line("take S1 f 2.05 --facing forward").expect(0);
    for (typed, near) in [("tkae", "take"), ("chekc", "check"), ("fti", "fit"), ("mna", "man")] {
        let ran = bench.line(typed).expect(2);
        assert!(ran.err.starts_with(&format!("jigtrue: no verb {typed}. Nearest: {near}\n")), "{}", ran.err);
    }
    // What is near to nothing is compared with nothing, and a log's name leads to the verb that shows it.
    let ran = bench.line("merle").expect(2);
    assert_eq!(ran.err, "jigtrue: no verb merle\n  jigtrue help lists every verb\n");
    let ran = bench.line("wing.jigtrue --json").expect(2);
    assert!(ran.err.contains("jigtrue check wing.jigtrue"), "{}", ran.err);
    assert_eq!(ran.json()["failure"]["message"], "no verb wing.jigtrue");
    let ran = bench.piped("import -", "point,value,facing\nS1,2.05,forwrad\nS1,2.05,atf\n").expect(1);
    assert!(ran.err.contains("nearest is `forward`") && ran.err.contains("nearest is `aft`"), "{}", ran.err);
    for (line, near) in [
        ("forwrad 2.05", "forward"),
        ("skp", "skip"),
        ("bakc", "back"),
        ("sotp", "stop"),
        ("hlep", "help"),
        ("S9", "S1"),
    ] {
        let ran = bench.piped("take", &format!("{line}\n")).expect(1);
        assert!(ran.err.contains(&format!("nearest is `{near}`")), "{line}: {}", ran.err);
    }
    let ran = bench.piped("take", "-1.95 !\n").expect(1);
    assert_eq!(ran.err.matches("othing was recorded").count(), 1, "{}", ran.err);
    // A slip that was taken back is named by its entry, as on the sheet.
    bench.line("undo --reason \"typed wrong\"").expect(0);
    let check = bench.line("check").out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(check.contains("1 slip was withdrawn at once by the one who typed it: entry 3"), "{check}");
}
