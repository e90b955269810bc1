//! What a cable is made of, and what it can be terminated on.

/// How people write media.
mod words;

use std::fmt;

pub use words::{InWords, in_words};

/// Whether a cable may lie in the ground without a conduit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sheath {
    /// For use inside the building.
    Indoor,
    /// Filled or jacketed for direct burial.
    DirectBurial,
}

/// The kind of cable, apart from its sheath.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Category 6, unshielded.
    Cat6Utp,
    /// Category 6, foil round all four pairs.
    Cat6Ftp,
    /// Category 6A, foil round all four pairs.
    Cat6aFtp,
    /// 75 Ω coax, series 6.
    Rg6,
    /// 75 Ω coax, series 59.
    Rg59,
    /// Speaker cable by gauge (AWG) and number of conductors.
    Speaker(Conductors),
    /// Control or alarm cable by gauge (AWG) and number of conductors.
    Control(Conductors),
    /// Power for motorised shades.
    ShadePower,
    /// Data for motorised shades.
    ShadeData,
    /// Optical fibre with its count of strands.
    Fibre {
        /// Strands in the jacket.
        strands: u16,
    },
    /// Anything else, in the words of the job.
    Own(String),
}

/// Gauge and count of conductors: `16/4`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Conductors {
    /// American wire gauge (ASTM B258).
    pub gauge: u8,
    /// How many conductors.
    pub count: u8,
}

/// The medium of a cable.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Medium {
    /// What it is.
    pub kind: Kind,
    /// Where it may lie.
    pub sheath: Sheath,
}

/// Each kind of the trade's usual stock, with its key in files and its words.
const STOCK: &[(Kind, &str, &str)] = &[
    (Kind::Cat6Utp, "cat6-utp", "Cat 6 U/UTP"),
    (Kind::Cat6Ftp, "cat6-ftp", "Cat 6 F/UTP"),
    (Kind::Cat6aFtp, "cat6a-ftp", "Cat 6A F/UTP"),
    (Kind::Rg6, "rg6", "RG-6"),
    (Kind::Rg59, "rg59", "RG-59"),
    (Kind::ShadePower, "shade-power", "Shade power"),
    (Kind::ShadeData, "shade-data", "Shade data"),
];

/// Speaker and control cables that are usually in stock, as gauge and count.
const SPEAKER: &[(u8, u8)] = &[(16, 2), (16, 4), (14, 2), (14, 4), (12, 2), (10, 2)];
const CONTROL: &[(u8, u8)] = &[(22, 2), (22, 4), (18, 2), (18, 4), (18, 8)];

impl Medium {
    /// The indoor form of a kind.
    #[must_use]
    pub fn indoor(kind: Kind) -> Self {
        Self {
            kind,
            sheath: Sheath::Indoor,
        }
    }

    /// Speaker cable for indoors.
    #[must_use]
    pub fn speaker(gauge: u8, count: u8) -> Self {
        Self::indoor(Kind::Speaker(Conductors { gauge, count }))
    }

    /// Control cable for indoors.
    #[must_use]
    pub fn control(gauge: u8, count: u8) -> Self {
        Self::indoor(Kind::Control(Conductors { gauge, count }))
    }

    /// The usual stock, in the order in which a list offers it.
    #[must_use]
    pub fn stock() -> Vec<Self> {
        let coax_and_data = STOCK[..5]
            .iter()
            .map(|(kind, ..)| Self::indoor(kind.clone()));
        let speaker = SPEAKER
            .iter()
            .map(|(gauge, count)| Self::speaker(*gauge, *count));
        let control = CONTROL
            .iter()
            .map(|(gauge, count)| Self::control(*gauge, *count));
        let shade = STOCK[5..]
            .iter()
            .map(|(kind, ..)| Self::indoor(kind.clone()));
        let fibre = [2, 4, 12].map(|strands| Self::indoor(Kind::Fibre { strands }));
        let buried = [
            Kind::Cat6Utp,
            Kind::Rg6,
            Kind::Speaker(Conductors {
                gauge: 14,
                count: 2,
            }),
        ]
        .map(|kind| Self {
            kind,
            sheath: Sheath::DirectBurial,
        });
        coax_and_data
            .chain(speaker)
            .chain(control)
            .chain(shade)
            .chain(fibre)
            .chain(buried)
            .collect()
    }

