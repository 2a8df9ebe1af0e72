//! Enums that are written as words.

/// Declares an enum whose members are each one word, in a plan, in JSON and in sentences. It derives `Serialize` or
/// `Deserialize`.
#[macro_export]
macro_rules! words {
    ($(#[$about:meta])* pub enum $name:ident { $($(#[$doc:meta])* $member:ident = $word:literal,)+ }) => {
        $(#[$about])*
        pub enum $name {
            $($(#[$doc])* #[serde(rename = $word)] $member,)+
        }

        impl $name {
            /// All of them, in order.
            pub const ALL: [Self; [$($word),+].len()] = [$(Self::$member),+];
            /// Each word with its meaning.
            pub const WORDS: [(&'static str, Self); [$($word),+].len()] = [$(($word, Self::$member)),+];

            /// The word as written.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$member => $word,)+
                }
            }
        }
    };
}
