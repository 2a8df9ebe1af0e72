//! Instrument files: the shipped ones, and the messages about mistakes.

use instrument::{Axis, Decimal, Decoder, DialectSpec, InstrumentFile, Parity, Positive};
use quantity::InstrumentKind;

const SHIPPED: [&str; 5] = [
    include_str!("../../../../demo-readings/instruments/beam-level.toml"),
    include_str!("../../../../demo-readings/instruments/tilt-board.toml"),
    include_str!("../../../../demo-readings/instruments/mast-sensor.toml"),
    include_str!("../../../../demo-readings/instruments/bus-inclinometer.toml"),
    include_str!("../../../../demo-readings/instruments/depth-gauge.toml"),
];

#[test]
fn the_shipped_files_are_one_of_each_dialect() {
    let words = SHIPPED.map(|text| InstrumentFile::read(text).unwrap().dialect.word());
    assert_eq!(words, ["lines", "jigtrue", "nmea", "modbus", "bcd"]);
}

#[test]
fn every_value_of_a_file_arrives() {
    let file = InstrumentFile::read(SHIPPED[3]).unwrap();
    assert_eq!((file.name.as_str(), file.number.as_deref()), ("bus inclinometer", Some("BI-17")));
    assert_eq!((file.kind, file.measures), (InstrumentKind::Inclinometer, Axis::Angle));
    assert_eq!((file.resolution, file.accuracy, file.repeatability), (0.001, Some(0.02), Some(0.005)));
    assert_eq!((file.checked.as_deref(), file.due.as_deref()), (Some("2031-01-10"), Some("2032-01-10")));
    let port = file.port;
    assert_eq!((port.baud, port.data_bits, port.parity, port.stop_bits), (19_200, 8, Parity::Even, 1));
    assert_eq!((file.positive, file.sign()), (Positive::ArrowEndDown, -1.0));
    let DialectSpec::Modbus(spec) = file.dialect else { panic!("not polled") };
    let asked: Vec<_> = spec.questions().into_iter().flatten().map(|it| (it.first, it.count)).collect();
    assert_eq!((spec.slave, spec.every_ms, spec.answer_ms, asked), (17, 100, 1_000, vec![(107, 5)]));
    assert_eq!(spec.values[2].unwrap().scale, Decimal { mantissa: 1, exponent: -1 });
    assert!((file.settle.band - (1.5 * 0.001 + 8.0 * 0.002)).abs() < 1e-12);
    let mast = InstrumentFile::read(SHIPPED[2]).unwrap();
    assert_eq!((mast.accuracy, mast.settle.hold_ms), (Some(0.1), 3_000));
    let pressed = include_str!("../../../../demo-readings/instruments/caliper-board.toml");
    let pressed = InstrumentFile::read(pressed).unwrap();
    assert!(pressed.settle.each_value() && pressed.settle.samples == 1 && !mast.settle.each_value());
    assert!(Decoder::new(&mast.dialect).ask(0).is_none());
}

