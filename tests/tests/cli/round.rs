//! A round entered only by typing values, at a terminal and from a pipe.

use crate::program;
use crate::program::{Bench, SMALL_PLAN};
use crate::typing::Person;
use serde_json::Value;

/// The readings of the log that count, as point, facing and text.
fn counting(bench: &Bench) -> Vec<String> {
    let all: Vec<Value> = bench
        .line("export --format jsonl")
        .expect(0)
        .out
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    let word = |e: &Value, key: &str| e["body"][key].as_str().unwrap_or_default().to_owned();
    all.iter()
        .filter(|e| e["kind"] == "reading" && e["withdrawn_by"].is_null())
        .map(|e| format!("{} {} {}", word(e, "point"), word(e, "facing"), word(e, "text")))
        .collect()
}

/// A round as a person types it: the level is turned once a station, a slip is questioned, `b` goes back to a value.
#[test]
fn a_person_walks_the_stations_and_corrects_slips() {
    let bench = Bench::begun();
    let mut ann = Person::at(&bench, "take");
    let said = ann.answers("1/6 S1 forward, about +2.0: ", "2.1");
    assert!(
        said.contains("6 values to take") && said.contains("beam level, steps of 0.05°, round 1"),
        "{said}"
    );
    ann.answers("2/6 S1 aft, about -2.1: ", "-1.9");
    // Enter alone records nothing; a wrong unit is reported; help is there.
    let said = ann.answers("S1 +2.000°, zero +0.100", "");
    assert!(said.contains("3/6 S2 aft"), "turned once a station: {said}");
    ann.answers("3/6 S2 aft", "1.2 mm");
    ann.answers("3/6 S2 aft", "?");
    ann.answers("b    back", "-12");
    ann.answers("-12° is 11.1° from what S2 aft should show", "!-");
    ann.answers("3/6 S2 aft", "-.9");
    ann.answers("4/6 S2 forward", "1.2");
    // Back: the value before, then the one before that, then on again.
    ann.answers("5/6 S3 forward", "b");
    ann.answers("S2 forward is 1.2 (entry 6). New value, or Enter to keep it: ", "1.1");
    let said = ann.answers("5/6 S3 forward", "b");
    assert!(said.contains("entries 5, 8"), "{said}");
    ann.answers("S2 forward is 1.1", "b");
    ann.answers("S2 aft is -.9", "");
    ann.answers("5/6 S3 forward", "s");
    let all = {
        let said = ann.question();
        let _ = said;
        ann.types("");
        ann.ends(0)
    };
    assert!(all.contains("S3 skipped; 2 values are still wanted there."), "{all}");
    assert_eq!(
        counting(&bench),
        [
            "incidence@S1 forward 2.1",
            "incidence@S1 aft -1.9",
            "incidence@S2 aft -.9",
            "incidence@S2 forward 1.1"
        ]
    );
    // It goes on where it stopped, at a station that is named.
    let mut ann = Person::at(&bench, "take --blind");
    ann.answers("1/2 S3 forward: ", "s3 a");
    ann.answers("2/2 S3 aft: ", "q");
    assert!(ann.ends(0).contains("Stopped. 0 of 2 taken. jigtrue take goes on at S3 forward."));
}

/// A value that is kept on purpose says so in its entry; one beyond 30° is questioned twice.
#[test]
fn a_value_is_kept_on_purpose_only_with_a_mark() {
    let bench = Bench::begun();
    let mut ann = Person::at(&bench, "take");
    ann.answers("S1 forward", "40");
    ann.answers("Not recorded. Type it again, or ! to record 40 anyway.", "!");
    ann.answers("once more", "!");
    ann.answers("2/6 S1 aft", "!");
    ann.answers("Nothing was asked", "q");
    ann.ends(0);
    let last = bench.line("export --format jsonl").expect(0).out.lines().last().unwrap().to_owned();
    let entry: Value = serde_json::from_str(&last).unwrap();
    assert_eq!(entry["body"]["text"], "40");
    assert!(entry["body"]["asked"]["why"].as_str().unwrap().contains("should show"), "{entry}");
}

