//! Instruments and their ports before anything is measured: named, entered, checked, asked; and what the program says
//! about it.

use crate::board::Board;
use crate::listening::{Listening, entries, readings, taken};
use crate::ports::{LINES, MODBUS, NMEA, OURS, bench, file, spec};
use record::What;

#[test]
fn an_unknown_stream_is_named() {
    let bench = bench(LINES);
    for (dialect, frames) in [(OURS, "jigtrue"), (NMEA, "nmea"), (LINES, "lines")] {
        let _board = Board::plug_in(&bench.path("port"), spec(dialect), 2.15);
        let heard = bench.line("ports --port port --json").expect(0).json();
        let count = |name: &str| heard["heard"]["frames"][name].as_u64().unwrap_or(0);
        assert!(count(frames) >= 5, "{heard}");
        assert_eq!(heard["heard"]["frames"].as_object().unwrap().len(), 1, "{heard}");
        let read_by = heard["heard"]["read_by"].as_array().unwrap();
        assert_eq!(read_by.iter().any(|by| by["file"] == "level.toml"), dialect == LINES, "{heard}");
    }
    // The verb of an older version still works.
    let listed = bench.line("instruments").expect(0).out;
    assert_eq!(listed, bench.line("ports").expect(0).out);
    assert!(listed.contains("level.toml: port level, speaks lines at 9600"), "{listed}");
    // A file that cannot be used is named, with a remark beside its head too.
    bench.write(
        "broken.toml",
        file(LINES).replace("[dialect]", "[dialect] # as it sends").replace("lines", "lins"),
    );
    let listed = bench.line("ports").expect(0).out;
    assert!(listed.contains("broken.toml"), "{listed}");
}

#[test]
fn an_instrument_is_entered_and_checked() {
    let bench = bench(LINES);
    let level = std::fs::read_to_string(bench.path("level.toml")).unwrap();
    let numbered = |name: &str, number: &str| {
        let text = format!("number = \"{number}\"\n{}", level.replace("port level", name));
        std::fs::write(bench.path("level.toml"), text).unwrap();
        bench.line("instrument add wing.jigtrue level.toml")
    };
    numbered("port level", "17").expect(0);
    // A name is one instrument, and a number too.
    let other = numbered("port level", "18").expect(1).err;
    assert!(
        other.contains("`port level` is number 17 in this log; give number 18 a name of its own"),
        "{other}"
    );
    let same = numbered("another level", "17").expect(0).out;
    assert!(
        same.contains("It has the number of `port level`: a failed check of one counts for both"),
        "{same}"
    );
    let zero = bench.line("instrument check wing.jigtrue \"port level\" 0.06 0.02").expect(0).out;
    assert!(zero.contains("passes the reversal check: its zero is +0.040"), "{zero}");
    // asin(20 / 400) = 2.866 degrees, from a table of sines; the instrument reads 0.1 less.
    let slope =
        "instrument check wing.jigtrue \"port level\" 2.78 -2.75 --block \"20.00 mm\" --length \"400.0 mm\"";
    // A failed check counts as outside.
    let slope = bench.line(slope).expect(10).out;
    assert!(
        slope.contains("does not pass the known slope check: its error at that slope is -0.101"),
        "{slope}"
    );
    bench.line("instrument check wing.jigtrue \"port level\" 2.78 -2.75 --block \"20.00 mm\"").expect(2);
    let other = bench.line("instrument check wing.jigtrue \"prt level\" 0.06 0.02").expect(1).err;
    assert!(other.contains("nearest is `port level`"), "{other}");
    let found: Vec<_> = entries(&bench)
        .into_iter()
        .filter_map(|what| if let What::InstrumentCheck(check) = what { Some(check) } else { None })
        .collect();
    assert_eq!(found.iter().map(|c| c.passed).collect::<Vec<_>>(), [true, false]);
}

/// From an unknown port to readings: the proposed file is written, and used to listen.
#[test]
fn a_file_is_proposed_written_and_serves() {
    for dialect in [LINES, NMEA, OURS] {
        let bench = bench(dialect);
        std::fs::remove_file(bench.path("level.toml")).unwrap();
        let board = Board::plug_in(&bench.path("port"), spec(dialect), 2.15);
        let said = bench.line("ports --port port --seconds 1 --write new.toml").expect(0).out;
        assert!(said.contains("new.toml is written; it reads"), "{said}");
        let text = std::fs::read_to_string(bench.path("new.toml")).unwrap();
        assert!(text.contains("CHECK"), "{text}");
        let again = bench.line("ports --port port --seconds 1 --write new.toml").expect(1).err;
        assert!(again.contains("new.toml"), "{again}");
        assert_eq!(std::fs::read_to_string(bench.path("new.toml")).unwrap(), text);
        let args = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "new.toml", "--hands-free"];
        let mut program = Listening::start(&bench, &args);
        program.until("taken ");
        drop(program);
        drop(board);
        assert_eq!(taken(&bench), [("incidence@S1".to_owned(), "forward", 215)]);
    }
}

