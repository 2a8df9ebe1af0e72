//! What every decoder must fulfil.

use instrument::{Decoder, DialectSpec, Fault, Sample};

/// What comes out of bytes in pieces; the first byte says how they are cut.
pub fn heard(spec: &DialectSpec, bytes: &[u8], piece: usize) -> Vec<Result<Sample, Fault>> {
    let mut decoder = Decoder::new(spec);
    decoder.silence();
    decoder.ask(0);
    let mut all = Vec::new();
    for piece in bytes.chunks(piece.max(1)) {
        decoder.each(piece, |next| all.push(next));
        assert!(decoder.next().is_none());
    }
    all
}

/// The samples, which do not depend on how the bytes were cut; `whole` looks for each sample in the bytes.
#[allow(dead_code, reason = "one target looks at faults instead")]
pub fn samples_stand_in(spec: &DialectSpec, data: &[u8], whole: impl Fn(&Sample, &str) -> bool) {
    let Some((cut, bytes)) = data.split_first() else { return };
    let samples: Vec<Sample> = heard(spec, bytes, usize::from(*cut)).into_iter().flatten().collect();
    let at_once: Vec<Sample> = heard(spec, bytes, bytes.len()).into_iter().flatten().collect();
    assert_eq!(samples, at_once);
    let text: String = bytes.iter().map(|byte| char::from(*byte)).collect();
    for sample in &samples {
        assert!(whole(sample, &text), "{sample:?} does not stand in the bytes");
    }
}
