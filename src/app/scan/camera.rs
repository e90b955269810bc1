//! The camera as the scanner knows it: what it does, what it can do, and why there is none.

use std::fmt;

/// What the camera is doing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Camera {
    /// Nothing: no screen wants it.
    #[default]
    Off,
    /// It was asked for.
    Starting,
    /// It shows what it sees.
    On(Abilities),
    /// It cannot be had.
    Missing(NoCamera),
}

/// What a camera can do.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Abilities {
    /// Whether it has a light.
    pub torch: bool,
    /// Whether the light burns: it does when scanning goes on soon after.
    pub is_lit: bool,
    /// How many times as large it shows things; none where it cannot come nearer by itself.
    pub zoom: Option<u8>,
    /// The ids and names of all cameras of the device.
    pub lenses: Vec<(String, String)>,
    /// Which of them it is.
    pub lens: usize,
}

impl Abilities {
    /// Reads what the camera's script says: `torch`, `lit`, and `zoom` with how many times in the first line, as
    /// far as it has them, then a line for each camera of the device: its id, its name, and a star after that of
    /// the one that is on, parted by tabs.
    #[must_use]
    pub fn read(text: &str) -> Self {
        let mut lines = text.lines();
        let first = lines.next().unwrap_or_default();
        let zoom = first.split_once("zoom ").map(|(_, times)| times);
        let mut abilities = Self {
            torch: first.contains("torch"),
            is_lit: first.contains("lit"),
            zoom: zoom.map(|times| times.parse().unwrap_or(1)),
            ..Self::default()
        };
        for line in lines {
            let mut parts = line.split('\t');
            let (Some(id), Some(name)) = (parts.next(), parts.next()) else {
                continue;
            };
            if parts.next() == Some("*") {
                abilities.lens = abilities.lenses.len();
            }
            abilities.lenses.push((id.to_owned(), name.to_owned()));
        }
        abilities
    }
}

/// Why nothing is read in what the camera sees.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hint {
    /// Nothing that could be read is in sight.
    #[default]
    Nothing,
    /// A code is in sight, too small to be read.
    TooFar,
    /// It is too dark.
    TooDark,
}

impl Hint {
    /// What the word of the camera's script means.
    #[must_use]
    pub fn of(word: &str) -> Self {
        match word {
            "far" => Self::TooFar,
            "dark" => Self::TooDark,
            _ => Self::Nothing,
        }
    }
}

/// Why there is no camera.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoCamera {
    /// It was not allowed.
    Refused,
    /// The device has none.
    None,
    /// Another program has it.
    Busy,
    /// Anything else, in the browser's words.
    Other(String),
}

impl NoCamera {
    /// What the browser's name of a fault means, with its words for what has no meaning here.
    #[must_use]
    pub fn of(name: &str, words: &str) -> Self {
        match name {
            "NotAllowedError" | "SecurityError" => Self::Refused,
            "NotFoundError" | "OverconstrainedError" | "TypeError" => Self::None,
            "NotReadableError" | "AbortError" => Self::Busy,
            _ => Self::Other(words.to_owned()),
        }
    }
}

impl fmt::Display for NoCamera {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Refused => f.write_str("This app may not use the camera."),
            Self::None => f.write_str("There is no camera on this device."),
            Self::Busy => {
                f.write_str("Another app has the camera. Close that one, then scan again.")
            }
            Self::Other(words) => write!(f, "The camera cannot be used: {words}"),
        }
    }
}

/// What a camera is asked to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CameraAsk {
    /// Show what it sees and read what is in it; the id of the camera that was used last, if any.
    Start(String),
    /// A tag that was told already counts again, since somebody comes anew.
    Anew,
    /// Read nothing more, and rest.
    Stop,
    /// The light.
    Torch(bool),
    /// So many times as large.
    Zoom(u8),
}
