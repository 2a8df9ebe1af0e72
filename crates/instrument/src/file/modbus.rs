//! The keys of `speaks = "modbus"`.

use super::table::Table;
use super::{FileFault, Right};
use crate::{
    Decimal, MAX_VALUES, ModbusSpec, Register, RegisterForm, Table as Registers, WordOrder, kind_of,
};
use quantity::{Kind, Unit};

/// How often to ask, and how long to wait for an answer, if the file does not say.
const EVERY_MS: u64 = 200;
const ANSWER_MS: u64 = 1_000;

pub(super) fn spec(table: &Table<'_, '_>) -> Option<ModbusSpec> {
    let slave = table.needed("modbus", "slave", slave(table), "its address, 1 to 247");
    let registers =
        table.word("registers", "table of registers", &Registers::WORDS).unwrap_or(Registers::Holding);
    let every_ms = table.whole("every_ms", 10..=60_000);
    let answer_ms = table.whole("answer_ms", 20..=10_000);
    let right = "one [[dialect.value]] for each value, with axis, unit, address, form and scale";
    let values = table.needed("modbus", "value", table.tables("value"), right)?;
    if values.each.is_empty() || values.each.len() > MAX_VALUES {
        return table.wrong(&values.span, FileFault::Values(values.each.len()));
    }
    let mut spec = ModbusSpec {
        slave: slave.unwrap_or_default(),
        every_ms: u16::try_from(every_ms.unwrap_or(EVERY_MS)).ok()?,
        answer_ms: u16::try_from(answer_ms.unwrap_or(ANSWER_MS)).ok()?,
        values: [None; MAX_VALUES],
    };
    let mut whole = slave.is_some();
    for (slot, value) in spec.values.iter_mut().zip(values.each) {
        *slot = register(value, registers);
        whole &= slot.is_some();
    }
    whole.then_some(spec)
}

fn slave(table: &Table<'_, '_>) -> Option<u8> {
    let value = table.value("slave")?;
    let number = value.get_ref().as_integer().and_then(|it| u8::from_str_radix(it.as_str(), it.radix()).ok());
    match number.filter(|number| (1..=247).contains(number)) {
        Some(number) => Some(number),
        None => table.wrong(&value.span(), FileFault::Slave),
    }
}

fn register(table: Table<'_, '_>, usual: Registers) -> Option<Register> {
    let word = table.required("axis", table.text("axis"), "write axis = \"angle\", \"cross\" or another");
    let axis = word.and_then(|word| table.axis(&word));
    let unit = table.required("unit", table.text("unit"), "write unit = \"deg\" or another");
    let unit = axis.zip(unit).and_then(|(axis, word)| {
        let unit = quantity::unit_named(&word.text).filter(|unit| unit.kind() == kind_of(axis));
        if unit.is_none() {
            let what = FileFault::UnitOfAxis { unit: word.text, axis };
            table.mistakes.note(&word.span, what, None);
        }
        unit
    });
    let registers = table.word("registers", "table of registers", &Registers::WORDS).unwrap_or(usual);
    let address = table.required(
        "address",
        table.whole("address", 0..=0xFFFF),
        "its first register, counted from 0 as in the frame",
    );
    let form = table.required(
        "form",
        table.word("form", "form", &RegisterForm::WORDS),
        "write form = \"i16\", \"u16\", \"i32\", \"u32\" or \"f32\"",
    );
    let order = table.word("order", "order", &WordOrder::WORDS);
    let two = form.is_some_and(|form| form.registers() == 2);
    if two && !table.table.contains_key("order") {
        let right = Right::Write("write order = \"high-first\" or \"low-first\"");
        table.mistakes.note(&table.span, FileFault::NoOrder, Some(right));
    }
    if two && address == Some(0xFFFF) {
        table.mistakes.note(&table.span, FileFault::NoRegister, None);
    }
    let scale = scale(&table, form);
    table.finish();
    let order = order.unwrap_or(WordOrder::HighFirst);
    Some(Register {
        axis: axis?,
        unit: unit?,
        table: registers,
        address: u16::try_from(address?).ok()?,
        form: form?,
        order,
        scale: scale?,
        places: None,
    })
}

/// The value of one count, with its digits as written.
fn scale(table: &Table<'_, '_>, form: Option<RegisterForm>) -> Option<Decimal> {
    let one = Decimal { mantissa: 1, exponent: 0 };
    if form == Some(RegisterForm::F32) && !table.table.contains_key("scale") {
        return Some(one);
    }
    let right = "write scale = the value of one count, in `unit`: 0.01 for hundredths";
    let written = table.required("scale", table.number("scale"), right)?;
    let scale = Decimal::whole(written.text.as_bytes()).filter(|scale| scale.mantissa != 0);
    if scale.is_none() {
        table.mistakes.note(&written.span, FileFault::NoScale, None);
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