/// The first shipped file with one piece changed, and the resulting message.
#[test]
fn mistakes_are_reported_where_they_are() {
    let cases = [
        (
            "resolution",
            "resolutoin",
            "line 5, column 1: an instrument file has no key `resolutoin`",
            "did you mean `resolution`?",
        ),
        (
            "number = \"1973\"",
            "colour = 1",
            "line 3, column 1: an instrument file has no key `colour`",
            "known here: accuracy, axes, checked",
        ),
        (
            "baud = 9600",
            "bauds = 9600",
            "line 12, column 1: [port] has no key `bauds`",
            "did you mean `baud`?",
        ),
        ("baud = 9600", "baud = 9", "line 12, column 8: `baud` must be from 50 to 4000000", ""),
        (
            "baud = 9600",
            "baud = 9600\nparity = \"evn\"",
            "line 13, column 10: `parity` must be one of \"none\", \"even\", \"odd\"",
            "did you mean \"even\"?",
        ),
        ("baud = 9600", "baud = 9601", "line 12, column 8: 9601 is an unusual rate", "did you mean 9600?"),
        ("baud = 9600\n", "", "line 11, column 1: [port] lacks `baud`", "or the rate in its manual"),
        (
            "baud = 9600",
            "baud = 9600\nstop_bits = 3",
            "line 13, column 13: `stop_bits` must be from 1 to 2",
            "",
        ),
        (
            "inclinometer",
            "inclimometer",
            "line 4, column 8: `kind` must be one of \"inclinometer\", ",
            "did you mean \"inclinometer\"?",
        ),
        (
            "\"inclinometer\"",
            "\"caliper\"",
            "line 19, column 12: an instrument of the kind `caliper` measures lengths",
            "",
        ),
        ("name = \"beam level\"\n", "", "an instrument file lacks `name`", ""),
        ("resolution = 0.05", "resolution = 0", "line 5, column 14: `resolution` must be above zero", ""),
        ("resolution = 0.05", "resolution = nan", "line 5, column 14: `resolution`: ", ""),
        ("resolution = 0.05", "resolution = \"0.05 mm\"", "line 5, column 14: `resolution`: ", ""),
        (
            "resolution = 0.05",
            "resolution = true",
            "line 5, column 14: `resolution` must be a number in deg",
            "",
        ),
        ("accuracy = 0.1", "accuracy = -0.1", "line 6, column 12: `accuracy` must be zero or more", ""),
        (
            "2032-01-10",
            "2030-01-10",
            "line 9, column 7: `due` is before the day it was checked, 2031-01-10",
            "",
        ),
        ("2032-01-10", "\"2032-13-10\"", "line 9, column 7: `due` must be a date, such as 2031-04-05", ""),
        (
            "2032-01-10",
            "2032-01-10T10:00:00",
            "line 9, column 7: `due` must be a date, such as 2031-04-05",
            "",
        ),
        (
            "\"lines\"",
            "\"line\"",
            "line 15, column 10: `speaks` must be one of \"jigtrue\", \"lines\", ",
            "did you mean \"lines\"?",
        ),
        (
            "\"lines\"",
            "\"bcd\"",
            "line 16, column 1: `line` goes with `speaks = \"lines\"`, not with \"bcd\"",
            "",
        ),
        (
            "\"lines\"\nline = \"X={angle deg .2},Y={cross deg .2}\"",
            "\"lines\"",
            "line 14, column 1: [dialect] lacks `line`",
            "write its form",
        ),
        ("{angle deg .2}", "{angel deg .2}", "line 16, column 11: the axes are angle, cross", ""),
        ("Y={cross deg .2}", "Y={cross mm .2}", "line 16, column 28: this is not a unit of that axis", ""),
        (
            "measures = \"angle\"",
            "measures = \"length\"",
            "line 19, column 12: the dialect has no `length`; it has angle, cross",
            "",
        ),
        (
            "positive = \"arrow end up\"\n",
            "",
            "line 18, column 1: `[axes]` needs `positive` for an angle",
            "which way must it tilt",
        ),
        ("[axes]", "[settle]\nband = 0.01\n[axes]", "line 19, column 8: `band` is less than one step", ""),
        ("[axes]", "[settle]\nhold_ms = 0\nsamples = 3\n[axes]", "so leave out `samples`", ""),
        (
            "[axes]",
            "[settle]\nhold_ms = 5\n[axes]",
            "line 19, column 11: `hold_ms` must be from 100 to 120000",
            "",
        ),
        ("[port]", "[port", "line 11, column 6: ", ""),
        (
            "\"lines\"",
            "\"lines\"\nends = \"=\"",
            "line 17, column 8: the form contains the character that `ends` names: '='",
            "",
        ),
        (
            "\"lines\"",
            "\"lines\"\nends = \"a\"",
            "line 16, column 8: `ends` must be one character that is not a letter",
            "",
        ),
        ("\"lines\"", "\"lines\"\ndecimal = \";\"", "`decimal` must be one of \".\", \",\"", ""),
    ];
    for (from, to, said, right) in cases {
        assert!(SHIPPED[0].contains(from), "{from}");
        let text = SHIPPED[0].replacen(from, to, 1);
        let error = InstrumentFile::read(&text).unwrap_err();
        let whole = format!("{error}");
        assert!(
            whole.contains(said) && whole.contains(right),
            "{from} -> {to}\nwanted: {said} .. {right}\ngot: {whole}"
        );
    }
}

