//! Enums that are written as words.

/// Declares an enum each of whose members is one word, in a file or a sentence.
#[macro_export]
macro_rules! words {
    ($(#[$about:meta])* $vis:vis enum $name:ident { $($(#[$doc:meta])* $member:ident = $word:literal,)+ }) => {
        $(#[$about])*
        $vis enum $name {
            $($(#[$doc])* $member,)+
        }

        #[allow(dead_code, reason = "not every program needs all of these")]
        impl $name {
            /// All of them, in order.
            pub const ALL: [Self; [$($word),+].len()] = [$(Self::$member),+];
            /// Each word with its meaning.
            pub const WORDS: [(&'static str, Self); [$($word),+].len()] = [$(($word, Self::$member)),+];

            /// The word as written.
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$member => $word,)+
                }
            }
        }
    };
}

/// The same where the words are those of JSON too: it derives `Serialize` or `Deserialize`.
#[macro_export]
macro_rules! words_in_json {
    ($(#[$about:meta])* pub enum $name:ident { $($(#[$doc:meta])* $member:ident = $word:literal,)+ }) => {
        $crate::words! {
            $(#[$about])*
            pub enum $name {
                $($(#[$doc])* #[serde(rename = $word)] $member = $word,)+
            }
        }
    };
}
