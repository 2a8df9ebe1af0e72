//! Looks through a stored reading without parsing it.

/// The parts of a stored reading that decide whether it can still count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Skimmed<'t> {
    /// The point as written; not checked.
    pub point: &'t str,
    /// The instrument's facing, as written.
    pub facing: Option<&'t str>,
    /// The instrument's name.
    pub instrument: Option<&'t str>,
    pub round: u32,
    /// Whether the reading must be reported: it had not settled, or was questioned.
    pub told: bool,
}

/// Looks through the body of a reading as [`crate::What::to_json`] writes it, without the closing brace.
///
/// If the point is valid, it finds what a full parse finds. `None` if the text is written in any other way, even one
/// that JSON allows: then it is parsed in full.
#[must_use]
pub fn skim(body: &str) -> Option<Skimmed<'_>> {
    let mut at = Cursor { text: body, at: 0 };
    at.word(b"{\"point\":")?;
    let point = at.text()?;
    at.word(b",\"text\":")?;
    at.text()?;
    at.word(b",\"quantity\":")?;
    if !matches!(at.text()?, "angle" | "length" | "torque" | "temperature" | "force") {
        return None;
    }
    at.word(b",\"value\":")?;
    at.number()?;
    at.word(b",\"resolution\":")?;
    at.number()?;
    let facing = if at.found(b",\"facing\":") { Some(at.text()?) } else { None };
    if !matches!(facing, None | Some("forward" | "aft")) {
        return None;
    }
    let instrument = if at.found(b",\"instrument\":") { Some(at.text()?) } else { None };
    if at.found(b",\"temperature\":") {
        at.number()?;
    }
    at.word(b",\"round\":")?;
    let round = at.whole()?;
    if at.found(b",\"scatter\":") {
        at.number()?;
    }
    if at.found(b",\"samples\":") {
        at.whole()?;
    }
    let unsettled = at.found(b",\"unsettled\":true");
    at.word(b",\"source\":")?;
    if !matches!(at.text()?, "typed" | "imported" | "port") {
        return None;
    }
    if at.found(b",\"note\":") {
        at.text()?;
    }
    let asked = at.found(b",\"asked\":{\"expected\":");
    if asked {
        at.text()?;
        at.word(b",\"why\":")?;
        at.text()?;
        at.word(b"}")?;
    }
    at.ended().then_some(Skimmed { point, facing, instrument, round, told: unsettled || asked })
}

/// A position in a text. Only whole ASCII characters are stepped over one by one, so it is always on a character
/// boundary.
struct Cursor<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Cursor<'t> {
    #[inline]
    fn rest(&self) -> &'t [u8] {
        self.text.as_bytes().get(self.at..).unwrap_or_default()
    }

    #[inline]
    fn ended(&self) -> bool {
        self.rest().is_empty()
    }

    /// Compares words of known length without a call.
    #[inline]
    fn found<const N: usize>(&mut self, word: &[u8; N]) -> bool {
        let found = self.rest().first_chunk() == Some(word);
        self.at += if found { N } else { 0 };
        found
    }

    #[inline]
    fn word<const N: usize>(&mut self, word: &[u8; N]) -> Option<()> {
        self.found(word).then_some(())
    }

    /// A quoted text with no escapes and no characters that need one.
    #[inline]
    fn text(&mut self) -> Option<&'t str> {
        self.word(b"\"")?;
        let length = self.rest().iter().position(|b| matches!(b, b'"' | b'\\' | 0..=0x1f))?;
        let text = self.text.get(self.at..self.at + length)?;
        self.at += length;
        self.word(b"\"")?;
        Some(text)
    }

    /// Digits, at least one and at most `most`.
    #[inline]
    fn digits(&mut self, most: usize) -> Option<&'t [u8]> {
        let length = self.rest().iter().take_while(|b| b.is_ascii_digit()).count();
        let digits = self.rest().get(..length)?;
        self.at += length;
        (1..=most).contains(&length).then_some(digits)
    }

    /// A whole number without leading zeros, of at most nine digits.
    #[inline]
    fn whole(&mut self) -> Option<u32> {
        let digits = self.digits(9)?;
        let number = digits.iter().fold(0, |n, digit| 10 * n + u32::from(digit - b'0'));
        (digits.len() == 1 || digits.first() != Some(&b'0')).then_some(number)
    }

    /// A number that is finite as a double.
    #[inline]
    fn number(&mut self) -> Option<()> {
        self.found(b"-");
        let digits = self.digits(20)?;
        if digits.len() > 1 && digits.first() == Some(&b'0') {
            return None;
        }
        if self.found(b".") {
            self.digits(40)?;
        }
        if self.found(b"e") {
            let _ = self.found(b"-") || self.found(b"+");
            self.digits(2)?;
        }
        Some(())
    }
}
