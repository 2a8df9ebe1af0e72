use super::{Lines, plain};
use std::io::{self, Write};

#[test]
fn ascii_text_has_only_ascii() {
    let text = plain("0.1° ± 0.05°, N·m, χ² ≤ 3 ░•┤ Ω");
    assert!(text.is_ascii());
    assert_eq!(text, "0.1 deg +- 0.05 deg, N.m, chi2 <= 3 .*> \\u{3a9}");
}

/// The output, one piece for each write.
#[derive(Default)]
struct Pieces(Vec<String>);

impl Write for Pieces {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.push(String::from_utf8(bytes.to_vec()).unwrap());
        Ok(bytes.len())
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn json_goes_out_in_whole_lines_whatever_comes_together() {
    let text = "{\n  \"a\": \"0°21'\u{202e}\",\n  \"b\": 1\n}\nand no end";
    for together in 1..text.len() {
        let mut out = Lines::new(Pieces::default(), session::json_shown);
        text.as_bytes().chunks(together).for_each(|part| out.write_all(part).unwrap());
        out.flush().unwrap();
        let pieces: Vec<&str> =
            out.to.0.iter().map(String::as_str).filter(|piece| !piece.is_empty()).collect();
        let (last, lines) = pieces.split_last().unwrap();
        assert_eq!(*last, "and no end");
        assert!(lines.iter().all(|line| line.ends_with('\n')), "{lines:?}");
        assert_eq!(pieces.concat(), text.replace('\u{202e}', "\\u202e"));
    }
}
