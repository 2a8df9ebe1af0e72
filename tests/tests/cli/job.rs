//! The whole invented job of six stages, typed by a person who answers only what is asked. The keys are counted.

use crate::program::{Bench, shipped};
use crate::typing::Person;
use std::collections::{BTreeMap, VecDeque};

/// The aim, Enter counted.
const MOST: usize = 1_300;

/// What the person reads from the instruments, point by point, in the order of the shipped job.
struct Readings {
    values: BTreeMap<String, VecDeque<String>>,
    moves: VecDeque<(String, String)>,
}

impl Readings {
    fn of(case: &str) -> Self {
        let steps = shipped(case, "steps.csv");
        let mut reader = csv::Reader::from_reader(steps.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        let (mut values, mut moves) = (BTreeMap::<String, VecDeque<String>>::new(), VecDeque::new());
        for (i, row) in rows.iter().enumerate() {
            let slip = rows.get(i + 1).is_some_and(|next| &next[1] == "withdraw");
            match &row[1] {
                "take" if !slip => values.entry(key(&row[2], &row[4])).or_default().push_back(short(&row[3])),
                "move" => moves.push_back((row[2].to_owned(), turned(&row[3]))),
                _ => {}
            }
        }
        Self { values, moves }
    }

    /// The next value at a place; the last one again if the job has no more.
    fn at(&mut self, place: &str) -> String {
        let queue = self.values.get_mut(place).unwrap_or_else(|| panic!("nothing is read at {place}"));
        let value = queue.pop_front().unwrap();
        if queue.is_empty() {
            queue.push_back(value.clone());
        }
        value
    }
}

/// A place as a prompt names it.
fn key(point: &str, facing: &str) -> String {
    let name = point.strip_prefix("incidence@").unwrap_or(point);
    if facing.is_empty() { name.to_owned() } else { format!("{name} {facing}") }
}

/// A value with as few keys as possible: `-0.50` is `-.5`.
fn short(value: &str) -> String {
    let (sign, digits) = value.strip_prefix('-').map_or(("", value), |digits| ("-", digits));
    let digits =
        if digits.contains('.') { digits.trim_end_matches('0').trim_end_matches('.') } else { digits };
    let digits = digits.strip_prefix('0').filter(|rest| rest.starts_with('.')).unwrap_or(digits);
    if digits.is_empty() { "0".to_owned() } else { format!("{sign}{digits}") }
}

fn turned(amount: &str) -> String {
    let amount = amount.replace(" turns", "").replace(" turn", "");
    amount.replace("anticlockwise", "ccw").replace("clockwise", "cw")
}

/// A command typed at the shell's prompt, answered line by line.
fn command(bench: &Bench, line: &str, answers: &[(&str, &str)]) -> usize {
    let mut person = Person::at(bench, line.strip_prefix("jigtrue ").unwrap());
    for (asked, answer) in answers {
        person.answers(asked, answer);
    }
    let keys = person.keys;
    person.ends(0);
    line.chars().count() + 1 + keys
}

#[test]
fn the_whole_job_is_typed_with_under_1300_keys() {
    let bench = Bench::new();
    bench.write("wing.toml", shipped("two-post", "plan.toml"));
    let mut readings = Readings::of("two-post");
    let mut keys = "export JIGTRUE_BY=ann\n".len();
    keys += command(&bench, "jigtrue new wing.toml", &[]);
    let (mut rounds, mut values, mut stages) = (0, 0, 0);
    // A round a day: when the next stage is offered the person goes home, and begins it the next time.
    while stages < 6 || rounds == 0 {
        rounds += 1;
        assert!(rounds < 20, "it never ends");
        let mut person = Person::at(&bench, "take");
        let mut begun = false;
        while let Some(said) = person.question() {
            let asked = said.rsplit('\n').next().unwrap().to_owned();
            if asked.starts_with("Begin ") {
                if begun {
                    person.types("n");
                    break;
                }
                person.types("");
                (begun, stages) = (true, stages + 1);
            } else if asked.starts_with("Type what you ") {
                let (support, amount) =
                    readings.moves.pop_front().unwrap_or_else(|| panic!("no move:\n{said}"));
                let named = asked.contains(&format!(" at {support},"));
                person.types(&if named { amount } else { format!("{support} {amount}") });
            } else if asked.starts_with("Read ") {
                let wanted = if asked.contains("offset") || asked.contains("height") {
                    "line gauge"
                } else if asked.contains("spot") || asked.contains("bore") || asked.contains("bush") {
                    "depth gauge"
                } else {
                    "steel tape"
                };
                let number =
                    asked.split(wanted).next().unwrap().trim().rsplit(' ').next().unwrap().to_owned();
                person.types(&number);
            } else {
                let name = asked.split_once(' ').unwrap().1.trim_start();
                let name = name.split_once('/').map_or(name, |(_, rest)| rest.split_once(' ').unwrap().1);
                let place = name.split([',', ':']).next().unwrap();
                let place = if name.contains('@') && name.matches(':').count() > 1 {
                    // A colon also separates a spar from its station.
                    let upto = name.find(", about").unwrap_or(name.len() - 2);
                    &name[..upto]
                } else {
                    place
                };
                assert!(!said.contains("Not recorded"), "a good value was asked about:\n{said}");
                let value = readings.at(place);
                person.types(&value);
                values += 1;
            }
        }
        keys += "jigtrue take\n".len() + person.keys;
        let all = person.all();
        drop(person);
        if stages == 6 && all.contains("Next  jigtrue") {
            break;
        }
    }
    // A slip is corrected, the open items are closed, and the log is signed.
    keys += command(&bench, "jigtrue undo", &[("Withdraw it?", "")]);
    keys += command(&bench, "jigtrue undo", &[("Withdraw it?", "")]);
    for item in bench.line("open-item --json").json()["open_items"].as_array().unwrap() {
        let number = item["number"].as_u64().unwrap();
        keys += command(&bench, &format!("jigtrue open-item {number} --close \"done\""), &[]);
    }
    let gate = bench.line("check --json").json()["gate"].clone();
    assert_eq!(gate["state"], "clear", "{gate:#}");
    keys += command(
        &bench,
        "jigtrue sign",
        &[("In what capacity?", "1"), ("Statement", ""), ("sign it", "sign")],
    );
    println!("{keys} keys for {values} values in {rounds} rounds");
    assert!(values >= 190, "only {values} values were typed");
    assert!(keys < MOST, "{keys} keys");
}
