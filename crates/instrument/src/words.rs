//! Enums that are words of an instrument file.

/// Declares an enum whose members are words of an instrument file.
macro_rules! words {
    ($(#[$about:meta])* $name:ident { $($(#[$doc:meta])* $member:ident = $word:literal,)+ }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name {
            $($(#[$doc])* $member,)+
        }

        impl $name {
            /// Each member with its word.
            pub const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$member),)+];

            /// The word as written in a file.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$member => $word,)+
                }
            }
        }
    };
}
