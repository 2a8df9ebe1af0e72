//! Decodes a frame of each dialect and settles on it, with no operating system except the call to exit. Exits with 42
//! if every result is right. If anything needed the standard library or an allocator, it would not link.
#![no_std]
#![no_main]

use core::arch::{asm, naked_asm};
use instrument::{
    Axis, Decimal, Decoder, DialectSpec, ModbusSpec, NamedAxis, NmeaSpec, Register, RegisterForm,
    Settle, SettleSettings, State, Table, Template, Text, Unit, WordOrder, modbus_crc,
};

/// The entry point: the stack is aligned as functions expect it.
#[unsafe(no_mangle)]
#[unsafe(naked)]
extern "C" fn _start() -> ! {
    naked_asm!("and rsp, -16", "call {main}", "ud2", main = sym main)
}

extern "C" fn main() -> ! {
    end(if everything().is_some() { 42 } else { 1 })
}

fn everything() -> Option<()> {
    let template = Template::new("X={angle deg},Y={cross deg}").ok()?;
    let mut nmea = NmeaSpec::default();
    nmea.names[0] = Text::from("PITCH").ok().map(|name| NamedAxis { name, axis: Axis::Angle });
    expect(&DialectSpec::Jigtrue, b"~1,sample,17,105250,angle,-1234e-3,deg,r*D576\r\n", -1234)?;
    expect(&DialectSpec::Lines(template), b"X=-1.234,Y=0.5\r\n", -1234)?;
    expect(&DialectSpec::Nmea(nmea), b"$GPXDR,A,0.071,D,PITCH,A,228.132,D,YAW*5E\r\n", 71)?;
    expect(&DialectSpec::Bcd, b"FFFF801234520\r\n", -12_345)?;
    modbus()?;
    settle()
}

fn expect(spec: &DialectSpec, bytes: &[u8], mantissa: i64) -> Option<()> {
    let mut decoder = Decoder::new(spec);
    decoder.silence();
    decoder.received(bytes);
    let sample = decoder.next()?.ok()?;
    (sample.value.mantissa == mantissa).then_some(())
}

fn modbus() -> Option<()> {
    let register = Register {
        axis: Axis::Angle,
        unit: Unit::Degree,
        table: Table::Holding,
        address: 0,
        form: RegisterForm::I16,
        order: WordOrder::HighFirst,
        scale: Decimal { mantissa: 1, exponent: -3 },
        places: None,
    };
    let values = [Some(register), None, None, None];
    let mut decoder = Decoder::new(&DialectSpec::Modbus(ModbusSpec {
        slave: 1,
        every_ms: 100,
        answer_ms: 500,
        values,
    }));
    decoder.ask(0)?;
    let mut answer = [1, 3, 2, 0xFB, 0x2E, 0, 0];
    let check = modbus_crc(&answer[..5]).to_le_bytes();
    answer[5..].copy_from_slice(&check);
    decoder.received(&answer);
    (decoder.next()?.ok()?.value.mantissa == -1234).then_some(())
}

fn settle() -> Option<()> {
    let mut settle = Settle::new(SettleSettings::from_instrument(0.01, 0.0));
    let mut state = State::Lost;
    for n in 0..30 {
        state = settle.value(n * 100, 1.25);
    }
    matches!(state, State::Settled { reading, .. } if reading.value == 1.25).then_some(())
}

fn end(code: i32) -> ! {
    // SAFETY: system call 60 of Linux on x86-64 is exit; it does not return and touches no memory.
    unsafe { asm!("syscall", in("rax") 60, in("edi") code, options(noreturn, nostack)) }
}

#[panic_handler]
fn panic(_: &core::panic::PanicInfo<'_>) -> ! {
    end(2)
}

/// What the compiler calls for copies and comparisons without a C library.
mod memory {
    #[unsafe(no_mangle)]
    unsafe extern "C" fn memcpy(to: *mut u8, from: *const u8, count: usize) -> *mut u8 {
        // SAFETY: the caller promises `count` bytes at both places, not overlapping.
        unsafe {
            core::arch::asm!("rep movsb", inout("rcx") count => _, inout("rdi") to => _, inout("rsi") from => _)
        };
        to
    }

    #[unsafe(no_mangle)]
    unsafe extern "C" fn memmove(to: *mut u8, from: *const u8, count: usize) -> *mut u8 {
        if (to as usize).wrapping_sub(from as usize) >= count {
            // SAFETY: reading forward, nothing is overwritten before it is read.
            return unsafe { memcpy(to, from, count) };
        }
        for at in (0..count).rev() {
            // SAFETY: the caller promises `count` bytes at both places; going backward, nothing is overwritten
            // unread.
            unsafe { core::ptr::write_volatile(to.add(at), core::ptr::read_volatile(from.add(at))) };
        }
        to
    }

    #[unsafe(no_mangle)]
    unsafe extern "C" fn memset(to: *mut u8, byte: i32, count: usize) -> *mut u8 {
        // SAFETY: the caller promises `count` bytes.
        unsafe {
            core::arch::asm!("rep stosb", inout("rcx") count => _, inout("rdi") to => _, in("al") byte as u8)
        };
        to
    }

    #[unsafe(no_mangle)]
    unsafe extern "C" fn memcmp(one: *const u8, other: *const u8, count: usize) -> i32 {
        for at in 0..count {
            // SAFETY: the caller promises `count` bytes at both places.
            let (a, b) =
                unsafe { (core::ptr::read_volatile(one.add(at)), core::ptr::read_volatile(other.add(at))) };
            if a != b {
                return i32::from(a) - i32::from(b);
            }
        }
        0
    }

    #[unsafe(no_mangle)]
    unsafe extern "C" fn bcmp(one: *const u8, other: *const u8, count: usize) -> i32 {
        // SAFETY: as the caller promises.
        unsafe { memcmp(one, other, count) }
    }

    #[unsafe(no_mangle)]
    extern "C" fn rust_eh_personality() {}
}