    /// The key that files and lists use: `cat6-utp`, `speaker-16-4`, `fibre-12`, `rg6+burial`.
    #[must_use]
    pub fn key(&self) -> String {
        let stock = STOCK
            .iter()
            .find(|(kind, ..)| *kind == self.kind)
            .map(|(_, key, _)| *key);
        let kind = match (&self.kind, stock) {
            (_, Some(key)) => key.to_owned(),
            (Kind::Speaker(c), _) => format!("speaker-{}-{}", c.gauge, c.count),
            (Kind::Control(c), _) => format!("control-{}-{}", c.gauge, c.count),
            (Kind::Fibre { strands }, _) => format!("fibre-{strands}"),
            (kind, _) => format!("own:{}", kind_words(kind)),
        };
        match self.sheath {
            Sheath::Indoor => kind,
            Sheath::DirectBurial => format!("burial+{kind}"),
        }
    }

    /// Reads a key that [`Medium::key`] wrote; none for a key of a newer version.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        if let Some(rest) = key.strip_prefix("burial+") {
            let kind = Self::from_key(rest)
                .filter(|medium| medium.sheath == Sheath::Indoor)?
                .kind;
            return Some(Self {
                kind,
                sheath: Sheath::DirectBurial,
            });
        }
        if let Some((kind, ..)) = STOCK.iter().find(|(_, known, _)| *known == key) {
            return Some(Self::indoor(kind.clone()));
        }
        if let Some(words) = key.strip_prefix("own:") {
            return Some(Self::indoor(Kind::Own(words.to_owned())));
        }
        let mut parts = key.split('-');
        let (kind, first, second) = (parts.next()?, parts.next()?, parts.next());
        let second = second.map(str::parse).transpose().ok()?;
        match (kind, second, parts.next()) {
            ("speaker", Some(count), None) => Some(Self::speaker(first.parse().ok()?, count)),
            ("control", Some(count), None) => Some(Self::control(first.parse().ok()?, count)),
            ("fibre", None, None) => Some(Self::indoor(Kind::Fibre {
                strands: first.parse().ok()?,
            })),
            _ => None,
        }
    }

    /// The usual outside diameter in tenths of a millimetre, to choose a label by; 0 where the words
    /// of the job say nothing. Makers differ by a tenth and more, so whoever prints can give another.
    ///
    /// The middle of what data sheets give: category and coax cables from seen ones, all others from
    /// memory. Common practice, no source.
    #[must_use]
    pub fn usual_diameter(&self) -> u16 {
        let indoor = match &self.kind {
            Kind::Cat6Utp | Kind::Rg59 => 61,
            Kind::Cat6Ftp => 72,
            Kind::Cat6aFtp => 75,
            Kind::Rg6 => 69,
            Kind::Speaker(c) => speaker_diameter(*c),
            Kind::Control(c) => control_diameter(*c),
            Kind::ShadePower => 60,
            Kind::ShadeData => 61,
            Kind::Fibre { strands: 0..=4 } => 48,
            Kind::Fibre { strands: 5..=12 } => 60,
            Kind::Fibre { .. } => 85,
            Kind::Own(_) => 0,
        };
        match self.sheath {
            Sheath::DirectBurial if indoor > 0 => indoor + 8,
            Sheath::Indoor | Sheath::DirectBurial => indoor,
        }
    }

    /// Whether it is a four-pair category cable.
    #[must_use]
    pub fn is_category(&self) -> bool {
        matches!(self.kind, Kind::Cat6Utp | Kind::Cat6Ftp | Kind::Cat6aFtp)
    }
}

fn speaker_diameter(conductors: Conductors) -> u16 {
    let two = match conductors.gauge {
        0..=10 => 122,
        11 | 12 => 99,
        13 | 14 => 79,
        _ => 65,
    };
    if conductors.count > 2 {
        two + two / 5
    } else {
        two
    }
}

fn control_diameter(conductors: Conductors) -> u16 {
    let two = if conductors.gauge <= 18 { 53 } else { 38 };
    match conductors.count {
        0..=2 => two,
        3..=4 => two + 10,
        _ => two + 30,
    }
}

fn kind_words(kind: &Kind) -> String {
    if let Some((_, _, words)) = STOCK.iter().find(|(known, ..)| known == kind) {
        return (*words).to_owned();
    }
    match kind {
        Kind::Speaker(c) => format!("Speaker {}/{}", c.gauge, c.count),
        Kind::Control(c) => format!("Control {}/{}", c.gauge, c.count),
        Kind::Fibre { strands } => format!("Fibre {strands}"),
        Kind::Own(words) => words.clone(),
        Kind::Cat6Utp
        | Kind::Cat6Ftp
        | Kind::Cat6aFtp
        | Kind::Rg6
        | Kind::Rg59
        | Kind::ShadePower
        | Kind::ShadeData => {
            unreachable!("every such kind stands in STOCK")
        }
    }
}

