//! Lines damaged in transit: no value that was not sent, and the next whole line is read.
#![expect(clippy::unwrap_used, reason = "helpers of tests fail the test they serve")]

use jigtrue_protocol::{Damage, Decimal, Flags, Message, Quantity, Receiver, Sample, Stamp, Unit, decode};

const LINES: &str = include_str!("../vectors/lines.txt");

fn good_lines() -> Vec<&'static str> {
    let rows = LINES.lines().filter(|row| !["#", "refused", "later"].iter().any(|no| row.starts_with(no)));
    rows.map(|row| row.rsplit('\t').next().unwrap()).collect()
}

fn sample(sequence: u32) -> Message<'static> {
    Message::Sample(Sample {
        stamp: Stamp { sequence, device_ms: sequence * 10 },
        quantity: Quantity::Angle,
        value: Decimal { mantissa: -1234 + sequence.cast_signed(), exponent: -3 },
        unit: Unit::Degrees,
        flags: Flags::NONE,
    })
}

/// Everything a receiver returns for these bytes, received in pieces of this length.
fn heard(bytes: &[u8], piece: usize) -> (Vec<String>, Vec<Damage>) {
    let mut receiver: Receiver<256> = Receiver::new();
    let (mut messages, mut damages) = (Vec::new(), Vec::new());
    for mut piece in bytes.chunks(piece) {
        while !piece.is_empty() {
            let taken = receiver.received(piece);
            piece = &piece[taken..];
            while let Some(next) = receiver.next() {
                match next {
                    Ok(message) => messages.push(message.encode().unwrap().as_str().to_owned()),
                    Err(damage) => damages.push(damage),
                }
            }
        }
    }
    (messages, damages)
}

/// A small xorshift generator: the same draws on every machine.
struct Draws(u64);

impl Draws {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }
}

#[test]
fn every_single_bit_flip_of_every_line_is_refused() {
    for line in good_lines() {
        for bit in 0..line.len() * 8 {
            let mut bytes = line.as_bytes().to_vec();
            bytes[bit / 8] ^= 1 << (bit % 8);
            assert!(decode(&bytes).is_err(), "bit {bit} of {line}");
        }
    }
}

#[test]
fn every_single_bit_flip_in_a_stream_loses_at_most_the_neighbour() {
    let three: Vec<String> = (0..3).map(|n| sample(n).encode().unwrap().as_str().to_owned()).collect();
    let stream = three.concat().into_bytes();
    let middle = three[0].len()..three[0].len() + three[1].len();
    for bit in middle.start * 8..middle.end * 8 {
        let mut bytes = stream.clone();
        bytes[bit / 8] ^= 1 << (bit % 8);
        let (messages, _) = heard(&bytes, 7);
        assert_eq!(messages, [three[0].clone(), three[2].clone()], "bit {bit}");
    }
}

#[test]
fn every_two_bits_near_each_other_are_found() {
    let line = good_lines()[1];
    for first in 0..line.len() * 8 {
        for second in first + 1..(first + 32).min(line.len() * 8) {
            let mut bytes = line.as_bytes().to_vec();
            bytes[first / 8] ^= 1 << (first % 8);
            bytes[second / 8] ^= 1 << (second % 8);
            assert!(decode(&bytes).is_err(), "bits {first} and {second}");
        }
    }
}

#[test]
fn cut_at_every_byte_then_whole() {
    let (first, second) = (sample(1).encode().unwrap(), sample(2).encode().unwrap());
    for cut in 0..first.as_bytes().len() - 1 {
        let bytes = [&first.as_bytes()[..cut], second.as_bytes()].concat();
        for piece in [1, 3, 1000] {
            assert_eq!(heard(&bytes, piece).0, [second.as_str()], "cut {cut}, pieces of {piece}");
        }
    }
}

#[test]
fn split_at_every_byte_is_the_same() {
    let stream: String = (0..4).map(|n| sample(n).encode().unwrap().as_str().to_owned()).collect();
    let whole = heard(stream.as_bytes(), 1000);
    assert_eq!(whole.0.len(), 4);
    assert!(whole.1.is_empty());
    for piece in 1..stream.len() {
        assert_eq!(heard(stream.as_bytes(), piece), whole, "pieces of {piece}");
    }
}

#[test]
fn a_million_bytes_of_noise_between_two_lines() {
    let mut draws = Draws(0x5EED_0001);
    let noise: Vec<u8> = (0..1_000_000).map(|_| draws.next() as u8).collect();
    let (first, second) = (sample(1).encode().unwrap(), sample(2).encode().unwrap());
    let bytes = [first.as_bytes(), &noise, second.as_bytes()].concat();
    let (messages, damages) = heard(&bytes, 4096);
    assert_eq!(messages, [first.as_str(), second.as_str()]);
    assert!(damages.len() > 1000);
}

#[test]
fn noise_of_the_protocols_own_signs() {
    let mut draws = Draws(0x5EED_0002);
    let signs = b"~1,sampleng0123456789e-deg*ABCDEF\r\n,,,";
    let noise: Vec<u8> = (0..300_000).map(|_| signs[draws.next() as usize % signs.len()]).collect();
    let last = sample(3).encode().unwrap();
    let (messages, _) = heard(&[&noise, last.as_bytes()].concat(), 100);
    assert_eq!(messages, [last.as_str()]);
}

#[test]
fn each_kind_of_damage_is_called_by_its_name() {
    let line = sample(5).encode().unwrap();
    let noisy = [b"hello\r\n", line.as_bytes()].concat();
    assert_eq!(heard(&noisy, 1000).1, [Damage::Noise { bytes: 5 }]);
    let cut = [b"~1,sa", line.as_bytes()].concat();
    assert_eq!(heard(&cut, 1000).1, [Damage::Cut]);
    let endless = [b"~".as_slice(), &[b'x'; 500], line.as_bytes()].concat();
    assert_eq!(heard(&endless, 1000).1, [Damage::TooLong]);
    assert_eq!(heard(&endless, 1000).0, [line.as_str()]);
}

#[test]
fn line_ends_of_either_sort_are_accepted() {
    let line = sample(5).encode().unwrap();
    let bare = line.as_str().replace("\r\n", "\n");
    let doubled = line.as_str().replace("\r\n", "\r\r\n");
    assert_eq!(heard(bare.as_bytes(), 1000).0, [line.as_str()]);
    assert_eq!(heard(doubled.as_bytes(), 1000).1, [Damage::NoCheck]);
}