/// At the end of a round the program says what was found and offers the next stage; Enter begins it.
#[test]
fn the_end_of_a_round_offers_the_next_stage() {
    let bench = Bench::with_plan(SMALL_PLAN);
    let mut ann = Person::at(&bench, "take");
    ann.answers("Begin ribs on (1 of 2)? [Y/n] ", "");
    for value in ["2.1", "-1.9", "-.9", "1.1", ".1", ".1"] {
        ann.answers(": ", value);
    }
    let said = ann.answers("Begin ready to skin (2 of 2)?", "");
    assert!(said.contains("Done: 6 readings") && said.contains("● 3 within"), "{said}");
    assert!(said.contains("washout error") && said.contains("● within ±0.3"), "{said}");
    assert!(said.contains("zero          +0.10"), "{said}");
    for value in ["2.1", "-1.9", "-.9", "1.1", ".1", ".1"] {
        ann.answers(": ", value);
    }
    let said = ann.answers("spot@bolt", "90");
    assert!(said.contains("torque wrench, steps of 1 in-lb"), "{said}");
    let all = ann.ends(0);
    assert!(all.contains("Next  jigtrue open-item"), "{all}");
    let a = bench.line("check --this-stage --json").expect(0).json();
    assert_eq!(a["stage"], "ready to skin");
}

/// A twist is corrected: the walk offers the move, records what was typed, and measures again.
#[test]
fn the_end_of_a_round_offers_the_move() {
    let bench = Bench::with_plan(&program::shipped("two-post", "plan.toml"));
    bench.line("stage").expect(0);
    let mut ann = Person::at(&bench, "take");
    for value in [".15", ".1", ".75", "-.5", ".05", ".15", ".15", ".1"] {
        ann.answers(": ", value);
    }
    let said =
        ann.answers("Type what you turned at root aft foot, as 3 1/4 cw, or Enter to stop here: ", "up");
    assert!(said.contains("Turn  root aft foot: 3 1/4 turns clockwise"), "{said}");
    ann.answers("Type what you turned at root aft foot", "3 1/4 cw");
    ann.answers("Type what you turned at root fore foot", "root fore foot 3 1/4 ccw");
    // What the feet carry is measured again.
    let said = ann.answers("1/8 level@root-post forward", "q");
    assert!(said.contains("8 values to take"), "{said}");
    ann.ends(0);
    let moves = bench.line("check --json").json()["moves"].clone();
    assert_eq!(moves.as_array().unwrap().len(), 2, "{moves}");
    assert_eq!(moves[1]["text"], "3 1/4 ccw");
}

/// If several instruments would do, the program asks once, and the next stage uses the same one.
#[test]
fn the_instrument_is_asked_for_once() {
    let bench = Bench::with_plan(&program::shipped("two-post", "plan.toml"));
    bench.line("stage \"spar bolted\" --anyway \"the jig was levelled before\"").expect(0);
    let mut ann = Person::at(&bench, "take");
    ann.answers("with which? 1 depth gauge 2086  2 line gauge 1977  3 steel tape 1999: ", "4");
    ann.answers("with which?", "2");
    ann.answers("1/16 offset@front:S1: ", "12.1");
    ann.answers("2/16 offset@front:S2", "q");
    ann.ends(0);
    let mut ann = Person::at(&bench, "take");
    let said = ann.answers("1/15 offset@front:S2", "q");
    assert!(said.contains("line gauge 1977, steps of 0.05 mm"), "{said}");
    ann.ends(0);
    // From a pipe nobody can be asked.
    let other = Bench::with_plan(&program::shipped("two-post", "plan.toml"));
    other.line("stage \"spar bolted\" --anyway \"the jig was levelled before\"").expect(0);
    let ran = other.piped("take", "12.1\n").expect(1);
    assert!(
        ran.err.contains("line 1: several instruments") && ran.err.contains("--instrument"),
        "{}",
        ran.err
    );
    let ran = other.piped("take --instrument \"line gauge\"", "12.1\n12.3\n").expect(0);
    assert_eq!(ran.out, "3 offset@front:S1 12.1 mm\n4 offset@front:S2 12.3 mm\n");
}

