//! One instrument of each dialect, as the tests use them.

use instrument::{
    Axis, Decimal, DialectSpec, ModbusSpec, NamedAxis, NmeaSpec, Register, RegisterForm, Table, Template,
    Text, WordOrder,
};
use quantity::Unit;
use stories::sim::{Channel, Simulated, Trace};

/// How an instrument of [`lines`] writes its values.
pub const LINE: &str = "X={angle},Y={cross}";

pub fn lines() -> DialectSpec {
    DialectSpec::Lines(Template::new("X={angle deg .3},Y={cross deg .3}").unwrap())
}

pub fn nmea() -> DialectSpec {
    let mut spec = NmeaSpec::default();
    spec.names[0] = Text::from("PITCH").ok().map(|name| NamedAxis { name, axis: Axis::Angle });
    spec.names[1] = Text::from("ROLL").ok().map(|name| NamedAxis { name, axis: Axis::Cross });
    DialectSpec::Nmea(spec)
}

pub fn modbus() -> DialectSpec {
    let register = |axis, address, form, order| {
        let scale = Decimal { mantissa: 1, exponent: -3 };
        let table = Table::Holding;
        Some(Register { axis, unit: Unit::Degree, table, address, form, order, scale, places: None })
    };
    let mut spec = ModbusSpec { slave: 17, every_ms: 100, answer_ms: 500, values: [None; 4] };
    spec.values[0] = register(Axis::Angle, 0x6B, RegisterForm::I32, WordOrder::LowFirst);
    spec.values[1] = register(Axis::Cross, 0x6D, RegisterForm::I16, WordOrder::HighFirst);
    DialectSpec::Modbus(spec)
}

/// The dialects that send unasked and have a checksum.
pub fn checked() -> [DialectSpec; 2] {
    [DialectSpec::Jigtrue, nmea()]
}

/// The dialects without a checksum.
pub fn unchecked() -> [DialectSpec; 2] {
    [lines(), DialectSpec::Bcd]
}

/// An instrument that turns steadily, so that every value differs.
pub fn turning(spec: DialectSpec, seed: u64) -> Simulated {
    let channel = |axis, from, to| {
        let trace = Trace::at(from).ramp(0, 1_000_000, to);
        Channel { axis, unit: Unit::Degree, step: Decimal { mantissa: 1, exponent: -3 }, trace }
    };
    let mut channels = vec![channel(Axis::Angle, -12.0, 13.0), channel(Axis::Cross, 3.0, -3.0)];
    if spec == DialectSpec::Bcd {
        channels = vec![Channel {
            axis: Axis::Length,
            unit: Unit::Millimetre,
            ..channel(Axis::Length, -99.0, 99.0)
        }];
    }
    Simulated::new(spec, channels, 100, seed).writing(LINE)
}
