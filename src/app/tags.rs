//! Tags: what is to be printed on what, how it would come out, and the file.
//!
//! How it comes out is worked out in another thread from an order that is one text. What came of an
//! order is shown only as long as nothing of it was changed since.

use super::forms::bench::RackPaper;
use super::ports::Trouble;
use super::turn::go;
use super::write::perform;
use super::{Effect, Field, Model, Notice, OpenJob, Screen, World, relay};
use crate::command::Want;
use crate::domain::ids::{CableId, RackId, ThingId};
use crate::names;
use crate::tags::{
    Choice, Chosen, Dots, Look, Microns, Order, Shape, Stock, Tag, Wishes, built_in, chosen,
    pen_list,
};

/// Label stocks of one's own.
mod own;

pub use own::PAGES;

/// What is asked of the thread that makes papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// How an order would come out.
    Look,
    /// The file that prints.
    Pdf,
    /// The file of papers of a rack.
    Rack(RackId, RackPaper),
    /// The texts as a table, for another printer.
    Texts,
    /// The first tag alone, as a drawing.
    Svg,
    /// The first tag alone, as a picture.
    Png,
    /// A text as a series of codes for another phone.
    Series,
}

impl Paper {
    /// How the thread calls it.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Look => "look",
            Self::Pdf | Self::Rack(..) => "pdf",
            Self::Texts => "texts",
            Self::Svg => "svg",
            Self::Png => "png",
            Self::Series => "series",
        }
    }

    /// The ending of its file and its media type.
    fn file(self) -> (&'static str, &'static str) {
        match self {
            Self::Look | Self::Pdf | Self::Rack(..) => ("pdf", "application/pdf"),
            Self::Texts => ("csv", "text/csv"),
            Self::Svg => ("svg", "image/svg+xml"),
            Self::Png => ("png", "image/png"),
            Self::Series => ("txt", "text/plain"),
        }
    }
}

/// What happens with tags.
#[derive(Clone, Debug, PartialEq)]
pub enum TagAction {
    /// Show the tags of a choice.
    Of(Choice),
    /// Ask for a paper of what is chosen.
    Make(Paper),
    /// So many pages of so many are made.
    Progress(u32, u32),
    /// A paper came, or could not be made; none when it was given up.
    Came(Paper, Result<Option<Vec<u8>>, Trouble>),
    /// Give up what is being made.
    GiveUp,
    /// Hand out the file that was made.
    HandOut,
    /// It was printed.
    Note,
    /// Hand out the list for a marker pen.
    PenList,
    /// Keep the label stock that is described.
    KeepStock,
    /// Forget a label stock of one's own.
    ForgetStock(usize),
    /// Change a label stock of one's own: its measures go into the fields; none: leave it as it was.
    EditStock(Option<usize>),
    /// Bring back the stock that was forgotten or changed last, as it was.
    RestoreStock,
}

/// Tags on their way.
#[derive(Debug, Default)]
pub struct Tags {
    /// Label stocks that were described on this device.
    pub own: Vec<Stock>,
    /// The one of them that was forgotten or changed last, as it was.
    pub before: Option<Stock>,
    /// The one that is being changed, by its name.
    pub editing: Option<String>,
    /// How the order would come out; none while it is worked out.
    pub look: Option<Result<Look, Trouble>>,
    /// What is being made.
    pub making: Option<Paper>,
    /// How many pages of how many are made.
    pub progress: Option<(u32, u32)>,
    /// The file that was made of the order.
    pub made: Option<Vec<u8>>,
    /// What gets no tag, and why.
    pub left_out: Vec<String>,
    /// The cables whose tags name no far place, as nobody chose their rack.
    pub unplaced: Vec<CableId>,
    /// The order that all this is of.
    asked: String,
}

/// The choice that is shown, from the field that holds it.
#[must_use]
pub fn choice(model: &Model) -> Choice {
    choice_of(model.fields.get(Field::TagsOf)).unwrap_or(Choice::ToPull)
}

/// How a choice is kept in its field.
#[must_use]
pub fn choice_key(choice: Choice) -> String {
    let with = |word: &str, id: ThingId| format!("{word} {id}");
    let plain = match choice {
        Choice::Room(id) => return with("room", id.0),
        Choice::Outlet(id) => return with("outlet", id.0),
        Choice::Cable(id) => return with("cable", id.0),
        Choice::Place(id) => return with("place", id.0),
        Choice::Panel(id) => return with("panel", id.0),
        Choice::Strip(id) => return with("strip", id.0),
        Choice::ToPull => "to-pull",
        Choice::Untagged => "untagged",
        Choice::All => "all",
        Choice::Outlets => "outlets",
        Choice::Racks => "racks",
        Choice::Conduits => "conduits",
        Choice::Inserts => "inserts",
        Choice::Strips => "strips",
        Choice::OldPlaces => "old-places",
        Choice::OldStrips => "old-strips",
    };
    plain.to_owned()
}