#[test]
fn from_a_pipe_each_line_is_answered_and_the_first_failure_ends_it() {
    let bench = Bench::begun();
    let ran = bench.piped("take wing.jigtrue", "2.1\n-1.9\n\n# a remark\n-.9\n17\n1.1\n").expect(1);
    assert_eq!(
        ran.out,
        "3 incidence@S1 forward 2.1\n4 incidence@S1 aft -1.9       S1 +2.000°, zero +0.100\n5 incidence@S2 aft -.9\n"
    );
    assert!(ran.err.contains("line 6: 17° is "), "{}", ran.err);
    assert!(ran.err.contains("Entries 3 to 5 are on disk") && ran.err.contains("tail -n +6"), "{}", ran.err);
    assert_eq!(counting(&bench).len(), 3, "what was taken stays");
    // As the message says: corrected, and on from that line. A remark in JSON for each line.
    let ran = bench.piped("take --json", "1.1\n.1\n.1\n").expect(0);
    let answers: Vec<Value> = ran.out.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(answers.len(), 3);
    assert_eq!(answers[0]["entry"]["body"]["facing"], "forward");
    assert_eq!(answers[0]["entry"]["seq"], 6);
    // Nothing more is wanted, but a point that is named is still recorded.
    let ran = bench.piped("take", "2.1\n").expect(1);
    assert!(ran.err.contains("nothing more is wanted"), "{}", ran.err);
    bench.piped("take", "S1 f 2.1\nspot@bolt 90\n").expect(0);
    let ran = bench.piped("take", "").expect(1);
    assert!(ran.err.contains("nothing was recorded"), "{}", ran.err);
}

#[test]
fn a_pipe_can_go_anywhere_a_person_can() {
    let bench = Bench::begun();
    let typed = "S3 a 0.1\nb\n0.15\nS1\n2.1\n-12 !\ns\nq\n9\n";
    let ran = bench.piped("take", typed).expect(0);
    assert_eq!(
        counting(&bench),
        ["incidence@S3 aft 0.15", "incidence@S1 forward 2.1", "incidence@S1 aft -12"],
        "{}\n{}",
        ran.out,
        ran.err
    );
    // A mark without a question is a slip too.
    let ran = bench.piped("take", "S2 f 1.1 !\n").expect(1);
    assert!(ran.err.contains("line 1"), "{}", ran.err);
}

#[test]
fn several_values_in_one_line() {
    let bench = Bench::begun();
    let ran = bench.line("take S1 f 2.1 a -1.9 S2 a -.9 f 1.1").expect(0);
    assert_eq!(ran.out.lines().count(), 4, "{}", ran.out);
    assert!(ran.out.contains("4 incidence@S1 aft -1.9       S1 +2.000°, zero +0.100"), "{}", ran.out);
    bench.line("take spot@bolt 90").expect(0);
    bench.line("take bolt 91 92").expect(0);
    bench.line("take incidence@S3 0.1 --facing forward").expect(0);
    bench.line("take S3 --facing outboard 0.1").expect(0);
    // The first line that cannot be recorded ends the input; the answer says what is on disk.
    let before = counting(&bench).len();
    let ran = bench.line("take S3 f .1 a 55").expect(1);
    assert!(ran.err.contains("is on disk") && ran.err.contains("--sure"), "{}", ran.err);
    assert_eq!(counting(&bench).len(), before + 1);
    for (line, says) in [
        ("take S21 f 1", "nearest is `S2`"),
        ("take S1 f", "no value"),
        ("take S1", "no value"),
        ("take bolt f 90", "f"),
        ("take S1 f 1,45", "comma"),
    ] {
        let ran = bench.line(line).expect(1);
        assert!(ran.err.contains(says), "{line}: {}", ran.err);
    }
}

