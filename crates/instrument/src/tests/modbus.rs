//! Modbus RTU against published frames.

use super::specs::modbus;
use crate::{
    Axis, Decimal, Decoder, DialectSpec, Fault, ModbusSpec, Register, RegisterForm, Table, WordOrder,
    modbus_crc,
};
use quantity::Unit;
use std::vec::Vec;

fn one(form: RegisterForm, order: WordOrder, scale: Decimal) -> DialectSpec {
    let register = Register { axis: Axis::Angle, unit: Unit::Degree, address: 0x6B, form, order, scale };
    DialectSpec::Modbus(ModbusSpec {
        slave: 0x11,
        table: Table::Holding,
        every_ms: 100,
        values: [Some(register), None, None, None],
    })
}

fn with_check(frame: &[u8]) -> Vec<u8> {
    [frame, &modbus_crc(frame).to_le_bytes()].concat()
}

fn answered(spec: &DialectSpec, bytes: &[u8]) -> Vec<Result<(i64, i8), Fault>> {
    let mut decoder = Decoder::new(spec);
    decoder.poll();
    let mut all = Vec::new();
    decoder.each(bytes, |next| all.push(next.map(|sample| (sample.value.mantissa, sample.value.exponent))));
    all
}

/// V1.02, 6.2.2: the frame 02 07 has the CRC 0x1241, sent 41 12. The catalogue's check value of
/// CRC-16/MODBUS is 0x4B37. The others stand in makers' manuals. A frame with its CRC has the CRC 0.
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

/// Two of those frames are questions for registers: they must be asked byte for byte.
#[test]
fn published_questions() {
    let mut decoder = Decoder::new(&modbus());
    assert_eq!(decoder.poll(), Some([0x11, 0x03, 0x00, 0x6B, 0x00, 0x03, 0x76, 0x87]));
    let scale = Decimal { mantissa: 1, exponent: 0 };
    let DialectSpec::Modbus(mut spec) = one(RegisterForm::I16, WordOrder::HighFirst, scale) else {
        unreachable!()
    };
    spec.slave = 1;
    spec.table = Table::Input;
    spec.values[0].as_mut().unwrap().address = 0;
    let mut decoder = Decoder::new(&DialectSpec::Modbus(spec));
    assert_eq!(decoder.poll(), Some([0x01, 0x04, 0x00, 0x00, 0x00, 0x01, 0x31, 0xCA]));
}

#[test]
fn numbers_of_either_width_order_and_sign() {
    let thousandths = Decimal { mantissa: 1, exponent: -3 };
    let halves = Decimal { mantissa: 5, exponent: -1 };
    use RegisterForm::{I16, I32, U16, U32};
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
    ] {
        let mut frame = std::vec![0x11, 0x03, (words.len() * 2) as u8];
        frame.extend(words.iter().flat_map(|word| word.to_be_bytes()));
        assert_eq!(answered(&one(form, order, scale), &with_check(&frame)), [Ok(want)], "{form:?} {order:?}");
    }
}

#[test]
fn exceptions_are_told_and_strangers_are_not_heard() {
    let spec = one(RegisterForm::I16, WordOrder::HighFirst, Decimal { mantissa: 1, exponent: 0 });
    assert_eq!(answered(&spec, &with_check(&[0x11, 0x83, 0x02])), [Err(Fault::Exception(2))]);
    // Another slave, another function, another length, a wrong check.
    assert_eq!(answered(&spec, &with_check(&[0x12, 0x03, 0x02, 0x00, 0x07])), []);
    assert_eq!(answered(&spec, &with_check(&[0x11, 0x04, 0x02, 0x00, 0x07])), []);
    assert_eq!(answered(&spec, &with_check(&[0x11, 0x03, 0x04, 0x00, 0x07, 0x00, 0x08])), []);
    assert_eq!(answered(&spec, &[0x11, 0x03, 0x02, 0x00, 0x07, 0x00, 0x00]), []);
}

#[test]
fn an_echo_of_the_question_does_no_harm_and_an_answer_counts_once() {
    let spec = one(RegisterForm::I16, WordOrder::HighFirst, Decimal { mantissa: 1, exponent: 0 });
    let mut decoder = Decoder::new(&spec);
    let echo = decoder.poll().unwrap();
    let answer = with_check(&[0x11, 0x03, 0x02, 0x00, 0x07]);
    let mut count = 0;
    decoder.each(&[&echo[..], &answer, &answer].concat(), |next| count += usize::from(next.is_ok()));
    decoder.each(&answer, |next| count += usize::from(next.is_ok()));
    assert_eq!(count, 1);
}

#[test]
fn every_single_bit_of_an_answer() {
    let spec = one(RegisterForm::I32, WordOrder::HighFirst, Decimal { mantissa: 1, exponent: -3 });
    let answer = with_check(&[0x11, 0x03, 0x04, 0xFF, 0xFF, 0xFB, 0x2E]);
    assert_eq!(answered(&spec, &answer), [Ok((-1234, -3))]);
    for bit in 0..answer.len() * 8 {
        let mut flipped = answer.clone();
        flipped[bit / 8] ^= 1 << (bit % 8);
        assert_eq!(answered(&spec, &flipped), [], "bit {bit}");
    }
}
