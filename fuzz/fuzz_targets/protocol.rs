#![no_main]
//! The receiver of our own lines: each message that comes out, written again, stands in what came in.

use jigtrue_protocol::{Flags, Message, Receiver, Request};
use libfuzzer_sys::fuzz_target;

fn written(bytes: &[u8], piece: usize) -> Vec<String> {
    let mut receiver: Receiver<192> = Receiver::new();
    let mut lines = Vec::new();
    for mut piece in bytes.chunks(piece.max(1)) {
        while !piece.is_empty() {
            let taken = receiver.received(piece);
            assert!(taken > 0);
            piece = &piece[taken..];
            while let Some(next) = receiver.next() {
                let Ok(message) = next else { continue };
                lines.push(known_again(&message));
            }
        }
    }
    lines
}

/// The line without its check; for what a later version may add a line cannot be written, and there is none.
fn known_again(message: &Message<'_>) -> String {
    let later = match message {
        Message::Sample(it) => {
            it.flags.contains(Flags::UNKNOWN_BAR) || it.flags.contains(Flags::UNKNOWN_NOTE)
        }
        Message::Status(it) => {
            it.flags.contains(Flags::UNKNOWN_BAR) || it.flags.contains(Flags::UNKNOWN_NOTE)
        }
        Message::Command(it) => it.request == Request::Unknown,
        // A fault code of a later version reads as `other`.
        Message::Fault(_) => true,
        Message::Identify(_) | Message::Answer(_) => false,
    };
    if later {
        return String::new();
    }
    let line = message.encode().expect("what was read can be written");
    line.as_str().split('*').next().unwrap_or_default().to_owned()
}

fuzz_target!(|data: &[u8]| {
    let Some((cut, bytes)) = data.split_first() else { return };
    let lines = written(bytes, usize::from(*cut));
    assert_eq!(lines, written(bytes, bytes.len()));
    let text: String = bytes.iter().map(|byte| char::from(*byte)).collect();
    for line in lines {
        assert!(text.contains(&line), "{line}");
    }
});
