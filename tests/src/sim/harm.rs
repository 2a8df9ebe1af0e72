//! Seeded damage in transit: what a bad cable does to any dialect.

use crate::seeded::Draws;

/// One kind of damage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Harm {
    /// One bit turned.
    Flip,
    /// One byte lost.
    Drop,
    /// One byte twice.
    Double,
    /// The end of a line lost, so that two lines are one.
    Join,
    /// A frame cut short, with its end.
    Cut,
    /// A whole frame twice.
    Repeat,
    /// This many random bytes before a frame.
    Noise(usize),
}

/// The frames one after another; each has a chance of one in `one_in` of one of these harms.
#[must_use]
pub fn harmed(frames: &[Vec<u8>], harms: &[Harm], one_in: usize, draws: &mut Draws) -> Vec<u8> {
    let mut bytes = Vec::new();
    for frame in frames {
        let harm = harms.get(draws.index(harms.len())).filter(|_| draws.index(one_in) == 0);
        put(&mut bytes, frame, harm.copied(), draws);
    }
    bytes
}

fn put(bytes: &mut Vec<u8>, frame: &[u8], harm: Option<Harm>, draws: &mut Draws) {
    let from = bytes.len();
    if let Some(Harm::Noise(count)) = harm {
        bytes.extend((0..count).map(|_| draws.bits() as u8));
    }
    bytes.extend_from_slice(frame);
    let at = from + draws.index(frame.len());
    match harm {
        None | Some(Harm::Noise(_)) => {}
        Some(Harm::Flip) => {
            if let Some(byte) = bytes.get_mut(at) {
                *byte ^= 1 << draws.index(8);
            }
        }
        Some(Harm::Drop) => {
            bytes.remove(at);
        }
        Some(Harm::Double) => {
            if let Some(byte) = bytes.get(at).copied() {
                bytes.insert(at, byte);
            }
        }
        Some(Harm::Join) => {
            while bytes.last().is_some_and(|byte| matches!(byte, b'\r' | b'\n')) {
                bytes.pop();
            }
        }
        Some(Harm::Cut) => bytes.truncate(at),
        Some(Harm::Repeat) => bytes.extend_from_slice(frame),
    }
}