impl fmt::Display for Medium {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&kind_words(&self.kind))?;
        match self.sheath {
            Sheath::Indoor => Ok(()),
            Sheath::DirectBurial => f.write_str(", direct burial"),
        }
    }
}

/// What a position offers to a cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Connector {
    /// The eight-position modular jack.
    Modular,
    /// The same with a shield.
    ShieldedModular,
    /// Threaded coax.
    F,
    /// Phono.
    Rca,
    /// Bayonet coax.
    Bnc,
    /// Terminals for speaker wire.
    SpeakerTerminal,
    /// Screw terminals for alarm and control wire.
    AlarmTerminal,
    /// Insulation-displacement block.
    PunchBlock,
    /// Small optical connector.
    Lc,
    /// Large optical connector.
    Sc,
}

/// All connectors with their key in files and their words.
const CONNECTORS: &[(Connector, &str, &str)] = &[
    (Connector::Modular, "8p8c", "8P8C"),
    (Connector::ShieldedModular, "8p8c-shielded", "8P8C shielded"),
    (Connector::F, "f", "F"),
    (Connector::Rca, "rca", "RCA"),
    (Connector::Bnc, "bnc", "BNC"),
    (Connector::SpeakerTerminal, "speaker", "Speaker terminals"),
    (Connector::AlarmTerminal, "alarm", "Alarm terminals"),
    (Connector::PunchBlock, "punch", "Punch block"),
    (Connector::Lc, "lc", "LC"),
    (Connector::Sc, "sc", "SC"),
];

impl Connector {
    /// All of them, in the order in which a list offers them.
    pub fn all() -> impl Iterator<Item = Self> {
        CONNECTORS.iter().map(|(connector, ..)| *connector)
    }

    fn row(self) -> (&'static str, &'static str) {
        let row = CONNECTORS.iter().find(|(connector, ..)| *connector == self);
        row.map(|(_, key, words)| (*key, *words))
            .unwrap_or_default()
    }

    /// The key in files.
    #[must_use]
    pub fn key(self) -> &'static str {
        self.row().0
    }

    /// The words on screen.
    #[must_use]
    pub fn words(self) -> &'static str {
        self.row().1
    }

    /// Reads a key; none for one of a newer version.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        CONNECTORS
            .iter()
            .find(|(_, known, _)| *known == key)
            .map(|(connector, ..)| *connector)
    }

    /// Whether several ends may share one position of this kind.
    #[must_use]
    pub fn sharing(self) -> Sharing {
        match self {
            Self::AlarmTerminal | Self::PunchBlock => Sharing::Shared,
            Self::Modular
            | Self::ShieldedModular
            | Self::F
            | Self::Rca
            | Self::Bnc
            | Self::SpeakerTerminal
            | Self::Lc
            | Self::Sc => Sharing::Single,
        }
    }

    /// What the trade calls one position of it: a port has a jack, a terminal has a screw or clip.
    #[must_use]
    pub fn position_word(self) -> &'static str {
        match self {
            Self::SpeakerTerminal | Self::AlarmTerminal | Self::PunchBlock => "terminal",
            Self::Modular
            | Self::ShieldedModular
            | Self::F
            | Self::Rca
            | Self::Bnc
            | Self::Lc
            | Self::Sc => "port",
        }
    }
}

/// Whether a position takes one end or more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sharing {
    /// One end.
    Single,
    /// Any number of ends.
    Shared,
}

/// Whether a medium suits a connector.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fit {
    /// It does.
    Fits,
    /// It does not, unless something goes between; the reason in words.
    Misfit(&'static str),
}

