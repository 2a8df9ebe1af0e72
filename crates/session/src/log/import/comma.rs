//! Decimal commas: allowed in a table whose fields are not separated by commas and that has no decimal point.

use super::fault::LineFault;

/// The decimal mark of a table, as far as it was read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Mark {
    /// Neither seen yet.
    #[default]
    Unknown,
    Point,
    Comma,
}

impl Mark {
    /// The value with a decimal point. Only a comma between digits, the only one in the value, counts as a decimal
    /// mark.
    ///
    /// # Errors
    /// If the table has both marks, so that it is unclear which one is the decimal mark.
    pub(super) fn read(&mut self, text: &str, delimiter: u8) -> Result<String, LineFault> {
        let owned = |text: &str| text.to_owned();
        if delimiter == b',' {
            return Ok(owned(text));
        }
        let seen = match (between_digits(text, ','), between_digits(text, '.')) {
            (true, false) => Self::Comma,
            (false, true) => Self::Point,
            (false, false) => return Ok(owned(text)),
            (true, true) => return Err(LineFault::BothMarks(owned(text))),
        };
        if *self != Self::Unknown && *self != seen {
            return Err(LineFault::OtherMark(owned(text)));
        }
        *self = seen;
        Ok(if seen == Self::Comma { text.replacen(',', ".", 1) } else { owned(text) })
    }
}

/// Whether the mark occurs once, between digits.
fn between_digits(text: &str, mark: char) -> bool {
    let mut parts = text.split(mark);
    let (Some(_), Some(after), None) = (parts.next(), parts.next(), parts.next()) else { return false };
    after.starts_with(|c: char| c.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::Mark;

    #[test]
    fn a_comma_is_a_decimal_mark_only_where_it_can_be_no_other() {
        let mut mark = Mark::default();
        assert_eq!(mark.read("1,45", b';').unwrap(), "1.45");
        assert_eq!(mark.read("-0,5 mm", b';').unwrap(), "-0.5 mm");
        assert_eq!(mark.read("12", b';').unwrap(), "12");
        assert!(mark.read("1.45", b';').is_err(), "both marks in one table");
        assert_eq!(Mark::default().read("1,45", b',').unwrap(), "1,45");
        assert!(Mark::default().read("1.234,5", b';').is_err());
        assert_eq!(Mark::default().read("1,234,567", b';').unwrap(), "1,234,567");
    }
}
