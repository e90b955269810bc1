//! What is printed in one go, as one text: it goes to another thread, which shares no memory.

use std::fmt;

use super::{Microns, Ports, Stock};

/// How finely the printer prints.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Dots {
    /// 203 to the inch.
    D203,
    /// 300 to the inch.
    D300,
    /// 600 to the inch.
    D600,
}

impl Dots {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::D203, Self::D300, Self::D600];

    /// How many to the inch.
    #[must_use]
    pub fn per_inch(self) -> i32 {
        match self {
            Self::D203 => 203,
            Self::D300 => 300,
            Self::D600 => 600,
        }
    }

    /// The fineness with so many to the inch.
    #[must_use]
    pub fn of(per_inch: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|dots| dots.per_inch().to_string() == per_inch)
    }
}

/// What a stranger has to know of a cable before anything else.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Badge {
    /// Nothing of the kind.
    None,
    /// An end was left coiled on purpose: an untagged one counts as abandoned.
    Future,
    /// It is out of use.
    Dead,
}

impl Badge {
    /// What is printed.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::None => "",
            Self::Future => "FUTURE",
            Self::Dead => "DEAD",
        }
    }
}

/// One tag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tag {
    /// The code in large type.
    pub code: String,
    /// What it is, in words; for a strip the words of its ports, a line each.
    pub words: String,
    /// The same without what stands on the jacket or in the code, for where the words are too long;
    /// empty: they have no shorter form.
    pub short: String,
    /// The far place in words; for an insert the letters of its jacks.
    pub far: String,
    /// The position, where it is wished.
    pub position: String,
    /// What goes before anything else.
    pub badge: Badge,
    /// What its QR code says; empty: it has none.
    pub qr: String,
    /// The outside diameter of what it goes on; 0: it lies flat.
    pub diameter: Microns,
    /// What that is, in words; for a strip where its measures are from.
    pub made_of: String,
    /// For a strip, how the ports lie that it is for.
    pub ports: Ports,
    /// How many of it.
    pub copies: u16,
}

/// What is printed in one go.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// What the file is called inside.
    pub title: String,
    /// The labels.
    pub stock: Stock,
    /// How finely the printer prints.
    pub dots: Dots,
    /// The first label of the first sheet that is still there, from 1.
    pub start: i32,
    /// The tags, in the order of the work.
    pub tags: Vec<Tag>,
}

/// How an order would come out, before anything is printed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Look {
    /// Why it cannot be printed, in words.
    pub refused: Option<String>,
    /// How many labels it takes.
    pub labels: i32,
    /// How many labels on how many pages, and for which printer, in words.
    pub counts: String,
    /// What was chosen and why, for each kind of cable, as sentences.
    pub reasons: Vec<String>,
    /// What will not come out well, as sentences.
    pub warnings: Vec<String>,
    /// The first tag on its cable, at true proportion, as SVG.
    pub picture: String,
}

/// An order that cannot be read, which would be a mistake of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnreadableOrder;

/// Between the fields of a tag (ASCII unit separator).
const FIELD: char = '\u{1F}';
/// Between the parts of the order (ASCII record separator).
const RECORD: char = '\u{1E}';

impl Order {
    /// How many labels it takes.
    #[must_use]
    pub fn labels(&self) -> i32 {
        self.tags.iter().map(|tag| i32::from(tag.copies)).sum()
    }
}

impl fmt::Display for Order {
    /// The order as a text that [`Order::read`] reads back.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let plain = |text: &str| text.replace([FIELD, RECORD], " ");
        write!(
            f,
            "{}{RECORD}{}{RECORD}",
            plain(&self.title),
            plain(&self.stock.line())
        )?;
        write!(f, "{}{FIELD}{}", self.dots.per_inch(), self.start)?;
        for tag in &self.tags {
            write!(f, "{RECORD}{}{FIELD}{}", tag.copies, tag.diameter.0)?;
            let texts = [
                &tag.code,
                &tag.words,
                &tag.short,
                &tag.far,
                &tag.position,
                &tag.qr,
                &tag.made_of,
            ];
            for text in texts {
                write!(f, "{FIELD}{}", plain(text))?;
            }
            let Ports { pitch, group } = tag.ports;
            write!(
                f,
                "{FIELD}{}{FIELD}{}{FIELD}{group}",
                tag.badge.words(),
                pitch.0
            )?;
        }
        Ok(())
    }
}

impl Order {
    /// Reads what `Display` wrote.
    ///
    /// # Errors
    /// When the text is anything else.
    pub fn read(text: &str) -> Result<Self, UnreadableOrder> {
        Self::parts(text).ok_or(UnreadableOrder)
    }

    fn parts(text: &str) -> Option<Self> {
        let mut records = text.split(RECORD);
        let title = records.next()?.to_owned();
        let stock = Stock::read(records.next()?)?;
        let (dots, start) = records.next()?.split_once(FIELD)?;
        Some(Self {
            title,
            stock,
            dots: Dots::of(dots)?,
            start: start.parse().ok()?,
            tags: records.map(tag).collect::<Option<Vec<Tag>>>()?,
        })
    }
}

fn tag(record: &str) -> Option<Tag> {
    let mut fields = record.split(FIELD);
    let mut next = || fields.next();
    let copies = next()?.parse().ok()?;
    let diameter = Microns(next()?.parse().ok()?);
    let mut text = || next().map(str::to_owned);
    let [code, words, short, far, position, qr, made_of] = [
        text()?,
        text()?,
        text()?,
        text()?,
        text()?,
        text()?,
        text()?,
    ];
    let mut next = || fields.next();
    let badge = next()?;
    let badge = [Badge::None, Badge::Future, Badge::Dead]
        .into_iter()
        .find(|known| known.words() == badge)?;
    let ports = Ports {
        pitch: Microns(next()?.parse().ok()?),
        group: next()?.parse().ok()?,
    };
    Some(Tag {
        code,
        words,
        short,
        far,
        position,
        badge,
        qr,
        diameter,
        made_of,
        ports,
        copies,
    })
}

impl fmt::Display for Look {
    /// The answer as a text that [`Look::read`] reads back.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let lists = [&self.reasons, &self.warnings].map(|list| list.join("\u{1F}"));
        let [reasons, warnings] = lists;
        let refused = self.refused.as_deref().unwrap_or_default();
        let (labels, counts, picture) = (self.labels, &self.counts, &self.picture);
        write!(
            f,
            "{refused}{RECORD}{labels}{RECORD}{counts}{RECORD}{reasons}{RECORD}{warnings}{RECORD}{picture}"
        )
    }
}

impl Look {
    /// Reads what `Display` wrote; none when the text is anything else.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let mut records = text.split(RECORD);
        let mut next = || records.next();
        let list = |text: &str| -> Vec<String> {
            let sentences = text.split(FIELD).filter(|sentence| !sentence.is_empty());
            sentences.map(str::to_owned).collect()
        };
        Some(Self {
            refused: next().map(str::to_owned)?.into(),
            labels: next()?.parse().ok()?,
            counts: next()?.to_owned(),
            reasons: list(next()?),
            warnings: list(next()?),
            picture: next()?.to_owned(),
        })
        .map(|look: Self| Self {
            refused: look.refused.filter(|words| !words.is_empty()),
            ..look
        })
    }
}
