//! Racks in rack units: how they are built, and what hangs where in them.

use super::{refuse, take};
use crate::app::forms::wall::text;
use crate::app::tags::{PAGES, Paper};
use crate::app::{Effect, Field, Model, Screen, World};
use crate::command::Want;
use crate::domain::ids::{BlockId, RackId, ThingId};
use crate::domain::mount::{BlockKind, Mount, Mountable, RackBuild, Units};
use crate::domain::place::Face;
use crate::names;
use crate::query::elevation::{Elevation, Piece, elevation, next_free};
use crate::tags::{Booklet, Microns, Readers, door_card, elevations, panel_maps};

/// A form of one rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BenchForm {
    /// Hang what is chosen on this side.
    Hang(RackId, Face),
    /// Choose this for the form, which is shown.
    Choose(Mountable),
    /// Take what is chosen out.
    TakeOut(RackId),
    /// Say how it is built.
    Build(RackId),
    /// Make papers of it.
    Print(RackId, RackPaper),
}

/// Papers of a rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RackPaper {
    /// The rack in rack units, to scale.
    Elevation,
    /// A map of each panel.
    Maps,
    /// The card for its door.
    Card(Readers),
}

impl RackPaper {
    /// What tells its file from those of the others.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Elevation => "elevation",
            Self::Maps => "panel maps",
            Self::Card(Readers::Trade) => "door card",
            Self::Card(Readers::Everybody) => "door card without alarms and cameras",
        }
    }
}

/// The value in the list of what can be hung.
#[must_use]
pub fn hung_key(what: Mountable) -> String {
    let kind = match what {
        Mountable::Panel(_) => "panel ",
        Mountable::Device(_) => "device ",
        Mountable::Block(_) => "block ",
    };
    kind.to_owned() + &what.thing().to_string()
}

/// The value of a new blank, shelf or cable guide.
#[must_use]
pub fn block_key(kind: BlockKind) -> &'static str {
    match kind {
        BlockKind::Blank => "blank",
        BlockKind::Shelf => "shelf",
        BlockKind::CableGuide => "guide",
    }
}

/// The new thing that is chosen; none where something is chosen that is there.
#[must_use]
pub fn new_block(model: &Model) -> Option<BlockKind> {
    let key = model.fields.get(Field::BenchWhat);
    let mut kinds = BlockKind::ALL.into_iter();
    kinds.find(|kind| block_key(*kind) == key)
}

/// The values of how a rack can be built.
pub const BUILDS: [(&str, &str); 4] = [
    ("units", "With rack units"),
    ("enclosure", "Structured enclosure"),
    ("board", "Board"),
    ("rail", "Terminal rail"),
];

/// The value of how a rack is built.
#[must_use]
pub fn build_key(build: RackBuild) -> &'static str {
    match build {
        RackBuild::Units(_) => "units",
        RackBuild::Enclosure => "enclosure",
        RackBuild::Board => "board",
        RackBuild::Rail => "rail",
    }
}

pub(super) fn submit(model: &mut Model, form: BenchForm, world: &impl World) -> Vec<Effect> {
    let want = match form {
        BenchForm::Hang(rack, face) => hang(model, rack, face),
        BenchForm::Choose(what) => {
            model.fields.set(Field::BenchWhat, hung_key(what));
            fill(model);
            return vec![Effect::FocusField(Field::BenchWhat)];
        }
        BenchForm::TakeOut(rack) => chosen(model, rack)
            .map(|what| Want::TakeOut { what })
            .ok_or_else(|| "It is not in the rack yet. Choose something that is.".to_owned()),
        BenchForm::Build(rack) => build(model).map(|build| Want::BuildRack { rack, build }),
        BenchForm::Print(rack, paper) => return print(model, rack, paper),
    };
    let fields = [
        Field::BenchUnit,
        Field::BenchHeight,
        Field::BenchName,
        Field::BenchUnits,
    ];
    let effects = match want {
        Ok(want) => take(model, want, &fields, None, world),
        Err(words) => return refuse(model, &words),
    };
    if !effects.is_empty() {
        if matches!(form, BenchForm::TakeOut(_)) {
            model.fields.clear(&[Field::BenchWhat]);
        }
        fill(model);
    }
    effects
}

/// Whether one of the blocks that are there is chosen, not only shown first.
#[must_use]
pub fn is_block(model: &Model) -> bool {
    model.fields.get(Field::BenchWhat).starts_with("block ")
}

/// Puts into the fields where the chosen thing hangs, or the first place where it fits, and the name of
/// a block.
pub(in crate::app) fn fill(model: &mut Model) {
    let (Some(Screen::Elevation { rack, face }), Some(registry)) =
        (model.screen(), model.registry())
    else {
        return;
    };
    let is_chosen = !model.fields.get(Field::BenchWhat).is_empty();
    let Some(of) = elevation(registry, rack).filter(|_| is_chosen) else {
        return;
    };
    let what = chosen(model, rack);
    let piece = of.pieces.iter().find(|piece| Some(piece.hung.what) == what);
    let unit = unit_now(&of, piece, face);
    let unit = unit.map_or_else(String::new, |unit| unit.to_string());
    let name = match what {
        Some(Mountable::Block(id)) => registry.blocks.get(id).and_then(|row| row.name.get()),
        _ => None,
    };
    let name = name.cloned();
    model.fields.set(Field::BenchUnit, unit);
    model.fields.set(Field::BenchHeight, "");
    // The name that was typed for something new stays while its kind is changed.
    if what.is_some() {
        model.fields.set(Field::BenchName, name.unwrap_or_default());
    }
}

