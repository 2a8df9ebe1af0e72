//! Modbus RTU compared with published frames.

use crate::specs::modbus;
use instrument::{
    Axis, Decimal, Decoder, DialectSpec, Fault, ModbusSpec, Register, RegisterForm, Table, WordOrder,
    modbus_crc,
};
use quantity::Unit;

fn one(form: RegisterForm, order: WordOrder, scale: Decimal) -> DialectSpec {
    let register = Register {
        axis: Axis::Angle,
        unit: Unit::Degree,
        table: Table::Holding,
        address: 0x6B,
        form,
        order,
        scale,
        places: None,
    };
    DialectSpec::Modbus(ModbusSpec {
        slave: 0x11,
        every_ms: 100,
        answer_ms: 500,
        values: [Some(register), None, None, None],
    })
}

fn with_check(frame: &[u8]) -> Vec<u8> {
    [frame, &modbus_crc(frame).to_le_bytes()].concat()
}

fn answered(spec: &DialectSpec, bytes: &[u8]) -> Vec<Result<(i64, i8), Fault>> {
    let mut decoder = Decoder::new(spec);
    decoder.ask(0);
    let mut all = Vec::new();
    decoder.each(bytes, |next| all.push(next.map(|sample| (sample.value.mantissa, sample.value.exponent))));
    all
}

/// V1.02, 6.2.2: the frame 02 07 has the CRC 0x1241, sent 41 12. The catalogue's check value of CRC-16/MODBUS is
/// 0x4B37. The others are from makers' manuals. A frame with its CRC has the CRC 0.
#[test]
fn published_crcs() {
    assert_eq!(modbus_crc(&[0x02, 0x07]), 0x1241);
    assert_eq!(modbus_crc(b"123456789"), 0x4B37);
    let frames: [&[u8]; 5] = [
        &[0x02, 0x07, 0x41, 0x12],
        &[0x11, 0x03, 0x00, 0x6B, 0x00, 0x03, 0x76, 0x87],
        &[0x01, 0x03, 0x00, 0x00, 0x00, 0x0A, 0xC5, 0xCD],
        &[0x01, 0x04, 0x00, 0x00, 0x00, 0x01, 0x31, 0xCA],
        &[0x01, 0x06, 0x02, 0x00, 0x00, 0x64, 0x89, 0x99],
    ];
    for frame in frames {
        let (body, check) = frame.split_at(frame.len() - 2);
        assert_eq!(modbus_crc(body).to_le_bytes(), check, "{frame:02X?}");
        assert_eq!(modbus_crc(frame), 0);
        for bit in 0..frame.len() * 8 {
            let mut flipped = frame.to_vec();
            flipped[bit / 8] ^= 1 << (bit % 8);
            assert_ne!(modbus_crc(&flipped), 0, "bit {bit} of {frame:02X?}");
        }
    }
}

/// Two of those frames are questions for registers: they must be reproduced byte for byte.
#[test]
fn published_questions() {
    let mut decoder = Decoder::new(&modbus());
    assert_eq!(decoder.ask(0), Some([0x11, 0x03, 0x00, 0x6B, 0x00, 0x03, 0x76, 0x87]));
    let scale = Decimal { mantissa: 1, exponent: 0 };
    let DialectSpec::Modbus(mut spec) = one(RegisterForm::I16, WordOrder::HighFirst, scale) else {
        unreachable!()
    };
    spec.slave = 1;
    let value = spec.values[0].as_mut().unwrap();
    (value.table, value.address) = (Table::Input, 0);
    let mut decoder = Decoder::new(&DialectSpec::Modbus(spec));
    assert_eq!(decoder.ask(0), Some([0x01, 0x04, 0x00, 0x00, 0x00, 0x01, 0x31, 0xCA]));
}

#[test]
fn numbers_of_either_width_order_and_sign() {
    let thousandths = Decimal { mantissa: 1, exponent: -3 };
    let halves = Decimal { mantissa: 5, exponent: -1 };
    use RegisterForm::{F32, I16, I32, U16, U32};
    let ones = Decimal { mantissa: 1, exponent: 0 };
    use WordOrder::{HighFirst, LowFirst};
    for (form, order, scale, words, want) in [
        (I16, HighFirst, thousandths, &[0xFB2E_u16][..], (-1234, -3)),
        (U16, HighFirst, thousandths, &[0xFB2E], (64302, -3)),
        (I16, HighFirst, halves, &[0x0003], (15, -1)),
        (I32, HighFirst, thousandths, &[0xFFFF, 0xFB2E], (-1234, -3)),
        (I32, LowFirst, thousandths, &[0xFB2E, 0xFFFF], (-1234, -3)),
        (U32, HighFirst, thousandths, &[0x0001, 0x0000], (65536, -3)),
        (U32, LowFirst, thousandths, &[0x0000, 0x8000], (0x8000_0000, -3)),
        (I32, HighFirst, thousandths, &[0x8000, 0x0000], (-0x8000_0000, -3)),
        // -12.5 is 0xC1480000 (IEEE 754: sign, exponent 3, 1.5625).
        (F32, HighFirst, ones, &[0xC148, 0x0000], (-125, -1)),
        (F32, LowFirst, ones, &[0x0000, 0xC148], (-125, -1)),
        (F32, HighFirst, thousandths, &[0xC148, 0x0000], (-125, -4)),
    ] {
        let mut frame = vec![0x11, 0x03, (words.len() * 2) as u8];
        frame.extend(words.iter().flat_map(|word| word.to_be_bytes()));
        assert_eq!(answered(&one(form, order, scale), &with_check(&frame)), [Ok(want)], "{form:?} {order:?}");
    }
}