/// `undo` withdraws one's own last entry of any kind; a second time, the undo itself. A range of entries is withdrawn
/// in one transaction.
#[test]
fn undo_and_withdraw_take_back_what_was_entered() {
    let bench = Bench::begun();
    bench.line("take S1 f 2.1 a -1.9").expect(0);
    bench.run(&["note", "--by", "otto", "not mine"]).expect(0);
    let out = bench.line("undo").expect(0).out;
    assert!(out.contains("6 withdraws 4 (S1 aft -1.9°): typed wrong"), "{out}");
    let out = bench.line("undo").expect(0).out;
    assert!(out.contains("7 withdraws 6") && out.contains("4 counts again"), "{out}");
    assert_eq!(counting(&bench).len(), 2);
    bench.line("stage --anyway \"to see it\"").expect(0);
    let ran = bench.line("undo").expect(1);
    assert!(ran.err.contains("needs a reason of its own"), "{}", ran.err);
    bench.line("undo --reason \"not yet\"").expect(0);
    assert_eq!(bench.line("check --json").json()["stage"], "ribs on");
    let mut ann = Person::at(&bench, "undo");
    ann.answers("Withdraw it? Type the reason, or Enter for \"typed wrong\": ", "n");
    assert!(ann.ends(1).contains("Nothing was withdrawn"));
    // Ranges, all or none; an entry that cannot be withdrawn refuses the whole range.
    bench.line("take S2 f 1.1 a -.9 S3 f .1 a .1").expect(0);
    let head = bench.line("export").expect(0).out.lines().count() - 1;
    bench.line("withdraw 1-4 --reason \"wrong wing\"").expect(1);
    assert_eq!(bench.line("export").expect(0).out.lines().count() - 1, head, "nothing was withdrawn");
    let out = bench.line("withdraw 3 10-13 --reason \"level was on a rivet head\"").expect(0).out;
    assert!(out.contains("5 entries are withdrawn (3, 10-13)"), "{out}");
    let ran = bench.line("withdraw 10-13 --reason again").expect(1);
    assert!(ran.err.contains("none of these"), "{}", ran.err);
    for wrong in
        ["withdraw 99 --reason x", "withdraw 90-99 --reason x", "withdraw 3 --reason x", "withdraw 4"]
    {
        bench.line(wrong).expect(1);
    }
    bench.line("withdraw 5-3 --reason x").expect(2);
    let list = bench.line("entries").expect(0).out;
    assert!(list.contains("S1 aft -1.9°") && list.contains("ribs on, round 1"), "{list}");
    assert!(list.lines().any(|l| l.contains("S2 forward 1.1°") && l.ends_with("withdrawn by 15")), "{list}");
    let two = bench.line("entries 3-4").expect(0).out;
    assert_eq!(two.lines().count(), 3, "a day and two entries:\n{two}");
    assert!(list.lines().all(|l| l.chars().count() <= 80), "{list}");
    let json = bench.line("entries 4 --json").expect(0).json();
    assert_eq!(json["entries"][0]["stage"], "ribs on");
    bench.line("entries 500").expect(1);
}

/// A move among several entries is questioned: withdrawing it says that the screw was never turned.
#[test]
fn a_move_is_not_withdrawn_among_others_unnoticed() {
    let bench = Bench::with_plan(&program::shipped("two-post", "plan.toml"));
    bench.line("stage").expect(0);
    bench.line("take level@root-post f .1 a .1").expect(0);
    bench.line("move \"root aft foot\" \"1/4 cw\"").expect(0);
    let ran = bench.line("withdraw 3-5 --reason slipped").expect(1);
    assert!(ran.err.contains("--yes") && ran.err.contains("jigtrue withdraw 3-4\n"), "{}", ran.err);
    // An entry that can never be withdrawn is not proposed, and a range beyond the last entry is a slip.
    let ran = bench.line("withdraw 1-5 --reason slipped").expect(1);
    assert!(ran.err.contains("jigtrue withdraw 3-4\n"), "{}", ran.err);
    let ran = bench.line("withdraw 3-50 --reason slipped --yes").expect(1);
    assert!(ran.err.contains("there is no entry 50; the last is 5"), "{}", ran.err);
    let mut ann = Person::at(&bench, "withdraw 3-5");
    ann.answers("Why?", "slipped");
    ann.answers("Withdraw all 3 entries? [y/N] ", "");
    ann.ends(1);
    bench.line("withdraw 3-5 --reason slipped --yes").expect(0);
    assert_eq!(bench.line("check --json").json()["moves"].as_array().unwrap().len(), 0);
}

