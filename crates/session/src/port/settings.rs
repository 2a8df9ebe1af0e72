//! Opening a serial line with its settings.

use instrument::{Parity, PortSettings};
use std::time::Duration;

/// How long a read waits before the thread does its other work.
pub const WAIT: Duration = Duration::from_millis(50);

/// Opens a port with these settings. Bytes received earlier are discarded, because their age is unknown.
pub fn open(
    settings: &PortSettings,
    path: &str,
) -> Result<Box<dyn serialport::SerialPort>, serialport::Error> {
    let port = serialport::new(path, settings.baud)
        .data_bits(if settings.data_bits == 7 {
            serialport::DataBits::Seven
        } else {
            serialport::DataBits::Eight
        })
        .parity(match settings.parity {
            Parity::None => serialport::Parity::None,
            Parity::Even => serialport::Parity::Even,
            Parity::Odd => serialport::Parity::Odd,
        })
        .stop_bits(if settings.stop_bits == 2 {
            serialport::StopBits::Two
        } else {
            serialport::StopBits::One
        })
        .timeout(WAIT)
        .open()?;
    // Some virtual ports cannot do it; then old bytes are merely not discarded.
    let _ = port.clear(serialport::ClearBuffer::Input);
    Ok(port)
}

/// The silence between two frames of Modbus RTU: three and a half characters of eleven bits, above 19200 bits per
/// second 1.75 ms ("Modbus over Serial Line V1.02", 2.5.1.1, from memory); plus one, because milliseconds are
/// counted.
pub fn silence_ms(settings: &PortSettings) -> u64 {
    let baud = u64::from(settings.baud.clamp(50, 19_200));
    (3_500 * 11_u64).div_ceil(baud) + 1
}
