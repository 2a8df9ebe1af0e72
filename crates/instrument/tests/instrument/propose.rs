//! Instrument files proposed for what was heard.

use crate::specs::{lines, nmea, turning};
use instrument::{Axis, DialectSpec, InstrumentFile, PortSettings, propose};

fn proposed(bytes: &[u8]) -> Option<(InstrumentFile, String, usize)> {
    let proposal = propose(bytes, &PortSettings::default())?;
    Some((InstrumentFile::read(&proposal.text).unwrap(), proposal.text, proposal.values))
}

#[test]
fn a_file_is_proposed_for_each_dialect_that_sends_unasked() {
    for spec in [DialectSpec::Jigtrue, nmea(), DialectSpec::Bcd, lines()] {
        let bytes = turning(spec, 1).bytes(2_000);
        let (file, text, values) = proposed(&bytes).unwrap();
        assert_eq!(file.dialect.word(), spec.word(), "{text}");
        let wanted = if spec == DialectSpec::Bcd { Axis::Length } else { Axis::Angle };
        assert_eq!((file.measures, file.resolution), (wanted, 0.001), "{text}");
        assert!(values >= 18, "{values} {text}");
    }
    let (board, ..) = proposed(&turning(DialectSpec::Jigtrue, 1).bytes(500)).unwrap();
    assert_eq!((board.name.as_str(), board.number.as_deref()), ("simulated board", Some("SIM-1")));
}

/// Lines as they come, the proposed form, what is measured, and the axes.
#[test]
fn the_form_of_lines_is_proposed() {
    let cases: [(&[u8], &str, Axis, usize); 19] = [
        (b"\r\nX=-1.25,Y=0.30\r\nX=-1.26,Y=0.31\r\n", "X={angle deg .2},Y={cross deg .2}", Axis::Angle, 2),
        (
            b"\r\n17\t1.250\t-0.301\r\n18\t1.251\t-0.302\r\n",
            "{number} {angle deg .3} {cross deg .3}",
            Axis::Angle,
            2,
        ),
        (b"\r\n12,34 mm\r\n12,35 mm\r\n", "{length mm .2} mm", Axis::Length, 1),
        (b"\r\n-1,25;0,30\r\n-1,26;0,31\r\n", "{angle deg .2};{cross deg .2}", Axis::Angle, 2),
        (b"\r\n-1.25\xB0\r\n1.30\xB0\r\n", "{angle deg .2}°", Axis::Angle, 1),
        (
            b"\r\n0.35\xB0 21.5\xB0C\r\n0.36\xB0 21.5\xB0C\r\n",
            "{angle deg .2}° {temperature degC .1}°C",
            Axis::Angle,
            2,
        ),
        (b"\r\nS 1.25\r\nU 7.50\r\nS 1.26\r\n", "{state S=steady U=moving} {angle deg .2}", Axis::Angle, 1),
        (b"\r\nN1 0.1250 in\r\nN2 0.1251 in\r\n", "N{number} {length in .4} in", Axis::Length, 1),
        (b"1.250;1.251;1.252;1.253;", "{angle deg .3}", Axis::Angle, 1),
        (b"\x02A 1.25\x03q\x02A 1.26\x03r\x02A 1.27\x03s", "A {angle deg .2}", Axis::Angle, 1),
        (b"\r\n12,7.05,Nm,OK\r\n13,7.15,Nm,NG\r\n", "{number},{torque N·m .2},Nm,{word}", Axis::Torque, 1),
        (b"\r\n 12.50,in-lb\r\n 12.75,in-lb\r\n", " {torque in-lb .2},in-lb", Axis::Torque, 1),
        (b"\r\n12.5 ft-lb\r\n12.7 ft-lb\r\n", "{torque ft-lb .1} ft-lb", Axis::Torque, 1),
        (b"\r\n12.5 in lb\r\n12.7 in lb\r\n", "{torque in-lb .1} in lb", Axis::Torque, 1),
        (b"\r\n12.5 N.m\r\n12.7 N.m\r\n", "{torque N·m .1} N.m", Axis::Torque, 1),
        (b"\r\n12.5 N\xC2\xB7m\r\n12.7 N\xC2\xB7m\r\n", "{torque N·m .1} N·m", Axis::Torque, 1),
        (b"\r\n1.25 mm/m\r\n1.26 mm/m\r\n", "{angle mm/m .2} mm/m", Axis::Angle, 1),
        (b"\r\n4.5 kg 1.25\r\n4.5 kg 1.26\r\n", "{number} kg {angle deg .2}", Axis::Angle, 1),
        (b"\r\n{1.25}\r\n{1.26}\r\n", "{{{angle deg .2}}", Axis::Angle, 1),
    ];
    for (bytes, form, measures, axes) in cases {
        let shown = String::from_utf8_lossy(bytes).into_owned();
        let (file, text, _) = proposed(bytes).unwrap_or_else(|| panic!("nothing for {shown}"));
        assert!(text.contains(&format!("line = {form:?}")), "{shown}\n{text}");
        assert_eq!((file.measures, file.dialect.axes().len()), (measures, axes), "{text}");
    }
    for other in [&b"12.5 kg"[..], b"12.5%", b"1.25 \xC2\xB5m", b"1.25 \xB5m", b"3.3V"] {
        let bytes = [b"\r\n", other, b"\r\n", other, b"\r\n"].concat();
        assert!(proposed(&bytes).is_none(), "{}", String::from_utf8_lossy(other));
    }
    assert!(proposed(b"hello world\r\nready\r\nready\r\n").is_none());
    assert!(proposed(b"").is_none());
}

#[test]
fn noise_gives_no_proposal_that_cannot_be_read() {
    let mut draws = stories::seeded::Draws::new(11);
    for _ in 0..300 {
        let noise: Vec<u8> = (0..draws.index(400)).map(|_| draws.bits() as u8).collect();
        proposed(&noise);
        // Printable noise gets further.
        let text: Vec<u8> =
            noise.iter().map(|byte| b"0123456789.,-+; \r\nXmE"[usize::from(byte % 21)]).collect();
        proposed(&text);
    }
}