/// An instrument that speaks only when asked is asked with the files at hand, and what is wrong is reported.
#[test]
fn a_silent_instrument_is_asked_with_the_files_at_hand() {
    let bench = bench(MODBUS);
    bench.write("other.toml", file(&MODBUS.replace("slave = 17", "slave = 18\nanswer_ms = 100")));
    bench.write("wrong.toml", file(&MODBUS.replace("address = 107", "address = 700")));
    let _board = Board::plug_in(&bench.path("port"), spec(MODBUS), 2.15);
    let heard = bench.line("ports --port port --seconds 1 --json").expect(0).json();
    let asked = heard["heard"]["asked"].as_array().unwrap();
    let by = |file: &str| asked.iter().find(|by| by["file"] == file).unwrap().clone();
    assert_eq!(
        (by("level.toml")["values"].clone(), by("level.toml")["last"].clone()),
        (3.into(), "2.15 °".into())
    );
    assert!(by("other.toml")["fault"].as_str().unwrap().contains("does not answer"), "{heard}");
    assert!(by("wrong.toml")["fault"].as_str().unwrap().contains("does not have these registers"), "{heard}");
    let nothing = bench.line("ports --port port --seconds 1 --write new.toml").expect(1).err;
    assert!(nothing.contains("no file can be proposed"), "{nothing}");
    assert!(!bench.path("new.toml").exists());
}

#[test]
fn every_example_can_be_entered() {
    let bench = bench(LINES);
    for kind in ["inclinometer", "caliper", "torque-wrench", "modbus", "nmea", "jigtrue", "bcd"] {
        let text = bench.line(&format!("instrument example {kind}")).expect(0).out;
        bench.write("example.toml", text);
        bench.line("instrument add wing.jigtrue example.toml").expect(0);
    }
    let none = bench.line("instrument example spoon").expect(1).err;
    assert!(none.contains("there are inclinometer, caliper"), "{none}");
}

/// An instrument that types like a keyboard: its values come on standard input among what a person types.
#[test]
fn typed_values_are_readings() {
    let bench = bench(LINES);
    bench.write(
        "level.toml",
        file(LINES).replace("baud = 9600", "keyboard = true").replace("hold_ms = 600", "hold_ms = 0"),
    );
    let args = ["listen", "wing.jigtrue", "--port", "-", "--instrument", "level.toml", "--hands-free"];
    let mut program = Listening::start(&bench, &args);
    for (line, point) in [("X=2.15,Y=0.10", "incidence@S1"), ("X=-1.95,Y=0.10", "incidence@S1")] {
        program.types(line);
        let taken = program.until("taken ");
        assert!(taken.contains(point), "{taken}");
    }
    program.types("X=1.15;Y=0.10");
    program.until("does not fit the instrument's file: `X=1.15;Y=0.10`");
    program.types("n");
    program.until("passed ");
    program.types("q");
    let end = program.until("2 readings taken");
    assert!(end.contains("1 line does not fit the instrument's file; the last: `X=1.15;Y=0.10`"), "{end}");
    program.ends();
    assert_eq!(taken(&bench).iter().map(|it| it.2).collect::<Vec<_>>(), [215, -195]);
    // The file of an instrument that has to settle says so.
    bench.write("slow.toml", file(LINES));
    let slow = bench.line("listen wing.jigtrue --port - --instrument slow.toml").expect(1).err;
    assert!(slow.contains("hold_ms = 0"), "{slow}");
}

/// A file of another dialect than what comes.
#[test]
fn what_comes_but_is_not_a_value_is_reported() {
    let bench = bench(OURS);
    let _board = Board::plug_in(&bench.path("port"), spec(LINES), 2.15);
    let args = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--hands-free"];
    let mut program = Listening::start(&bench, &args);
    program.until("no value comes in: ");
    program.types("q");
    program.until("something came that is not a value; the last: ");
    program.ends();
    assert_eq!(readings(&bench).len(), 0);
}

#[test]
fn events_are_reported_as_lines_of_json() {
    let bench = bench(LINES);
    let board = Board::plug_in(&bench.path("port"), spec(LINES), 2.15);
    let args =
        ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--hands-free", "--json"];
    let mut program = Listening::start(&bench, &args);
    program.until("\"event\":\"taken\"");
    program.types("q");
    program.until("\"event\":\"ended\"");
    program.ends();
    let events: Vec<serde_json::Value> =
        program.last_words().iter().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert!(events.iter().all(|event| event["format"] == 1 && event["event"].is_string()), "{events:?}");
    let taken = events.iter().find(|event| event["event"] == "taken").unwrap();
    assert_eq!(
        (&taken["taken"][0]["point"], &taken["taken"][0]["value"]),
        (&"incidence@S1".into(), &2.15.into())
    );
    assert_eq!(events.last().unwrap()["taken"][0]["seq"], taken["taken"][0]["seq"]);
    let args =
        ["watch", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--point", "incidence@S2"];
    let more = ["--every", "1", "--records", "2", "--json", "--log", "watch.log"];
    let mut program = Listening::start(&bench, &[&args[..], &more].concat());
    program.until("\"event\":\"ended\"");
    program.ends();
    let events: Vec<serde_json::Value> =
        program.last_words().iter().map(|line| serde_json::from_str(line).unwrap()).collect();
    let words: Vec<&str> = events.iter().map(|event| event["event"].as_str().unwrap()).collect();
    assert_eq!(words, ["watching", "record", "record", "ended"]);
    assert_eq!((&events[1]["record"]["mean"], &events[3]["records"]), (&2.15.into(), &2.into()));
    let kept = std::fs::read_to_string(bench.path("watch.log")).unwrap();
    assert_eq!(kept.lines().filter(|line| line.contains("values in")).count(), 2, "{kept}");
    // A log cannot be a file for lines.
    let refused = [&args[..], &["--records", "1", "--log", "wing.jigtrue"]].concat();
    let mut program = bench.command(&refused);
    assert_eq!(program.output().unwrap().status.code(), Some(1));
    bench.line("verify wing.jigtrue").expect(0);
    drop(board);
}