#[test]
fn mistakes_about_registers_are_reported_where_they_are() {
    let cases = [
        ("slave = 17", "slave = 0", "`slave` must be from 1 to 247"),
        ("slave = 17\n", "", "[dialect] lacks `slave`"),
        ("\"holding\"", "\"holdings\"", "did you mean \"holding\"?"),
        ("order = \"low-first\"\n", "", "a value of two registers needs `order`"),
        ("\"low-first\"", "\"low\"", "`order` must be one of \"high-first\", \"low-first\""),
        ("\"i16\"", "\"i8\"", "one of \"i16\", \"u16\", \"i32\", \"u32\", \"f32\""),
        ("scale = 0.001", "scale = 0", "`scale` is the value of one count"),
        ("scale = 0.001\n", "", "a [[dialect.value]] lacks `scale`"),
        ("\"i16\"\nscale = 0.1", "\"f32\"\nscale = 0.1", "a value of two registers needs `order`"),
        (
            "registers = \"holding\"",
            "registers = \"holding\"\nanswer_ms = 5",
            "`answer_ms` must be from 20 to 10000",
        ),
        ("\"degC\"", "\"deg\"", "`deg` is not a unit of `temperature`"),
        ("every_ms = 100", "every_ms = 1", "`every_ms` must be from 10 to 60000"),
    ];
    for (from, to, said) in cases {
        assert!(SHIPPED[3].contains(from), "{from}");
        let whole = format!("{}", InstrumentFile::read(&SHIPPED[3].replacen(from, to, 1)).unwrap_err());
        assert!(whole.contains(said), "{from} -> {to}\nwanted: {said}\ngot: {whole}");
    }
}

#[test]
fn every_mistake_is_reported_at_once_in_line_order() {
    let wrong = SHIPPED[3]
        .replace("resolution = 0.001", "resolutoin = 0.001")
        .replace("19200", "19201")
        .replace("\"even\"", "\"evn\"")
        .replace("slave = 17", "slave = 300")
        .replace("\"i16\"", "\"i17\"")
        .replace("\"arrow end down\"", "\"down\"");
    let errors = InstrumentFile::read(&wrong).unwrap_err();
    let lines: Vec<usize> = errors.errors().iter().map(|error| error.line).collect();
    let said = format!("{errors}");
    assert_eq!(lines, [1, 5, 12, 13, 17, 41, 46], "{said}");
    assert!(said.contains("lacks `resolution`") && said.contains("did you mean `resolution`?"), "{said}");
    let sure = SHIPPED[0].replace("baud = 9600", "baud = 9601\nsure = true");
    assert_eq!(InstrumentFile::read(&sure).unwrap().port.baud, 9601);
    let keyboard = SHIPPED[0].replace("baud = 9600", "keyboard = true");
    assert!(InstrumentFile::read(&keyboard).is_ok());
}

#[test]
fn noise_in_place_of_a_file_is_refused_without_a_panic() {
    let mut draws = stories::seeded::Draws::new(5);
    for _ in 0..2_000 {
        let length = draws.index(300);
        let noise: Vec<u8> = (0..length).map(|_| draws.bits() as u8).collect();
        let text = String::from_utf8_lossy(&noise);
        assert!(!format!("{}", InstrumentFile::read(&text).unwrap_err()).is_empty());
    }
    // Every shipped file cut at every character is refused or still complete enough, without a panic.
    for text in SHIPPED {
        for end in (0..text.len()).filter(|end| text.is_char_boundary(*end)) {
            let _ = InstrumentFile::read(&text[..end]);
        }
    }
}
