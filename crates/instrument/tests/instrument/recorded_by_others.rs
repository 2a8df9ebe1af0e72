//! Recorded answers of published libraries; `tests/tests/cli/others.rs` asks the libraries themselves where Python is
//! available.

use instrument::{Decoder, Fault, InstrumentFile, Sample};
use std::fmt::Write as _;

const MODBUS: &str = include_str!("../../../../tests/others/modbus.txt");
const NMEA: &str = include_str!("../../../../tests/others/nmea.txt");

fn decoder(dialect: &str) -> Decoder {
    let text = format!(
        "name = \"invented\"\nkind = \"inclinometer\"\nresolution = 0.01\n[port]\nbaud = 9600\n[dialect]\n{dialect}\n[axes]\n\
         measures = \"angle\"\npositive = \"arrow end up\"\n"
    );
    Decoder::new(&InstrumentFile::read(&text).unwrap().dialect)
}

fn words(next: Result<Sample, Fault>) -> String {
    next.map_or_else(|fault| fault.to_string(), |sample| format!("{} {}", sample.axis.word(), sample.value))
}

#[test]
fn a_modbus_slave_as_a_library_answers_is_read() {
    let said: Vec<(&str, &str)> = vec![
        (
            "registers = \"input\"\nvalue = [{ axis = \"angle\", unit = \"deg\", address = 7, form = \"f32\", order = \"high-first\" }]",
            "angle -1.25",
        ),
        (
            "registers = \"input\"\nvalue = [{ axis = \"angle\", unit = \"deg\", address = 7, form = \"f32\", order = \"high-first\" }]",
            "angle 12.34",
        ),
        (
            "value = [{ axis = \"angle\", unit = \"deg\", address = 40, form = \"i16\", scale = 0.01 }]",
            "angle -1.25",
        ),
        (
            "value = [{ axis = \"angle\", unit = \"deg\", address = 44, form = \"u16\", scale = 0.01 }]",
            "angle 0.50",
        ),
        (
            "value = [{ axis = \"angle\", unit = \"deg\", address = 1000, form = \"i16\", scale = 0.01 }]",
            "the instrument refuses: it does not have these registers (exception 2)",
        ),
    ];
    let lines: Vec<&str> = MODBUS.lines().filter(|line| !line.starts_with('#')).collect();
    assert_eq!(lines.len(), said.len());
    for (line, (dialect, means)) in lines.into_iter().zip(said) {
        let columns: Vec<&str> = line.split('\t').collect();
        let [_, question, answer] = columns[..] else { unreachable!("three columns: {line}") };
        let mut decoder = decoder(&format!("speaks = \"modbus\"\nslave = 17\n{dialect}"));
        let asked = decoder.ask(0).unwrap().iter().fold(String::new(), |mut text, byte| {
            write!(text, "{byte:02x}").unwrap();
            text
        });
        assert_eq!(asked, question, "{line}");
        let answer: Vec<u8> = (0..answer.len())
            .step_by(2)
            .map(|at| u8::from_str_radix(&answer[at..at + 2], 16).unwrap())
            .collect();
        let mut heard = Vec::new();
        decoder.each(&answer, |next| heard.push(words(next)));
        assert_eq!(heard, [means], "{line}");
    }
}

#[test]
fn an_nmea_talker_as_a_library_writes_it_is_read() {
    let mut decoder = decoder("speaks = \"nmea\"\nnames = { PITCH = \"angle\", ROLL = \"cross\" }");
    for line in NMEA.lines() {
        let (angle, sentence) = line.split_once('\t').unwrap();
        let mut heard = Vec::new();
        decoder.each(format!("{sentence}\r\n").as_bytes(), |next| heard.push(words(next)));
        let xdr = sentence.contains("XDR");
        assert_eq!(heard.len(), if xdr { 2 } else { 0 }, "{sentence}");
        if xdr {
            assert_eq!(heard, [format!("angle {angle}"), "cross 0.50".to_owned()]);
        }
    }
}