#[test]
fn exceptions_are_reported_and_other_slaves_ignored() {
    let spec = one(RegisterForm::I16, WordOrder::HighFirst, Decimal { mantissa: 1, exponent: 0 });
    assert_eq!(answered(&spec, &with_check(&[0x11, 0x83, 0x02])), [Err(Fault::Exception(2))]);
    // Another slave, another function, another length, a wrong CRC.
    assert_eq!(answered(&spec, &with_check(&[0x12, 0x03, 0x02, 0x00, 0x07])), []);
    assert_eq!(answered(&spec, &with_check(&[0x11, 0x04, 0x02, 0x00, 0x07])), []);
    assert_eq!(answered(&spec, &with_check(&[0x11, 0x03, 0x04, 0x00, 0x07, 0x00, 0x08])), []);
    assert_eq!(answered(&spec, &[0x11, 0x03, 0x02, 0x00, 0x07, 0x00, 0x00]), []);
}

#[test]
fn an_echo_of_the_question_does_no_harm_and_an_answer_counts_once() {
    let spec = one(RegisterForm::I16, WordOrder::HighFirst, Decimal { mantissa: 1, exponent: 0 });
    let mut decoder = Decoder::new(&spec);
    let echo = decoder.ask(0).unwrap();
    let answer = with_check(&[0x11, 0x03, 0x02, 0x00, 0x07]);
    let mut count = 0;
    decoder.each(&[&echo[..], &answer, &answer].concat(), |next| count += usize::from(next.is_ok()));
    decoder.each(&answer, |next| count += usize::from(next.is_ok()));
    assert_eq!(count, 1);
}

#[test]
fn every_single_flipped_bit_of_an_answer_is_caught() {
    let spec = one(RegisterForm::I32, WordOrder::HighFirst, Decimal { mantissa: 1, exponent: -3 });
    let answer = with_check(&[0x11, 0x03, 0x04, 0xFF, 0xFF, 0xFB, 0x2E]);
    assert_eq!(answered(&spec, &answer), [Ok((-1234, -3))]);
    for bit in 0..answer.len() * 8 {
        let mut flipped = answer.clone();
        flipped[bit / 8] ^= 1 << (bit % 8);
        assert_eq!(answered(&spec, &flipped), [], "bit {bit}");
    }
}

/// No digit beyond the precision of 32 bits; rounding noise becomes zero, and what cannot be stored gives no value.
#[test]
fn a_float_has_the_digits_that_make_it() {
    let spec = one(RegisterForm::F32, WordOrder::HighFirst, Decimal { mantissa: 1, exponent: 0 });
    let read = |number: f32| {
        let [answer] =
            answered(&spec, &with_check(&[&[0x11, 0x03, 0x04][..], &number.to_be_bytes()].concat()))[..]
        else {
            panic!("one answer to {number}")
        };
        answer.map(|(mantissa, exponent)| Decimal { mantissa, exponent }.to_string())
    };
    for (number, text) in [
        (12.34_f32, "12.34"),
        (-0.1, "-0.1"),
        (0.0, "0.000000000"),
        (1.0, "1"),
        (100.0, "1e2"),
        (f32::MIN_POSITIVE, "0.000000000"),
        (0.001, "0.001"),
        (-1.234_567_9, "-1.2345679"),
    ] {
        assert_eq!(read(number).as_deref(), Ok(text));
    }
    for none in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY, f32::from_bits(u32::MAX), f32::MAX] {
        assert_eq!(read(none), Err(Fault::NoValue), "{none}");
    }
}

/// Two tables, and registers with a gap between them: three questions, each after the answer to the one before.
fn apart() -> ModbusSpec {
    let value = |axis, table, address| {
        let scale = Decimal { mantissa: 1, exponent: -2 };
        let (unit, order) = (instrument::kind_of(axis), WordOrder::HighFirst);
        let unit = if unit == quantity::Kind::Angle { Unit::Degree } else { Unit::Celsius };
        Some(Register { axis, unit, table, address, form: RegisterForm::I16, order, scale, places: None })
    };
    let values = [
        value(Axis::Temperature, Table::Holding, 40),
        value(Axis::Cross, Table::Input, 8),
        value(Axis::Angle, Table::Input, 7),
        value(Axis::Length, Table::Input, 1_000).map(|it| Register { unit: Unit::Millimetre, ..it }),
    ];
    ModbusSpec { slave: 17, every_ms: 100, answer_ms: 500, values }
}

