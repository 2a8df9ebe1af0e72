//! Options whose value is one of a few words.

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use record::Facing;

/// A word, what it means, and the line about it in the help.
pub type Word<T> = (&'static str, T, &'static str);

/// Reads one of these words.
pub fn one_of<T: Copy + Send + Sync + 'static>(
    words: &'static [Word<T>],
) -> impl TypedValueParser<Value = T> {
    let named = words.iter().map(|(word, _, help)| PossibleValue::new(*word).help(*help));
    let meant = |typed: String| words.iter().find(|(word, ..)| *word == typed).map(|(_, meant, _)| *meant);
    PossibleValuesParser::new(named).try_map(move |typed| meant(typed).ok_or("not one of these words"))
}

/// Reads any word that names a facing of the instrument.
pub fn facing() -> impl TypedValueParser<Value = Facing> {
    let ways = [
        (Facing::Forward, "Toward the leading edge; for a tilt along the span, outboard"),
        (Facing::Aft, "Toward the trailing edge; for a tilt along the span, inboard"),
    ];
    let named = ways.map(|(facing, help)| {
        let own = facing.word();
        let others = Facing::TYPED.iter().filter(|(word, named)| *named == facing && *word != own);
        PossibleValue::new(own).aliases(others.map(|(word, _)| *word)).help(help)
    });
    PossibleValuesParser::new(named).try_map(|typed| Facing::named(&typed).ok_or("not a facing"))
}

#[cfg(test)]
mod tests {
    use super::facing;
    use clap::{Arg, Command};
    use record::Facing;

    #[test]
    fn the_option_takes_every_word_that_names_a_facing() {
        let option = Arg::new("facing").value_parser(facing()).ignore_case(true);
        let program = Command::new("x").arg(option);
        let read = |word: &str| {
            let found = program.clone().try_get_matches_from(["x", word]).ok()?;
            found.get_one::<Facing>("facing").copied()
        };
        for (word, facing) in Facing::TYPED {
            for written in [word.to_owned(), word.to_uppercase()] {
                assert_eq!(read(&written), Some(facing), "{written}");
            }
        }
        assert_eq!(read("forwrd"), None);
    }
}
