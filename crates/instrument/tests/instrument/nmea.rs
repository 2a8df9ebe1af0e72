//! XDR sentences of NMEA 0183.

use instrument::{Axis, Decoder, DialectSpec, Fault, NamedAxis, NmeaSpec, Text, Transducer, transducers};
use quantity::Unit;

fn spec(names: &[(&str, Axis)]) -> NmeaSpec {
    let mut spec = NmeaSpec::default();
    for (slot, (name, axis)) in spec.names.iter_mut().zip(names) {
        *slot = Text::from(name).ok().map(|name| NamedAxis { name, axis: *axis });
    }
    spec
}

fn heard(spec: NmeaSpec, bytes: &[u8]) -> Vec<Result<(Axis, i64, i8, Unit), Fault>> {
    let mut heard = Vec::new();
    let take = |s: instrument::Sample| (s.axis, s.value.mantissa, s.value.exponent, s.unit);
    Decoder::new(&DialectSpec::Nmea(spec)).each(bytes, |next| heard.push(next.map(take)));
    heard
}

/// Two published sentences (an instrument maker's support page; a forum's copy) and one with both axes whose checksum
/// was computed separately.
#[test]
fn published_sentences() {
    let pitch = spec(&[("PITCH", Axis::Angle), ("YAW", Axis::Cross)]);
    let want = [Ok((Axis::Angle, 71, -3, Unit::Degree)), Ok((Axis::Cross, 228_132, -3, Unit::Degree))];
    assert_eq!(heard(pitch, b"$GPXDR,A,0.071,D,PITCH,A,228.132,D,YAW*5E\r\n"), want);
    let outside = spec(&[("", Axis::Temperature)]);
    let want = [Ok((Axis::Temperature, 7, 0, Unit::Celsius))];
    assert_eq!(heard(outside, b"$YXXDR,C,7,C*54\r\n"), want);
    let both = spec(&[("PITCH", Axis::Angle), ("ROLL", Axis::Cross)]);
    let want = [Ok((Axis::Angle, -250, -2, Unit::Degree)), Ok((Axis::Cross, 15, -2, Unit::Degree))];
    assert_eq!(heard(both, b"$IIXDR,A,-2.50,D,PITCH,A,0.15,D,ROLL*3B\r\n"), want);
}

#[test]
fn a_wrong_checksum_or_none_is_refused() {
    let pitch = spec(&[("PITCH", Axis::Angle)]);
    assert_eq!(heard(pitch, b"$GPXDR,A,0.071,D,PITCH,A,228.132,D,YAW*5F\r\n"), [Err(Fault::Check)]);
    assert_eq!(heard(pitch, b"$GPXDR,A,0.071,D,PITCH,A,228.132,D,YAW*5e\r\n"), [Err(Fault::Check)]);
    assert_eq!(heard(pitch, b"$GPXDR,A,0.071,D,PITCH,A,228.132,D,YAW\r\n"), [Err(Fault::NoCheck)]);
}

#[test]
fn a_transducer_without_a_value_gives_none() {
    let pitch = spec(&[("PITCH", Axis::Angle), ("ROLL", Axis::Cross)]);
    assert_eq!(heard(pitch, &sentence("IIXDR,A,,D,PITCH,A,0.15,D,ROLL")), [Err(Fault::NoValue)]);
    assert_eq!(heard(pitch, &sentence("IIXDR,A,1.0,D")), []);
    assert_eq!(heard(pitch, &sentence("IIXDR,A,1.0")), [Err(Fault::Form)]);
    assert_eq!(heard(pitch, &sentence("IIXDR,A,1.0,R,PITCH")), [Err(Fault::Form)]);
    assert_eq!(heard(pitch, &sentence("IIXDR,A,1.0E1,D,PITCH")), [Err(Fault::Form)]);
    assert_eq!(heard(pitch, &sentence("IIXDR,A,+1.0,D,PITCH")), [Err(Fault::Form)]);
    assert_eq!(heard(pitch, &sentence("IIHDT,12.5,T")), []);
}

fn sentence(payload: &str) -> Vec<u8> {
    let sum = payload.bytes().fold(0, |sum, byte| sum ^ byte);
    format!("${payload}*{sum:02X}\r\n").into_bytes()
}

#[test]
fn unknown_types_are_kept_as_sent() {
    let all: Vec<_> = transducers(b"GPXDR,Q,1.5,X,ODD,A,,D,PITCH").map(Result::unwrap).collect();
    assert_eq!(all[0], Transducer { kind: "Q", value: "1.5", unit: "X", name: "ODD" });
    assert_eq!(all[1], Transducer { kind: "A", value: "", unit: "D", name: "PITCH" });
}
