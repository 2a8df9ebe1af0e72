//! What a sheet is printed on, and how much of a wing it shows.

quantity::words! {
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    pub enum Paper {
        /// ISO 216 A4, 210 mm by 297 mm.
        #[default]
        A4 = "a4",
        /// US letter, 8.5 in by 11 in.
        Letter = "letter",
    }
}

/// In points (1/72 in).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    pub width: f64,
    pub height: f64,
}

impl Paper {
    pub const fn size_pt(self) -> Size {
        match self {
            Self::A4 => Size { width: 595.28, height: 841.89 },
            Self::Letter => Size { width: 612.0, height: 792.0 },
        }
    }

    /// The paper with this name, in any case.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.word().eq_ignore_ascii_case(word.trim()))
    }
}

/// What a sheet covers, and how much it shows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Form {
    /// Everything, for the file.
    #[default]
    Full,
    /// Two pages, for the jig and the job folder.
    Short,
    /// One component, by its name in the plan.
    Component(String),
}

impl Form {
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Full => "full form",
            Self::Short => "short form",
            Self::Component(_) => "component",
        }
    }

    /// As written in the metadata; a name in hexadecimal digits.
    pub(crate) fn written(&self) -> String {
        match self {
            Self::Full => "full".to_owned(),
            Self::Short => "short".to_owned(),
            Self::Component(name) => format!("component-{}", record::hex::hex(name.as_bytes())),
        }
    }

    pub(crate) fn read(written: &str) -> Option<Self> {
        match written {
            "full" => Some(Self::Full),
            "short" => Some(Self::Short),
            _ => {
                let digits = written.strip_prefix("component-")?.as_bytes();
                let byte = |two: &[u8]| u8::from_str_radix(std::str::from_utf8(two).ok()?, 16).ok();
                let bytes: Option<Vec<u8>> = digits.chunks(2).map(byte).collect();
                String::from_utf8(bytes?).ok().map(Self::Component)
            }
        }
    }
}