fn choice_of(key: &str) -> Option<Choice> {
    let (word, id) = key.split_once(' ').unwrap_or((key, ""));
    let thing = || id.parse::<ThingId>().ok();
    Some(match word {
        "room" => Choice::Room(thing()?.into()),
        "outlet" => Choice::Outlet(thing()?.into()),
        "cable" => Choice::Cable(thing()?.into()),
        "place" => Choice::Place(thing()?.into()),
        "panel" => Choice::Panel(thing()?.into()),
        "strip" => Choice::Strip(thing()?.into()),
        "to-pull" => Choice::ToPull,
        "untagged" => Choice::Untagged,
        "all" => Choice::All,
        "outlets" => Choice::Outlets,
        "racks" => Choice::Racks,
        "conduits" => Choice::Conduits,
        "inserts" => Choice::Inserts,
        "strips" => Choice::Strips,
        "old-places" => Choice::OldPlaces,
        "old-strips" => Choice::OldStrips,
        _ => return None,
    })
}

/// The label stocks that the tags of a choice can go on, one's own first.
#[must_use]
pub fn stocks(model: &Model) -> Vec<Stock> {
    let choice = choice(model);
    let all = model.tags.own.iter().cloned().chain(built_in());
    let mut all: Vec<Stock> = all.filter(|stock| choice.takes(stock.shape)).collect();
    // What is made for the purpose comes before what merely takes it.
    if choice == Choice::Inserts {
        let (made, rest): (Vec<_>, Vec<_>) = all
            .into_iter()
            .partition(|stock| stock.shape == Shape::Insert);
        all = made;
        all.extend(rest);
    }
    all
}

/// What the fields say of the printer and the labels in it, whatever the job is.
pub(super) const OF_PRINTER: [&[Field]; 3] = [&[Field::TagsDots], &STOCKS, &own::FIELDS];

/// The fields of the chosen stocks, one for each kind of label, as they are kept.
const STOCKS: [Field; 4] = [
    Field::TagsStock,
    Field::TagsStockPlaces,
    Field::TagsStockInserts,
    Field::TagsStockStrips,
];

/// The field of the stock that the tags of a choice go on: whoever takes flat labels for racks still
/// has wraps for cables, and inserts behind the plates.
#[must_use]
pub fn stock_field(choice: Choice) -> Field {
    if choice.is_cables() {
        Field::TagsStock
    } else if choice == Choice::Inserts {
        Field::TagsStockInserts
    } else if choice.is_strips() {
        Field::TagsStockStrips
    } else {
        Field::TagsStockPlaces
    }
}

/// The stock that is chosen, else one of one's own, else the first on the paper that is common here.
#[must_use]
pub fn stock(model: &Model) -> Option<Stock> {
    let all = stocks(model);
    let name = model.fields.get(stock_field(choice(model)));
    let is_usual = |stock: &Stock| model.tags.own.contains(stock) || stock.is_common(model.unit);
    let at = all.iter().position(|stock| stock.name == name);
    let at = at.or_else(|| all.iter().position(is_usual));
    all.into_iter().nth(at.unwrap_or(0))
}

/// How many tags of each cable are printed unless somebody chooses: two at each end.
const SET: u16 = 4;

/// How many tags of each cable are printed.
#[must_use]
pub fn set(model: &Model) -> u16 {
    let typed = model.fields.get(Field::TagsSet).parse().ok();
    typed.filter(|set| (2..=6).contains(set)).unwrap_or(SET)
}

/// How finely the printer prints.
#[must_use]
pub fn dots(model: &Model) -> Dots {
    Dots::of(model.fields.get(Field::TagsDots)).unwrap_or(Dots::D300)
}

/// The tags that are chosen, and what they are of.
#[must_use]
pub fn wanted(model: &Model) -> Option<Chosen> {
    let open = model.open.as_ref()?;
    let typed = |field| Microns::read(model.fields.get(field)).filter(|typed| typed.0 > 0);
    let wishes = Wishes {
        set: set(model),
        with_position: model.fields.get(Field::TagsPosition) == "yes",
        diameter: typed(Field::TagsDiameter),
        pitch: typed(Field::TagsPitch),
    };
    let (registry, job) = (open.journal.registry(), open.journal.job());
    Some(chosen(registry, job, choice(model), wishes, &stock(model)?))
}

fn order(model: &Model, open: &OpenJob, tags: Vec<Tag>) -> Option<Order> {
    let typed = model.fields.get(Field::TagsStart).trim();
    Some(Order {
        title: format!("{}, tags", open.name()),
        stock: stock(model)?,
        dots: dots(model),
        // What is no number is told as a label that no sheet has.
        start: if typed.is_empty() {
            1
        } else {
            typed.parse().unwrap_or(0)
        },
        tags,
    })
}