#[test]
fn only_registers_that_hold_a_value_are_asked_for() {
    let asked: Vec<_> =
        apart().questions().into_iter().flatten().map(|it| (it.table, it.first, it.count)).collect();
    assert_eq!(asked, [(Table::Holding, 40, 1), (Table::Input, 7, 2), (Table::Input, 1_000, 1)]);
}

/// The frames that a decoder sends at these times while nobody answers, and the faults it reports.
fn unanswered(decoder: &mut Decoder, from_ms: u64, to_ms: u64) -> (Vec<u64>, Vec<Fault>) {
    let (mut asked, mut said) = (Vec::new(), Vec::new());
    for now_ms in from_ms..to_ms {
        asked.extend(decoder.ask(now_ms).map(|_| now_ms));
        decoder.each(&[], |next| said.extend(next.err()));
    }
    (asked, said)
}

#[test]
fn nothing_is_asked_before_the_answer_or_its_time_out() {
    let mut decoder = Decoder::new(&DialectSpec::Modbus(apart()));
    let (asked, said) = unanswered(&mut decoder, 0, 3_000);
    // Half a second for an answer, and half a second in which it may still come.
    assert_eq!(asked, [0, 1_000, 2_000]);
    assert_eq!(said, [Fault::NoAnswer; 3]);
    // An answer frees the line immediately for the next question; the next round keeps its interval.
    let mut decoder = Decoder::new(&DialectSpec::Modbus(apart()));
    let mut values = Vec::new();
    let mut asked = Vec::new();
    for now_ms in 0..250 {
        if let Some(question) = decoder.ask(now_ms) {
            asked.push((now_ms, question[1], question[3]));
            let count = usize::from(question[5]);
            let data = [&[0x11, question[1], 2 * question[5]][..], &[0, 7, 0, 9][..2 * count]].concat();
            decoder.each(&with_check(&data), |next| values.push(next.unwrap()));
        }
    }
    let round = |ms| [(ms, 3, 40), (ms + 1, 4, 7), (ms + 2, 4, 0xE8)];
    assert_eq!(asked, [round(0), round(100), round(200)].concat());
    let axes: Vec<_> = values.iter().take(4).map(|sample| sample.axis).collect();
    assert_eq!(axes, [Axis::Temperature, Axis::Cross, Axis::Angle, Axis::Length]);
}

#[test]
fn silence_damage_other_bytes_and_refusal_are_told_apart() {
    let spec = one(RegisterForm::I16, WordOrder::HighFirst, Decimal { mantissa: 1, exponent: 0 });
    let echo = Decoder::new(&spec).ask(0).unwrap();
    let wrong = [0x11, 0x03, 0x02, 0x00, 0x07, 0x00, 0x00];
    let cases: [(&[u8], Fault); 6] = [
        (&[], Fault::NoAnswer),
        (&echo, Fault::NoAnswer),
        (&wrong, Fault::Check),
        (&[0x11, 0x83, 0x02, 0x00, 0x00], Fault::Check),
        (&with_check(&[0x12, 0x03, 0x02, 0x00, 0x07]), Fault::OtherAnswer { bytes: 7 }),
        (&[0x00, 0xFF, 0x00], Fault::OtherAnswer { bytes: 3 }),
    ];
    for (bytes, fault) in cases {
        let mut decoder = Decoder::new(&spec);
        decoder.ask(0).unwrap();
        let mut said = Vec::new();
        decoder.each(bytes, |next| said.push(next));
        assert!(said.is_empty(), "{bytes:02X?} {said:?}");
        assert_eq!(unanswered(&mut decoder, 1, 900).1, [fault], "{bytes:02X?}");
    }
}

#[test]
fn a_late_answer_is_reported_and_never_taken_for_another() {
    let mut decoder = Decoder::new(&DialectSpec::Modbus(apart()));
    assert!(decoder.ask(0).is_some());
    assert_eq!(unanswered(&mut decoder, 1, 600).1, [Fault::NoAnswer]);
    let mut said = Vec::new();
    decoder.each(&with_check(&[0x11, 0x03, 0x02, 0x00, 0x07]), |next| said.push(next));
    assert_eq!(said, [Err(Fault::Late)]);
    // The line is free again: the next question goes out, and the same bytes are not an answer to it.
    assert_eq!(decoder.ask(600).unwrap()[1], 4);
    decoder.each(&with_check(&[0x11, 0x03, 0x02, 0x00, 0x07]), |next| said.push(next));
    assert_eq!(said.len(), 1);
}
