//! Recognising part of an unknown stream.

use crate::specs::{lines, modbus, nmea, turning};
use instrument::{DialectSpec, Heard, example_line, identify_stream};
use stories::seeded::Draws;

fn sound(spec: DialectSpec) -> Vec<u8> {
    let bytes = turning(spec, 1).bytes(2_000);
    bytes[7..bytes.len() - 7].to_vec()
}

#[test]
fn each_dialect_is_recognised_from_part_of_a_stream() {
    let ours = identify_stream(&sound(DialectSpec::Jigtrue));
    assert!(ours.jigtrue >= 40 && ours.nmea + ours.bcd + ours.modbus + ours.lines == 0, "{ours:?}");
    let sentences = identify_stream(&sound(nmea()));
    assert!(sentences.nmea >= 19 && sentences.nmea_xdr == sentences.nmea, "{sentences:?}");
    assert_eq!(sentences.jigtrue + sentences.bcd + sentences.modbus + sentences.lines, 0);
    let frames = identify_stream(&sound(DialectSpec::Bcd));
    assert!(
        frames.bcd >= 19 && frames.jigtrue + frames.nmea + frames.modbus + frames.lines == 0,
        "{frames:?}"
    );
    let text = identify_stream(&sound(lines()));
    assert!(text.lines >= 19 && text.jigtrue + text.nmea + text.bcd + text.modbus == 0, "{text:?}");
    assert_eq!(example_line(&sound(lines())), Some("X=-11.998,Y=2.999"));
    assert_eq!(example_line(&sound(DialectSpec::Bcd)), None);
}

#[test]
fn another_master_talking_to_a_slave_is_recognised() {
    let mut simulated = turning(modbus(), 1);
    let mut decoder = instrument::Decoder::new(&modbus());
    let mut talk = Vec::new();
    for turn in 0..5 {
        let question = decoder.ask(turn * 1_000).unwrap();
        talk.extend(question);
        let answer = simulated.hear(turn * 1_000, &question);
        decoder.each(&answer, |_| ());
        talk.extend(answer);
    }
    assert_eq!(identify_stream(&talk).modbus, 5);
}

#[test]
fn noise_is_not_recognised_as_anything() {
    let mut draws = Draws::new(3);
    let noise: Vec<u8> = (0..4_096).map(|_| draws.bits() as u8).collect();
    let heard = identify_stream(&noise);
    assert_eq!(heard.jigtrue + heard.nmea + heard.bcd + heard.modbus, 0);
    assert_eq!(identify_stream(b""), Heard::default());
}