/// What is wrong with the measure that was typed.
fn wrong_measure(model: &Model) -> Option<String> {
    let choice = choice(model);
    let (field, what, most) = if choice.is_cables() {
        (Field::TagsDiameter, "outside diameter of a cable", 200)
    } else if choice.is_strips() {
        (Field::TagsPitch, "distance from port to port", 100)
    } else {
        return None;
    };
    let typed = model.fields.get(field).trim();
    let fits = |typed: &Microns| (1_000..=most * 1_000).contains(&typed.0);
    (!typed.is_empty() && Microns::read(typed).filter(fits).is_none()).then(|| {
        format!(
            "“{typed}” is no {what}. Write millimetres from 1 to {most}, or leave the field empty."
        )
    })
}

/// Asks how the order would come out, whenever something of it was changed.
pub(super) fn look_after(model: &mut Model, effects: &mut Vec<Effect>) {
    if model.screen() != Some(Screen::Tags) {
        return;
    }
    if let Some(words) = wrong_measure(model) {
        let refused = Some(words);
        model.tags.look = Some(Ok(Look {
            refused,
            ..Look::default()
        }));
        model.tags.made = None;
        model.tags.asked.clear();
        return;
    }
    let (Some(open), Some(chosen)) = (&model.open, wanted(model)) else {
        return;
    };
    let Some(order) = order(model, open, chosen.tags) else {
        return;
    };
    let order = order.to_string();
    let (left_out, unplaced) = (chosen.left_out, chosen.unplaced);
    if order == model.tags.asked {
        (model.tags.left_out, model.tags.unplaced) = (left_out, unplaced);
        return;
    }
    let was = std::mem::take(&mut model.tags);
    model.tags = Tags {
        own: was.own,
        before: was.before,
        left_out,
        unplaced,
        asked: order.clone(),
        ..Tags::default()
    };
    effects.push(Effect::Papers {
        what: Paper::Look,
        order,
    });
}

/// Lets something happen.
pub(super) fn happen(model: &mut Model, action: TagAction, world: &impl World) -> Vec<Effect> {
    match action {
        TagAction::Of(choice) => {
            model.fields.set(Field::TagsOf, choice_key(choice));
            go(model, Screen::Tags)
        }
        TagAction::Make(what) => {
            model.tags.making = Some(what);
            model.tags.progress = None;
            let order = model.tags.asked.clone();
            vec![Effect::Papers { what, order }]
        }
        TagAction::Progress(done, of) => {
            model.tags.progress = Some((done, of));
            Vec::new()
        }
        TagAction::Came(what, came) => came_in(model, what, came),
        TagAction::GiveUp => {
            model.tags.making = None;
            model.tags.progress = None;
            vec![Effect::GiveUpPapers]
        }
        TagAction::HandOut => {
            let made = model.tags.made.clone();
            made.and_then(|bytes| hand_out(model, Paper::Pdf, bytes))
                .into_iter()
                .collect()
        }
        TagAction::Note => note(model, world),
        TagAction::PenList => {
            let chosen = wanted(model)
                .filter(|chosen| !(chosen.tags.is_empty() && chosen.by_hand.is_empty()));
            let Some(chosen) = chosen else {
                let words = "Nothing of this kind is to be written. Choose what the tags are for.";
                model.notice = Some(Notice::Told(words.to_owned()));
                return Vec::new();
            };
            vec![Effect::SendText(pen_list(&chosen))]
        }
        TagAction::KeepStock => own::keep(model),
        TagAction::ForgetStock(at) => own::forget(model, at),
        TagAction::EditStock(at) => own::edit(model, at),
        TagAction::RestoreStock => own::restore(model),
    }
}

fn came_in(model: &mut Model, what: Paper, came: Result<Option<Vec<u8>>, Trouble>) -> Vec<Effect> {
    if what == Paper::Series {
        return relay::came(model, came);
    }
    if what != Paper::Look {
        model.tags.making = None;
        model.tags.progress = None;
    }
    match (what, came) {
        // It was given up for another order, which is under way.
        (_, Ok(None)) => Vec::new(),
        (Paper::Look, Ok(Some(bytes))) => {
            let look = Look::read(&String::from_utf8_lossy(&bytes));
            let missing = || Trouble::Other("the papers gave no answer".to_owned());
            model.tags.look = Some(look.ok_or_else(missing));
            Vec::new()
        }
        (Paper::Look, Err(trouble)) => {
            model.tags.look = Some(Err(trouble));
            Vec::new()
        }
        (Paper::Pdf, Ok(Some(bytes))) => {
            model.tags.made = Some(bytes.clone());
            if let Some(stock) = stock(model) {
                let field = stock_field(choice(model));
                model.fields.set(field, stock.name);
            }
            let [cables, rest @ ..] = STOCKS;
            let (dots, set) = (dots(model).per_inch().to_string(), set(model).to_string());
            let mut words = vec![model.fields.get(cables), &dots, &set];
            words.extend(rest.map(|field| model.fields.get(field)));
            let mut effects = vec![Effect::Keep {
                key: "tags",
                value: words.join(";"),
            }];
            effects.extend(hand_out(model, what, bytes));
            effects
        }
        (_, Ok(Some(bytes))) => hand_out(model, what, bytes).into_iter().collect(),
        (_, Err(trouble)) => {
            model.notice = Some(Notice::Trouble(trouble));
            Vec::new()
        }
    }
}

