//! The keys of `speaks = "modbus"`.

use super::{FileFault, Table, axes};
use crate::{
    Decimal, MAX_VALUES, ModbusSpec, Register, RegisterForm, Table as Registers, WordOrder, kind_of,
};
use quantity::{Kind, Unit};
use std::borrow::ToOwned;

/// How often to ask, and how long to wait for an answer, if the file does not say.
const EVERY_MS: u16 = 200;
const ANSWER_MS: u16 = 1_000;

pub(super) fn spec(table: &Table<'_, '_>) -> Option<ModbusSpec> {
    let slave = table.wants("slave", "its address, 1 to 247").whole_within("slave", 1..=247);
    let registers = table.word("registers", &Registers::WORDS).unwrap_or(Registers::Holding);
    let every_ms = table.whole_within("every_ms", 10..=60_000);
    let answer_ms = table.whole_within("answer_ms", 20..=10_000);
    let right = "one [[dialect.value]] for each value, with axis, unit, address, form and scale";
    table.wants("value", right);
    let found = table.list("value", "a [[dialect.value]]", |value| register(value, registers));
    let count = table.count("value");
    if let Some(at) =
        table.value("value").filter(|at| at.get_ref().is_array() && !(1..=MAX_VALUES).contains(&count))
    {
        table.mistakes().note(at.span(), FileFault::Values(count), None);
    }
    let mut values = [None; MAX_VALUES];
    values.iter_mut().zip(&found).for_each(|(slot, value)| *slot = Some(*value));
    let spec = ModbusSpec {
        slave: slave?,
        every_ms: every_ms.unwrap_or(EVERY_MS),
        answer_ms: answer_ms.unwrap_or(ANSWER_MS),
        values,
    };
    (!found.is_empty() && found.len() == count).then_some(spec)
}

fn register(table: &Table<'_, '_>, usual: Registers) -> Option<Register> {
    let axis = table.required_word("axis", &axes());
    let unit = table.wants("unit", "write unit = \"deg\" or another").text("unit");
    let unit = axis.zip(unit).and_then(|(axis, word)| {
        let unit = quantity::unit_named(&word.text).filter(|unit| unit.kind() == kind_of(axis));
        if unit.is_none() {
            let what = FileFault::UnitOfAxis { unit: word.text, axis };
            table.mistakes().note(word.span, what, None);
        }
        unit
    });
    let registers = table.word("registers", &Registers::WORDS).unwrap_or(usual);
    let address = table
        .wants("address", "its first register, counted from 0 as in the frame")
        .whole_within("address", 0..=u16::MAX);
    let form = table.required_word("form", &RegisterForm::WORDS);
    let order = table.word("order", &WordOrder::WORDS);
    let two = form.is_some_and(|form| form.registers() == 2);
    if two && !table.has("order") {
        let right = "write order = \"high-first\" or \"low-first\"".to_owned();
        table.mistakes().note(table.span(), FileFault::NoOrder, Some(right));
    }
    if two && address == Some(u16::MAX) {
        table.mistakes().note(table.span(), FileFault::NoRegister, None);
    }
    let scale = scale(table, form);
    let order = order.unwrap_or(WordOrder::HighFirst);
    Some(Register {
        axis: axis?,
        unit: unit?,
        table: registers,
        address: address?,
        form: form?,
        order,
        scale: scale?,
        places: None,
    })
}

/// The value of one count, with its digits as written.
fn scale(table: &Table<'_, '_>, form: Option<RegisterForm>) -> Option<Decimal> {
    if form == Some(RegisterForm::F32) && !table.has("scale") {
        return Some(Decimal { mantissa: 1, exponent: 0 });
    }
    let right = "write scale = the value of one count, in `unit`: 0.01 for hundredths";
    let written = table.wants("scale", right).digits("scale")?;
    let scale = Decimal::whole(written.text.as_bytes()).filter(|scale| scale.mantissa != 0);
    if scale.is_none() {
        table.mistakes().note(written.span, FileFault::NoScale, None);
    }
    scale
}

/// Gives floating-point numbers the decimals of the step of the measured axis; others get two.
pub(super) fn round(spec: &mut ModbusSpec, kind: Kind, step: f64) {
    for value in spec.values.iter_mut().flatten() {
        let alike = kind_of(value.axis) == kind;
        value.places = Some(if alike { places(value.unit, step) } else { 2 });
    }
}

/// The number of decimals that a step needs in a unit.
fn places(unit: Unit, step: f64) -> u8 {
    let one = (unit.to_base(1.0) - unit.to_base(0.0)).abs();
    let in_unit = step / one;
    (0..9).find(|places| in_unit * 10_f64.powi(i32::from(*places)) > 0.999_999).unwrap_or(9)
}
