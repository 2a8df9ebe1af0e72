//! The words a line may use for what is measured, in what unit, and how far it may be trusted.

/// Declares an enum whose members are words of the protocol, in one table.
macro_rules! words {
    ($(#[$about:meta])* $name:ident { $($(#[$doc:meta])* $member:ident = $word:literal,)+ }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name {
            $($(#[$doc])* $member,)+
        }

        impl $name {
            /// Every member, in the order of the protocol's table.
            pub const ALL: &[Self] = &[$(Self::$member,)+];

            /// The word as it stands in a line.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$member => $word,)+
                }
            }

            /// The member a word stands for, or nothing if the protocol does not have the word.
            #[inline]
            #[must_use]
            pub fn from_word(word: &[u8]) -> Option<Self> {
                $(if word == $word.as_bytes() {
                    return Some(Self::$member);
                })+
                None
            }

            /// The member whose word and a comma some bytes begin with, and what follows them. No word begins
            /// with another and a comma.
            #[inline]
            #[must_use]
            pub fn from_front(bytes: &[u8]) -> Option<(Self, &[u8])> {
                $(if let Some(rest) = bytes.strip_prefix(concat!($word, ",").as_bytes()) {
                    return Some((Self::$member, rest));
                })+
                None
            }
        }
    };
}

words! {
    /// What was measured.
    Quantity {
        /// The tilt the instrument is made to show: about its own cross axis.
        Angle = "angle",
        /// The tilt across that, of a two-axis instrument.
        Cross = "cross",
        /// A length or a distance.
        Length = "length",
        /// A temperature.
        Temperature = "temperature",
        /// A torque.
        Torque = "torque",
        /// A force: the tension of a cable.
        Force = "force",
    }
}

words! {
    /// The unit a value is in.
    Unit {
        /// Degrees of arc.
        Degrees = "deg",
        /// Slope: millimetres of rise in a metre of run.
        MillimetresPerMetre = "mm/m",
        /// Millimetres.
        Millimetres = "mm",
        /// Inches of 25.4 mm.
        Inches = "in",
        /// Degrees Celsius.
        Celsius = "degC",
        /// Newton metres.
        NewtonMetres = "N.m",
        /// Inch pounds-force.
        InchPounds = "in-lb",
        /// Newtons.
        Newtons = "N",
        /// Pounds-force.
        PoundsForce = "lbf",
    }
}

words! {
    /// What a board reports as wrong with itself.
    FaultCode {
        /// The sensor does not answer, or answers nonsense.
        Sensor = "sensor",
        /// What is measured lies outside the sensor's range.
        Range = "range",
        /// Supply voltage or battery.
        Supply = "supply",
        /// A frame from a bridged instrument did not hold together.
        Input = "input",
        /// Anything else; the detail says what.
        Other = "other",
    }
}

words! {
    /// What became of a command.
    Outcome {
        /// The board knows it but will not do it now; the detail says why.
        Done = "done",
        /// The board knows it and will not do it now; the detail says why.
        Refused = "refused",
        /// The board does not have this command.
        Unknown = "unknown",
    }
}

impl Unit {
    /// Whether a value of this quantity can be in this unit.
    #[inline]
    #[must_use]
    pub const fn measures(self, quantity: Quantity) -> bool {
        match quantity {
            Quantity::Angle | Quantity::Cross => {
                matches!(self, Self::Degrees | Self::MillimetresPerMetre)
            }
            Quantity::Length => matches!(self, Self::Millimetres | Self::Inches),
            Quantity::Temperature => matches!(self, Self::Celsius),
            Quantity::Torque => matches!(self, Self::NewtonMetres | Self::InchPounds),
            Quantity::Force => matches!(self, Self::Newtons | Self::PoundsForce),
        }
    }
}
