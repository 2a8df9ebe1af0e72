//! How a serial line is set.

use std::time::Duration;

/// How long a read waits before it looks at the other things there are to do.
const WAIT: Duration = Duration::from_millis(50);

/// Whether a parity bit is sent with each character.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Parity {
    /// None.
    #[default]
    None,
    /// One that makes the number of ones even.
    Even,
    /// One that makes it odd.
    Odd,
}

/// How a serial line is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PortSettings {
    /// Bits per second.
    pub baud: u32,
    /// Data bits of a character: 7 or 8 (8 for anything else).
    pub data_bits: u8,
    /// The parity bit.
    pub parity: Parity,
    /// Stop bits: 1 or 2 (1 for anything else).
    pub stop_bits: u8,
}

impl Default for PortSettings {
    /// 9600 bits per second, 8 data bits, no parity, 1 stop bit.
    fn default() -> Self {
        Self { baud: 9600, data_bits: 8, parity: Parity::None, stop_bits: 1 }
    }
}

impl PortSettings {
    /// Opens a port with these settings; what came in before is thrown away, for nobody knows how old it is.
    pub(super) fn open(&self, path: &str) -> Result<Box<dyn serialport::SerialPort>, serialport::Error> {
        let port = serialport::new(path, self.baud)
            .data_bits(if self.data_bits == 7 {
                serialport::DataBits::Seven
            } else {
                serialport::DataBits::Eight
            })
            .parity(match self.parity {
                Parity::None => serialport::Parity::None,
                Parity::Even => serialport::Parity::Even,
                Parity::Odd => serialport::Parity::Odd,
            })
            .stop_bits(if self.stop_bits == 2 {
                serialport::StopBits::Two
            } else {
                serialport::StopBits::One
            })
            .timeout(WAIT)
            .open()?;
        // Some lines that are no hardware cannot do it; then what is old is merely not thrown away.
        let _ = port.clear(serialport::ClearBuffer::Input);
        Ok(port)
    }
}
