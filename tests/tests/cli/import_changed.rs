//! An export that somebody changed before it was imported again, and values whose unit is in a column's head.

use crate::program::Bench;

/// The readings of an export, with cells of the first one changed.
fn changed(export: &str, cells: &[(&str, &str)]) -> String {
    let mut reader = csv::Reader::from_reader(export.as_bytes());
    let head = reader.headers().unwrap().clone();
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record(&head).unwrap();
    let mut first = true;
    for row in reader.records().map(Result::unwrap).filter(|row| &row[3] == "reading") {
        let cell = |(name, old): (&str, &str)| {
            let new = cells.iter().find(|(cell, _)| *cell == name).filter(|_| first);
            new.map_or(old, |(_, new)| new).to_owned()
        };
        out.write_record(head.iter().zip(row.iter()).map(cell)).unwrap();
        first = false;
    }
    String::from_utf8(out.into_inner().unwrap()).unwrap()
}

/// An export that somebody changed obeys the rules of every other way in: what is shown is what counts, and
/// impossible values are questioned.
#[test]
fn an_export_that_was_changed_is_questioned() {
    let bench = Bench::begun();
    bench.line("take S1 f 2.1 a -1.95").expect(0);
    let export = bench.line("export").expect(0).out;
    let other = Bench::begun();
    for (cells, why) in [
        (&[("angle_deg", "12.5")][..], "its text is `2.1` and its value 12.5°"),
        (&[("text", "77")], "its text is `77` and its value 2.1°"),
        (&[("text", "2.1 mm/m")], "its text is `2.1 mm/m`"),
        (&[("text", "")], "its `text` is missing"),
        (&[("text", "twelve")], "no number here"),
        (&[("text", "12.5"), ("angle_deg", "12.5")], "write yes in a column `sure`"),
        (&[("resolution", "0.00001")], "it cannot have been read to 0.00001°"),
        (&[("scatter", "-5"), ("samples", "3")], "the scatter"),
        (&[("scatter", "0.1"), ("samples", "0")], "the scatter"),
        (&[("part_temperature_C", "500")], "not a possible temperature of a part"),
        (&[("round", "0")], "round `0`"),
        (&[("dial", "3"), ("dial_step", "1")], "dial"),
        (&[("unsettled", "maybe")], "neither `yes` nor `no`"),
        (&[("instrument", "torque wrench")], "does not read angles"),
    ] {
        other.write("t.csv", changed(&export, cells));
        let ran = other.line("import t.csv").expect(1);
        assert!(ran.err.contains(why), "{cells:?}\n{}", ran.err);
    }
    other.write("t.csv", changed(&export, &[]));
    other.line("import t.csv").expect(0);
    // A question that was answered before is not asked again.
    let far = Bench::begun();
    far.line("take S1 f 12.5 --sure").expect(0);
    let export = far.line("export").expect(0).out;
    let another = Bench::begun();
    another.write("t.csv", changed(&export, &[]));
    another.line("import t.csv").expect(0);
    let another = Bench::begun();
    another.write("t.csv", changed(&export, &[("asked_why", ""), ("asked_expected", "")]));
    let ran = another.line("import t.csv").expect(1);
    assert!(ran.err.contains("write yes in a column `sure`"), "{}", ran.err);
}

/// A column's unit is kept with the value, so that what is listed is what was measured.
#[test]
fn a_value_of_a_column_with_a_unit_is_listed_in_it() {
    let bench = Bench::begun();
    bench.piped("import -", "point,value_mm/m,value_deg\nS1,36.7,\nS2,,1.1\n").expect(0);
    let listed = bench.line("entries").expect(0).out;
    assert!(listed.contains("S1 forward 36.7 mm/m"), "{listed}");
    assert!(listed.contains("S2 forward 1.1°"), "{listed}");
    // A log from before says both, what was typed and what it counts as.
    let export = bench.line("export").expect(0).out;
    assert!(export.contains("36.7 mm/m"), "{export}");
    let other = Bench::begun();
    other.piped("import -", &export).expect(0);
}
