#![no_main]
//! Modbus RTU answers.

mod common;

use instrument::{
    Axis, Decimal, DialectSpec, Fault, ModbusSpec, Register, RegisterForm, Table, Unit, WordOrder, modbus_crc,
};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: &[u8]| {
    let register = Register {
        axis: Axis::Angle,
        unit: Unit::Degree,
        table: Table::Input,
        address: 0,
        form: RegisterForm::I32,
        order: WordOrder::LowFirst,
        scale: Decimal { mantissa: 5, exponent: -3 },
        places: None,
    };
    let values = [Some(register), None, None, None];
    let spec = DialectSpec::Modbus(ModbusSpec { slave: 17, every_ms: 100, answer_ms: 500, values });
    // Half of the inputs get a right check at their end; otherwise hardly any would have one.
    let Some((first, body)) = data.split_first() else { return };
    let mut bytes = body.to_vec();
    if first & 1 == 1 {
        bytes.extend(modbus_crc(body).to_le_bytes());
    }
    for next in common::heard(&spec, &bytes, usize::from(*first)) {
        let frames = bytes.windows(9).filter(|frame| frame[..3] == [17, 4, 4] && modbus_crc(frame) == 0);
        let refusals = bytes.windows(5).filter(|frame| frame[..2] == [17, 0x84] && modbus_crc(frame) == 0);
        match next {
            Ok(sample) => {
                let raw = (sample.value.mantissa / 5) as i32 as u32;
                let words = [(raw as u16).to_be_bytes(), ((raw >> 16) as u16).to_be_bytes()].concat();
                assert!(frames.into_iter().any(|frame| frame[3..7] == words), "{sample:?}");
            }
            Err(Fault::Exception(code)) => assert!(refusals.into_iter().any(|frame| frame[2] == code)),
            Err(other) => panic!("{other:?}"),
        }
    }
});