/// The rack unit where something hangs, else the highest where it has room.
fn unit_now(of: &Elevation, piece: Option<&Piece>, face: Face) -> Option<u8> {
    let height = piece.map_or(Units::ONE, |piece| piece.hung.height);
    piece
        .and_then(|piece| piece.hung.unit)
        .or_else(|| next_free(of, face, height))
}

/// What is chosen of the things that are there; what the list shows first where nothing is.
fn chosen(model: &Model, rack: RackId) -> Option<Mountable> {
    let key = model.fields.get(Field::BenchWhat);
    if new_block(model).is_some() {
        return None;
    }
    let first = || {
        let of = elevation(model.registry()?, rack)?;
        of.pieces.first().map(|piece| piece.hung.what)
    };
    let Some((kind, id)) = key.split_once(' ') else {
        return first();
    };
    let thing: ThingId = id.parse().ok()?;
    Some(match kind {
        "panel" => Mountable::Panel(thing.into()),
        "device" => Mountable::Device(thing.into()),
        _ => Mountable::Block(thing.into()),
    })
}

fn hang(model: &Model, rack: RackId, face: Face) -> Result<Want, String> {
    let of = model.registry().and_then(|of| elevation(of, rack));
    let what = chosen(model, rack);
    let known = of.iter().flat_map(|of| &of.pieces);
    let known = what.and_then(|what| known.into_iter().find(|piece| piece.hung.what == what));
    let unit = match text(model, Field::BenchUnit).as_str() {
        "" => of.as_ref().and_then(|of| unit_now(of, known, face)),
        typed => Some(number(typed, "rack unit")?),
    };
    let unit = unit.filter(|_| {
        let build = of.as_ref().and_then(|of| of.build);
        build.is_none_or(|build| build.units().is_some())
    });
    let height = match text(model, Field::BenchHeight).as_str() {
        "" => known.map_or(Units::ONE, |piece| piece.hung.height),
        typed => Units::new(number(typed, "number of rack units")?)
            .ok_or_else(|| "Nothing is higher than 60 rack units. Write 1 to 60.".to_owned())?,
    };
    let face = match what {
        Some(Mountable::Panel(_)) => Face::Front,
        _ => face,
    };
    let mount = Mount {
        rack,
        unit,
        height,
        face,
    };
    let name = text(model, Field::BenchName);
    match (what, new_block(model)) {
        (Some(Mountable::Block(block)), _) if is_renamed(model, block, &name) => {
            let is_there = |piece: &Piece| (piece.hung.unit, piece.hung.height) == (unit, height);
            let mount = (!known.is_some_and(is_there)).then_some(mount);
            Ok(Want::RenameBlock { block, name, mount })
        }
        (Some(what), _) => Ok(Want::Hang { what, mount }),
        (None, kind) => Ok(Want::AddBlock {
            kind: kind.unwrap_or(BlockKind::Blank),
            name,
            mount,
        }),
    }
}

/// Whether another name was typed for a block that is chosen.
fn is_renamed(model: &Model, block: BlockId, name: &str) -> bool {
    let row = model.registry().and_then(|of| of.blocks.get(block));
    let now = row.and_then(|row| row.name.get());
    is_block(model) && now.map_or("", String::as_str).trim() != name
}

fn build(model: &Model) -> Result<RackBuild, String> {
    Ok(match model.fields.get(Field::BenchBuild) {
        "enclosure" => RackBuild::Enclosure,
        "board" => RackBuild::Board,
        "rail" => RackBuild::Rail,
        _ => {
            let typed = text(model, Field::BenchUnits);
            let count = typed.parse().ok().and_then(Units::new);
            RackBuild::Units(count.ok_or_else(|| {
                [
                    "“",
                    &typed,
                    "” is no number of rack units. Write how many it has, 1 to 60.",
                ]
                .concat()
            })?)
        }
    })
}

fn number(typed: &str, what: &str) -> Result<u8, String> {
    typed
        .parse()
        .map_err(|_| ["“", typed, "” is no ", what, ". Write a whole number."].concat())
}

/// Asks for papers of a rack, and keeps on this device whom to call.
fn print(model: &mut Model, rack: RackId, paper: RackPaper) -> Vec<Effect> {
    let Some(registry) = model.registry() else {
        return Vec::new();
    };
    let firm = [Field::FirmName, Field::FirmPhone].map(|field| text(model, field));
    let leaves = match paper {
        RackPaper::Elevation => elevations(registry, rack),
        RackPaper::Maps => panel_maps(registry, rack),
        RackPaper::Card(readers) => {
            let firm = [&*firm[0], &*firm[1]];
            let day = names::day(model.now);
            vec![door_card(registry, rack, &day, firm, readers)]
        }
    };
    if leaves.is_empty() {
        return refuse(model, "There is no panel in this rack yet. Add one first.");
    }
    let typed = model.fields.get(Field::BenchPage);
    let page = PAGES.into_iter().find(|(key, ..)| *key == typed);
    let (.., width, height) = page.unwrap_or(PAGES[0]);
    let booklet = Booklet {
        title: names::rack(registry, rack),
        width: Microns(width),
        height: Microns(height),
        leaves,
    };
    let what = Paper::Rack(rack, paper);
    model.tags.making = Some(what);
    model.tags.progress = None;
    vec![
        Effect::Keep {
            key: "firm",
            value: firm.join("\t"),
        },
        Effect::Papers {
            what,
            order: booklet.to_string(),
        },
    ]
}
