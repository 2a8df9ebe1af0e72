//! A board at rest on a pseudo-terminal: twenty times a second the same angle, with the noise of its last digit.

use jigtrue_protocol::{Decimal, Flags, Message, Quantity, Sample, Stamp, Unit};
use serialport::{SerialPort, TTYPort};
use std::io::Write;
use std::path::Path;
use std::time::Duration;

/// Plugged in until the program ends.
pub struct Board;

impl Board {
    pub fn plug_in(link: &Path) -> Self {
        let (mut master, slave) = TTYPort::pair().unwrap();
        let _ = std::fs::remove_file(link);
        std::os::unix::fs::symlink(slave.name().unwrap(), link).unwrap();
        std::thread::spawn(move || {
            // The other end stays open, or the lines would be refused before the window takes it up.
            let _other_end = slave;
            for sequence in 0_u32.. {
                let sample = Sample {
                    stamp: Stamp { sequence, device_ms: sequence * 50 },
                    quantity: Quantity::Angle,
                    value: Decimal { mantissa: 35 + i32::from(sequence % 7 == 0), exponent: -2 },
                    unit: Unit::Degrees,
                    flags: Flags::NONE,
                };
                let _ = master.write_all(Message::Sample(sample).encode().unwrap().as_bytes());
                std::thread::sleep(Duration::from_millis(50));
            }
        });
        Self
    }
}
