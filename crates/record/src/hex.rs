//! Bytes as hexadecimal digits.

/// Two lowercase digits for each byte.
#[must_use]
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

/// The bytes of exactly `2 * N` hexadecimal digits of either case; `None` for anything else.
#[must_use]
pub fn unhex<const N: usize>(text: &str) -> Option<[u8; N]> {
    if text.len() != 2 * N || !text.bytes().all(|b| b.is_ascii_hexdigit()) {
        return None;
    }
    let mut out = [0_u8; N];
    for (i, byte) in out.iter_mut().enumerate() {
        *byte = u8::from_str_radix(text.get(2 * i..2 * i + 2)?, 16).ok()?;
    }
    Some(out)
}

/// The first `digits` hexadecimal digits, in groups of four.
#[must_use]
pub fn grouped(hex: &str, digits: usize) -> String {
    let mut out = String::with_capacity(digits + digits / 4);
    for (i, c) in hex.chars().take(digits).enumerate() {
        if i > 0 && i % 4 == 0 {
            out.push(' ');
        }
        out.push(c);
    }
    out
}

/// First half of a word, by the first digit of a byte; `SECOND` has the second half, by the second digit.
const FIRST: [&str; 16] =
    ["ba", "do", "fe", "gi", "ju", "ka", "lo", "me", "ni", "po", "ru", "sa", "te", "vi", "wo", "zu"];
const THEN: [&str; 16] = [
    "bal", "den", "fir", "gos", "hum", "kar", "lep", "mit", "nos", "pur", "ran", "sel", "tik", "vor", "wun",
    "zad",
];

/// Four words for the first 32 bits of a fingerprint. They are easier to compare by eye or by telephone than digits:
/// two syllables for each byte, from the table in DEVELOPERS.md. With fewer digits, one word for each whole byte.
#[must_use]
pub fn four_words(hex: &str) -> String {
    let digits: Vec<usize> =
        hex.chars().take(8).map_while(|c| c.to_digit(16)).filter_map(|d| usize::try_from(d).ok()).collect();
    let word = |byte: &[usize]| match byte {
        [first, then] => [FIRST.get(*first), THEN.get(*then)].into_iter().flatten().copied().collect(),
        _ => String::new(),
    };
    digits.chunks_exact(2).map(word).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn groups_of_four() {
        assert_eq!(grouped("0123456789abcdef", 10), "0123 4567 89");
    }

    #[test]
    fn words_differ_where_any_of_the_first_eight_digits_does() {
        let base = "0123456789ab";
        assert_eq!(four_words(base), "baden fegos jukar lomit");
        for place in 0..8 {
            for digit in "0123456789abcdef".chars() {
                let other: String =
                    base.chars().enumerate().map(|(i, c)| if i == place { digit } else { c }).collect();
                assert_eq!(four_words(&other) == four_words(base), other == base);
            }
        }
    }

    #[test]
    fn hexadecimal_there_and_back() {
        assert_eq!(unhex::<3>("0aFF10"), Some([10, 255, 16]));
        assert_eq!(hex(&[10, 255, 16]), "0aff10");
        for wrong in ["", "0aff1", "0aff1g", "0aff1000", "+aff10", "0äff1"] {
            assert_eq!(unhex::<3>(wrong), None, "{wrong}");
        }
    }
}
