//! Frames: questions, their CRC, and finding an answer in the received bytes.

use super::Question;

/// The bytes of a question.
pub const REQUEST_BYTES: usize = 8;

/// The CRC of a frame (CRC-16/MODBUS): polynomial 0xA001 reflected, preset 0xFFFF; sent low byte first.
#[must_use]
pub fn modbus_crc(bytes: &[u8]) -> u16 {
    bytes.iter().fold(0xFFFF, |crc, byte| {
        (0..8)
            .fold(crc ^ u16::from(*byte), |crc, _| if crc & 1 == 0 { crc >> 1 } else { (crc >> 1) ^ 0xA001 })
    })
}

impl Question {
    /// The frame that asks a slave.
    pub(crate) fn frame(&self, slave: u8) -> [u8; REQUEST_BYTES] {
        let [first_high, first_low] = self.first.to_be_bytes();
        let [count_high, count_low] = self.count.to_be_bytes();
        let asked = [slave, self.table.function(), first_high, first_low, count_high, count_low];
        let [low, high] = modbus_crc(&asked).to_le_bytes();
        let [a, b, c, d, e, f] = asked;
        [a, b, c, d, e, f, low, high]
    }

    /// A slave's answer to this question, wherever it begins in the bytes.
    pub(super) fn answer<'a>(&self, slave: u8, held: &'a [u8]) -> Option<Answer<'a>> {
        (0..held.len()).find_map(|at| match self.framed(slave, held.get(at..)?)? {
            (_, Check::Wrong) => None,
            (answer, Check::Right) => Some(answer),
        })
    }

    /// Whether a complete answer arrived damaged.
    pub(super) fn was_damaged(&self, slave: u8, held: &[u8]) -> bool {
        (0..held.len()).any(|at| held.get(at..).is_some_and(|from| self.framed(slave, from).is_some()))
    }

    /// Something with the shape and length of an answer, from the first byte on.
    fn framed<'a>(&self, slave: u8, from: &'a [u8]) -> Option<(Answer<'a>, Check)> {
        let function = self.table.function();
        match from {
            [of, code, length, after @ ..]
                if *of == slave && *code == function && u16::from(*length) == 2 * self.count =>
            {
                let data = after.get(..usize::from(*length))?;
                Some((Answer::Registers(data), check(from, 3 + usize::from(*length))?))
            }
            [of, code, exception, ..] if *of == slave && *code == function | 0x80 => {
                Some((Answer::Exception(*exception), check(from, 3)?))
            }
            _ => None,
        }
    }
}

/// What a slave answers.
pub(super) enum Answer<'a> {
    /// The registers, two bytes each.
    Registers(&'a [u8]),
    /// A refusal.
    Exception(u8),
}

enum Check {
    Right,
    Wrong,
}

/// Whether the two bytes after the first `length` are their CRC; `None` if they have not arrived.
fn check(from: &[u8], length: usize) -> Option<Check> {
    let (frame, after) = from.split_at_checked(length)?;
    let check = after.first_chunk::<2>()?;
    Some(if modbus_crc(frame).to_le_bytes() == *check { Check::Right } else { Check::Wrong })
}