/// Checks a medium against a connector. Common practice, no source: the answer warns, it never
/// forbids.
#[must_use]
pub fn fit(medium: &Medium, connector: Connector) -> Fit {
    use Connector::{
        AlarmTerminal, Bnc, F, Lc, Modular, PunchBlock, Rca, Sc, ShieldedModular, SpeakerTerminal,
    };
    let misfit = match (&medium.kind, connector) {
        (Kind::Own(_), _)
        | (Kind::Cat6Utp, Modular | PunchBlock)
        | (Kind::Cat6Ftp | Kind::Cat6aFtp, ShieldedModular)
        | (Kind::Rg6, F)
        | (Kind::Rg59, F | Bnc | Rca)
        | (Kind::Speaker(_), SpeakerTerminal)
        | (Kind::Control(_), AlarmTerminal | PunchBlock)
        | (Kind::ShadePower | Kind::ShadeData, AlarmTerminal | PunchBlock)
        | (Kind::ShadeData, Modular)
        | (Kind::Fibre { .. }, Lc | Sc) => return Fit::Fits,
        (Kind::Cat6Utp, ShieldedModular) => {
            "an unshielded cable leaves the shield of this jack without a drain"
        }
        (Kind::Cat6Ftp | Kind::Cat6aFtp, Modular | PunchBlock) => {
            "the cable's shield would end here without a drain"
        }
        (Kind::Rg6, Bnc | Rca) => "series 6 coax needs an adapter or its own connector here",
        (Kind::Fibre { .. }, _) => "fibre needs an optical position",
        (_, Lc | Sc) => "an optical position takes fibre only",
        _ => "the cable and the connector are of different kinds",
    };
    Fit::Misfit(misfit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_read_back() {
        let own = Medium::indoor(Kind::Own("Antenna ladder line".to_owned()));
        for medium in Medium::stock().into_iter().chain([own]) {
            assert_eq!(
                Medium::from_key(&medium.key()),
                Some(medium.clone()),
                "{medium}"
            );
        }
        for connector in Connector::all() {
            assert_eq!(Connector::from_key(connector.key()), Some(connector));
        }
        assert_eq!(Medium::from_key("cat9-utp"), None);
    }

    #[test]
    fn words_of_schedules_are_recognised() {
        let cases = [
            ("CAT6", "Cat 6 U/UTP"),
            ("Cat 6 F/UTP", "Cat 6 F/UTP"),
            ("Category 6 UTP cable", "Cat 6 U/UTP"),
            ("Cat 6 unshielded", "Cat 6 U/UTP"),
            ("shielded cat-6", "Cat 6 F/UTP"),
            ("Cat6A", "Cat 6A F/UTP"),
            ("CAT-6A shielded", "Cat 6A F/UTP"),
            ("Cat 6A U/UTP", "Cat 6A F/UTP …"),
            ("Cat6 S/FTP", "Cat 6 F/UTP …"),
            ("Cat6 (plenum)", "Cat 6 U/UTP …"),
            ("Cat 6 23/4", "Cat 6 U/UTP …"),
            ("Cat 6 for shades", "Cat 6 U/UTP …"),
            ("Cat 66", "?"),
            ("Cat 6x", "?"),
            ("Cat 5e", "?"),
            ("RG6", "RG-6"),
            ("RG-6/U coax", "RG-6"),
            ("RG6 quad", "RG-6 …"),
            ("coax", "RG-6"),
            ("hardline coax", "?"),
            ("RG60", "?"),
            ("rg-59", "RG-59"),
            ("16/4 speaker", "Speaker 16/4"),
            ("16 / 4", "Speaker 16/4"),
            ("14-2", "?"),
            ("22/4", "Control 22/4"),
            ("22/2 shielded", "Control 22/2 …"),
            ("12 strand fiber", "Fibre 12"),
            ("OM4 fibre, 12 strands", "Fibre 12 …"),
            ("Fibre 12 OM4", "Fibre 12 …"),
            ("fiber", "Fibre 2 …"),
            ("Shade power", "Shade power"),
            ("Shade 16/2", "Shade power …"),
            ("Cat6 direct burial", "Cat 6 U/UTP, direct burial"),
            ("CAT 6 / RG6", "2"),
            ("Siamese RG59 + 18/2", "2"),
            ("RG59 + 18/2", "2"),
            ("2x Cat 6", "2"),
            ("2 × 16/2", "2"),
            ("(2) RG-6", "2"),
            ("Cat 6 x2", "2"),
            ("dual RG6", "2"),
            ("1x Cat 6", "Cat 6 U/UTP …"),
            ("Cat 6, coax", "2"),
            ("Cat 6 + Cat 5e", "2"),
            ("string", "?"),
            ("", "?"),
            ("Own: bell wire", "bell wire"),
            ("Own: RG59 + 18/2", "RG59 + 18/2"),
        ];
        for (words, expected) in cases {
            let read = match in_words(words) {
                InWords::Just(medium) => medium.to_string(),
                InWords::AndMore(medium) => format!("{medium} …"),
                InWords::Several => "2".to_owned(),
                InWords::Unknown => "?".to_owned(),
            };
            assert_eq!(read, expected, "{words}");
        }
        for medium in Medium::stock() {
            assert_eq!(
                in_words(&medium.to_string()),
                InWords::Just(medium.clone()),
                "{medium}"
            );
        }
    }
}