fn hand_out(model: &Model, what: Paper, bytes: Vec<u8>) -> Option<Effect> {
    let (ending, kind) = what.file();
    let open = model.open.as_ref()?;
    let name = match what {
        Paper::Rack(rack, paper) => {
            let rack = names::rack(open.journal.registry(), rack);
            let day = names::day(model.now);
            open.file_name(&[&rack, paper.words(), &day], ending)
        }
        Paper::Look | Paper::Pdf | Paper::Texts | Paper::Svg | Paper::Png | Paper::Series => {
            file_name(model, open, ending)
        }
    };
    Some(Effect::HandOut {
        name,
        kind,
        bytes,
        records: 0,
    })
}

/// What a file of tags is called: job, what the tags are of, and the day.
fn file_name(model: &Model, open: &OpenJob, ending: &str) -> String {
    let registry = open.journal.registry();
    let choice = choice(model);
    let thing = match choice {
        Choice::Room(id) => {
            let code = registry.rooms.get(id).and_then(|room| room.code.get());
            code.map_or_else(|| names::room(registry, id), ToString::to_string)
        }
        Choice::Outlet(id) | Choice::Place(id) => names::outlet(registry, id),
        Choice::Cable(id) => names::cable(registry, id),
        Choice::Panel(id) | Choice::Strip(id) => names::panel(registry, id),
        Choice::ToPull
        | Choice::Untagged
        | Choice::All
        | Choice::Outlets
        | Choice::Racks
        | Choice::Conduits
        | Choice::Inserts
        | Choice::Strips
        | Choice::OldPlaces
        | Choice::OldStrips => String::new(),
    };
    let key = choice_key(choice);
    let word = key.split(' ').next().unwrap_or_default();
    // The name of a panel says that it is one.
    let is_said = matches!(choice, Choice::Panel(_));
    let what = if is_said { "" } else { word };
    let day = names::day(model.now);
    open.file_name(&["tags", what, &thing, &day], ending)
}

/// Notes that the file was printed.
fn note(model: &mut Model, world: &impl World) -> Vec<Effect> {
    let (Some(chosen), Some(stock)) = (wanted(model), stock(model)) else {
        return Vec::new();
    };
    let labels: u32 = chosen.tags.iter().map(|tag| u32::from(tag.copies)).sum();
    let want = Want::PrintTags {
        stock: stock.name,
        tags: u16::try_from(labels).unwrap_or(u16::MAX),
        set: u8::try_from(set(model)).unwrap_or(1),
        cables: chosen.cables,
        places: chosen.places,
        strips: chosen.strips,
    };
    let effects = perform(model, &want, world);
    if !effects.is_empty() {
        // It is noted once.
        model.tags.made = None;
    }
    effects
}

/// Leaves what was chosen in one job behind when another is opened: its rooms, cables and sheets are
/// others.
pub(super) fn leave(model: &mut Model) -> Vec<Effect> {
    model.fields.clear(&[
        Field::TagsOf,
        Field::TagsStart,
        Field::TagsPosition,
        Field::TagsDiameter,
        Field::TagsPitch,
    ]);
    let was = std::mem::take(&mut model.tags);
    (model.tags.own, model.tags.before) = (was.own, was.before);
    let is_busy = was.making.is_some() || was.look.is_none() && !was.asked.is_empty();
    is_busy
        .then_some(Effect::GiveUpPapers)
        .into_iter()
        .collect()
}

/// What was kept of the tags when the app was used before.
pub(super) fn started(model: &mut Model, kept: &str, stocks: &str) {
    let mut kept = kept.split(';');
    let [cables, rest @ ..] = STOCKS;
    let fields = [cables, Field::TagsDots, Field::TagsSet].into_iter();
    for field in fields.chain(rest) {
        model
            .fields
            .set(field, kept.next().unwrap_or_default().to_owned());
    }
    own::started(&mut model.tags, stocks);
}