/// Open items have numbers, also those that a stage left open.
#[test]
fn what_is_left_open_is_listed_and_closed_by_number() {
    let bench = Bench::with_plan(&program::shipped("two-post", "plan.toml"));
    bench.line("stage \"spar bolted\" --anyway \"levelled before\"").expect(0);
    bench.line("open-item \"bracket bolts not sealed\"").expect(0);
    let out = bench.line("open-item").expect(0).out;
    assert!(out.contains("2  tip post brace held by clamps only (open, spar bolted)"), "{out}");
    assert!(out.contains("3  bracket bolts not sealed (open"), "{out}");
    bench.line("open-item 2 --close \"braced\"").expect(0);
    bench.line("open-item 3 --close").expect(0);
    assert!(bench.line("open-item").expect(0).out.contains("Nothing is left open"));
    for again in ["--close", "--carry --reason x"] {
        let ran = bench.line(&format!("open-item 3 {again}")).expect(1);
        assert!(ran.err.contains("was closed already (entry 5)"), "{again}: {}", ran.err);
    }
    bench.line("open-item --close").expect(1);
}

/// A person signs by answering; a slip in the capacity is named; nothing is asked from a pipe.
#[test]
fn signing_asks_only_at_a_terminal() {
    let bench = Bench::begun();
    let ran = bench.line("sign").expect(2);
    assert!(ran.err.contains("--capacity"), "{}", ran.err);
    let ran = bench.line("sign --capacity bilder --statement seen --as-seen").expect(1);
    assert!(ran.err.contains("nearest is builder"), "{}", ran.err);
    let ann = Person::at(&bench, "sign");
    let all = ann.ends(11);
    assert!(all.contains("jigtrue sign --as-seen"), "{all}");
    let mut ann = Person::at(&bench, "sign --as-seen --by orla");
    ann.answers("Name orla. In what capacity? 1 builder 2 inspector: ", "2");
    ann.answers("Statement: ", "seen; nothing measured yet");
    ann.answers("Type sign to sign it: ", "no");
    assert!(ann.ends(1).contains("Nothing was signed."));
    assert_eq!(bench.line("check --json").json()["signatures"].as_array().unwrap().len(), 0);
    let mut ann = Person::at(&bench, "sign --as-seen --by orla");
    for answer in ["2", "seen", "sign"] {
        ann.answers(": ", answer);
    }
    ann.ends(0);
    let signed = bench.line("check --json").json()["signatures"][0].clone();
    assert_eq!((signed["who"].as_str(), signed["capacity"].as_str()), (Some("orla"), Some("inspector")));
}

/// In a typed file as anywhere: a place named without a facing faces forward, its other half comes next, and a second
/// value is a second reading. No value goes to another place than the one named.
#[test]
fn values_with_their_places_go_there() {
    let bench = Bench::begun();
    let lines = "S1 2.05\nS2 1.05\na -.95\nS3\nf 0.05\na 0.05\nS3 f 0.1\nS1 a -1.95\n";
    bench.piped("take wing.jigtrue", lines).expect(0);
    let taken: Vec<(String, String)> = bench
        .line("export wing.jigtrue --format jsonl")
        .out
        .lines()
        .map(|l| serde_json::from_str::<serde_json::Value>(l).unwrap())
        .filter(|l| l["kind"] == "reading")
        .map(|l| {
            assert!(l["withdrawn_by"].is_null(), "{l}");
            let text = |key: &str| l["body"][key].as_str().unwrap().to_owned();
            (format!("{} {}", text("point"), text("facing")), text("text"))
        })
        .collect();
    let expected = [
        ("incidence@S1 forward", "2.05"),
        ("incidence@S2 forward", "1.05"),
        ("incidence@S2 aft", "-.95"),
        ("incidence@S3 forward", "0.05"),
        ("incidence@S3 aft", "0.05"),
        ("incidence@S3 forward", "0.1"),
        ("incidence@S1 aft", "-1.95"),
    ];
    assert_eq!(taken, expected.map(|(place, text)| (place.to_owned(), text.to_owned())));
    // A place typed again is reported, and so is the place that was meant.
    let other = Bench::with_plan(SMALL_PLAN);
    other.line("stage wing.jigtrue \"ribs on\"").expect(0);
    let ran = other.piped("take wing.jigtrue", "2.05\nb\n2.10\n").expect(0);
    assert!(ran.out.contains("2.10; in place of 3, which is withdrawn"), "{}", ran.out);
    let ran = other.piped("take wing.jigtrue", "S33 1.0\n").expect(1);
    assert!(ran.err.contains("nearest is `S"), "{}", ran.err);
}
