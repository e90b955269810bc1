//! Which colour goes on which pin of an 8P8C jack (ANSI/TIA-568, T568A and T568B).

use super::work::Pinout;

/// The colour of the solid conductor of a pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PairColour {
    /// Pair 1.
    Blue,
    /// Pair 2.
    Orange,
    /// Pair 3.
    Green,
    /// Pair 4.
    Brown,
}

impl PairColour {
    /// The number of the pair, 1 to 4.
    #[must_use]
    pub fn pair(self) -> u8 {
        match self {
            Self::Blue => 1,
            Self::Orange => 2,
            Self::Green => 3,
            Self::Brown => 4,
        }
    }

    /// The trade's word.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Blue => "blue",
            Self::Orange => "orange",
            Self::Green => "green",
            Self::Brown => "brown",
        }
    }
}

/// Which of the two conductors of a pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Strand {
    /// White with a stripe in the colour of the pair.
    Striped,
    /// The colour of the pair all over.
    Solid,
}

/// One pin of a jack and the conductor that belongs on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pin {
    /// The pin, 1 to 8.
    pub number: u8,
    /// The pair.
    pub colour: PairColour,
    /// The conductor of the pair.
    pub strand: Strand,
}

impl Pin {
    /// The conductor in words: `white/orange`, `orange`.
    #[must_use]
    pub fn words(self) -> String {
        match self.strand {
            Strand::Striped => format!("white/{}", self.colour.words()),
            Strand::Solid => self.colour.words().to_owned(),
        }
    }
}

impl Pinout {
    /// Both wirings.
    pub const BOTH: [Self; 2] = [Self::A, Self::B];

    /// The name of the wiring.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::A => "T568A",
            Self::B => "T568B",
        }
    }

    /// The eight pins in order. The two wirings differ in that pairs 2 and 3 change places.
    #[must_use]
    pub fn pins(self) -> [Pin; 8] {
        use PairColour::{Blue, Brown, Green, Orange};
        use Strand::{Solid, Striped};
        let (first, second) = match self {
            Self::A => (Green, Orange),
            Self::B => (Orange, Green),
        };
        let conductors = [
            (first, Striped),
            (first, Solid),
            (second, Striped),
            (Blue, Solid),
            (Blue, Striped),
            (second, Solid),
            (Brown, Striped),
            (Brown, Solid),
        ];
        let mut number = 0;
        conductors.map(|(colour, strand)| {
            number += 1;
            Pin {
                number,
                colour,
                strand,
            }
        })
    }
}
