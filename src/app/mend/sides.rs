//! Where people disagree about one thing: both sides with who said what, and a tap for each.

use super::mounts::elevation;
use super::{Desk, Mending, told_apart};
use crate::app::Screen;
use crate::command::Want;
use crate::domain::ids::ConduitId;
use crate::domain::label::{LegNumber, conduit_code};
use crate::domain::length::{LengthUnit, Millimetres};
use crate::domain::medium::Medium;
use crate::domain::place::{End, Placement, RunName, Side};
use crate::domain::work::{Lying, Pinout, WallBox};
use crate::journal::{Cable, FactRef, Register, Said, side_index};
use crate::names;
use crate::query::deeds::{
    cover_words, end_is, kept_words, leaves_words, outcome_words, sayer, shows_words,
    standing_words, thing_name,
};
use crate::query::pictures::points_words;
use crate::query::{Field, Thing};

/// One thing said, in words.
struct Opinion {
    words: String,
    fact: FactRef,
}

/// The distinct values of a field, each as its last author said it.
fn said<T: PartialEq>(register: &Register<T>, words: impl Fn(&T) -> String) -> Vec<Opinion> {
    let mut last: Vec<Said<'_, T>> = Vec::new();
    for said in register.all() {
        last.retain(|other| other.value != said.value);
        last.push(said);
    }
    let side = |said: Said<'_, T>| Opinion {
        words: words(said.value),
        fact: said.fact,
    };
    last.into_iter().map(side).collect()
}

fn text(words: &String) -> String {
    format!("“{words}”")
}

fn number<T: std::fmt::Display>(number: &T) -> String {
    number.to_string()
}

/// A length as each of two phones may show it.
fn both_ways(length: Millimetres) -> String {
    format!("{} mm ({})", length.0, length.in_words(LengthUnit::Feet))
}

fn lying_words(lying: Lying, there: &str, gone: &str) -> String {
    match lying {
        Lying::In => there,
        Lying::Out => gone,
    }
    .to_owned()
}

impl Desk<'_> {
    /// An opinion, with whose it is.
    fn by(&self, side: &Opinion) -> String {
        let by = sayer(self.journal, side.fact);
        [&side.words, ", by ", &by, "."].concat()
    }

    pub(super) fn end_disputed(&self, end: End) -> Mending {
        let name = self.end(end);
        let mut mending = Mending::new(format!("People disagree where {name} is."));
        let Some(register) = self.placement(end) else {
            return mending;
        };
        if !register.disputed() {
            return self.split_and_whole(end, register);
        }
        for side in said(register, |placement| end_is(self.registry, end, placement)) {
            mending = mending.because(self.by(&side));
        }
        let short = |placement: &Placement| match placement {
            Placement::Landed { place, fitting } => match fitting {
                crate::domain::place::Fitting::Direct => {
                    format!("It is on {}", names::place(self.registry, place))
                }
                crate::domain::place::Fitting::Adapter => {
                    format!(
                        "It is on {}, with an adapter",
                        names::place(self.registry, place)
                    )
                }
                crate::domain::place::Fitting::Plug => {
                    format!(
                        "It is on {}, with a plug of its own",
                        names::place(self.registry, place)
                    )
                }
            },
            Placement::Lifted => "It is not landed".to_owned(),
            Placement::Spare { .. } => "It is spare".to_owned(),
            Placement::Dead { .. } => "It is dead".to_owned(),
        };
        for side in said(register, short) {
            mending = mending.or(side.words, Want::KeepSaid { fact: side.fact });
        }
        mending.or_go("Show the cable", Screen::Cable(end.cable))
    }

    /// An end that is landed as a whole by one and split by another, or a leg of one that is not split.
    fn split_and_whole(&self, end: End, register: &Register<Placement>) -> Mending {
        let whole = End { leg: None, ..end };
        let name = self.end(whole);
        let landed = said(register, |placement| end_is(self.registry, end, placement));
        let split = self.sides(Thing::End(whole), Field::Split);
        let mut mending = Mending::new(match end.leg {
            None => format!("{name} is split, and said to be one."),
            Some(leg) => format!("{name} has no leg {}, and it is landed.", leg.get()),
        });
        for side in landed.into_iter().chain(split) {
            mending = mending.because(self.by(&side));
        }
        if let Some(leg) = end.leg {
            let legs = leg.max(LegNumber::new(2).unwrap_or(leg));
            let split = Want::SplitEnd { end: whole, legs };
            mending = mending.or(format!("It has {} legs", legs.get()), split);
        } else {
            mending = mending.or("It is one, not split", Want::JoinLegs { end: whole });
        }
        mending
            .or("It is not so", Want::Lift { end })
            .or_go("Show the cable", Screen::Cable(end.cable))
    }

    pub(super) fn disputed(&self, thing: Thing, field: Field) -> Mending {
        let (name, mut what) = (self.thing_name(thing), field_words(thing, field));
        let sides = self.sides(thing, field);
        if field == Field::Standing && sides.iter().all(|side| side.words.starts_with("cancelled"))
        {
            what = "why it was cancelled";
        }
        let mut mending = Mending::new(format!("People disagree about {name}: {what}."));
        let words = sides.iter().map(|side| side.words.clone()).collect();
        let called = told_apart(words, &[&|at| sayer(self.journal, sides[at].fact)]);
        for (side, called) in sides.iter().zip(called) {
            mending = mending.because(self.by(side)).or(
                ["Keep ", &called].concat(),
                Want::KeepSaid { fact: side.fact },
            );
        }
        match thing {
            Thing::Cable(id) => mending.or_go("Show the cable", Screen::Cable(id)),
            Thing::End(end) => mending.or_go("Show the cable", Screen::Cable(end.cable)),
            Thing::Outlet(id) => mending.or_go("Show the outlet", Screen::Outlet(id)),
            Thing::LooseEnd(_) => mending.or_go("Loose ends", Screen::Loose),
            Thing::Picture(id) => mending.or_go("Show the picture", Screen::Picture(id)),
            Thing::Passage(id, _) => mending.or_go("Show the cable", Screen::Cable(id)),
            Thing::Conduit(_) => mending.or_go("Conduits", Screen::Racks),
            Thing::Rack(id) => mending.or_go("See the rack", elevation(id)),
            _ => mending.or_go("What was done", Screen::History),
        }
    }

    fn thing_name(&self, thing: Thing) -> String {
        thing_name(self.registry, thing)
    }

    fn sides(&self, thing: Thing, field: Field) -> Vec<Opinion> {
        let of = self.registry;
        match thing {
            Thing::Job => match field {
                Field::Name => said(&of.job.name, text),
                Field::Pinout => said(&of.job.pinout, |pinout| match pinout {
                    Pinout::A => "T568A".to_owned(),
                    Pinout::B => "T568B".to_owned(),
                }),
                _ => said(&of.job.tag_address, text),
            },
            Thing::Unit(id) => of
                .units
                .get(id)
                .map(|row| said(&row.name, text))
                .unwrap_or_default(),
            Thing::Floor(id) => of
                .floors
                .get(id)
                .map(|row| match field {
                    Field::Number => said(&row.number, number),
                    Field::Sheet => said(&row.sheet, text),
                    _ => said(&row.name, text),
                })
                .unwrap_or_default(),
            Thing::Room(id) => of
                .rooms
                .get(id)
                .map(|row| match field {
                    Field::Code => said(&row.code, number),
                    Field::Floor => said(&row.floor, |id| self.thing_name(Thing::Floor(*id))),
                    Field::Unit => said(&row.unit, |id| self.thing_name(Thing::Unit(*id))),
                    Field::Order => said(&row.order, |order| {
                        format!("place {order} in the walking order")
                    }),
                    Field::Cover => said(&row.cover, cover_words),
                    _ => said(&row.name, text),
                })
                .unwrap_or_default(),
            Thing::OutletType(id) => of
                .outlet_types
                .get(id)
                .map(|row| match field {
                    Field::Cables => said(&row.cables, |cables| {
                        let media: Vec<String> = cables
                            .iter()
                            .map(|cable| cable.medium.to_string())
                            .collect();
                        media.join(", ")
                    }),
                    _ => said(&row.name, text),
                })
                .unwrap_or_default(),
            Thing::Outlet(id) => self.outlet_sides(id, field),
            Thing::Cable(id) => of
                .cables
                .get(id)
                .map(|row| self.cable_sides(id, row, field))
                .unwrap_or_default(),
            Thing::End(end) => self.end_sides(end, field),
            Thing::Rack(id) => of
                .racks
                .get(id)
                .map(|row| match field {
                    Field::Space => said(&row.space, number),
                    Field::Build => said(&row.build, |build| names::built(*build)),
                    Field::Room => said(&row.room, |id| names::room(of, *id)),
                    _ => said(&row.name, text),
                })
                .unwrap_or_default(),
            Thing::Panel(id) => of
                .panels
                .get(id)
                .map(|row| match field {
                    Field::Make => said(&row.make, |make| names::make(*make)),
                    Field::Rack => said(&row.rack, |id| names::rack(of, *id)),
                    Field::Letters => said(&row.letters, number),
                    Field::RackUnit => said(&row.unit, |unit| {
                        unit.map_or("not mounted by units".to_owned(), |unit| {
                            format!("unit {unit}")
                        })
                    }),
                    Field::Height => said(&row.high, |height| names::units_high(*height)),
                    _ => said(&row.purpose, text),
                })
                .unwrap_or_default(),
            Thing::Position(at) => {
                let row = of.panels.get(at.panel);
                let kept = row.and_then(|row| row.kept.get(&at.number));
                let patched = of.cord(at);
                match field {
                    Field::Patched => patched.map(|patched| {
                        said(patched, |to| {
                            to.as_ref()
                                .map_or_else(|| "nothing".to_owned(), |to| names::place(of, to))
                        })
                    }),
                    _ => kept.map(|kept| said(kept, kept_words)),
                }
                .unwrap_or_default()
            }
            Thing::Device(id) => of
                .devices
                .get(id)
                .map(|row| match field {
                    Field::Room => said(&row.room, |id| names::room(of, *id)),
                    Field::Model => said(&row.model, text),
                    Field::Serial => said(&row.serial, text),
                    Field::Mount => said(&row.mount, |mount| {
                        mount.map_or("in no rack".to_owned(), |mount| names::mount(of, mount))
                    }),
                    _ => said(&row.name, text),
                })
                .unwrap_or_default(),
            Thing::Block(id) => of
                .blocks
                .get(id)
                .map(|row| match field {
                    Field::Kind => said(&row.kind, |kind| kind.words().to_owned()),
                    Field::Mount => said(&row.mount, |mount| names::mount(of, *mount)),
                    Field::Standing => said(&row.standing, standing_words),
                    _ => said(&row.name, text),
                })
                .unwrap_or_default(),
            Thing::Joint(id) => of
                .joints
                .get(id)
                .map(|row| match field {
                    Field::Kind => said(&row.kind, |kind| kind.words().to_owned()),
                    Field::Room => said(&row.room, |id| names::room(of, *id)),
                    _ => said(&row.name, text),
                })
                .unwrap_or_default(),
            Thing::LooseEnd(id) => of
                .loose_ends
                .get(id)
                .map(|row| match field {
                    Field::Number => said(&row.number, number),
                    Field::Joined => said(&row.joined, |end| {
                        end.map_or("not known".to_owned(), |end| names::end(of, end))
                    }),
                    _ => said(&row.found, |found| {
                        format!("“{}, {}”", found.place, found.note)
                    }),
                })
                .unwrap_or_default(),
            Thing::Picture(id) => of
                .pictures
                .get(id)
                .map(|row| match field {
                    Field::Shows => said(&row.shows, |shows| shows_words(of, *shows)),
                    Field::Points => said(&row.points, |points| points_words(of, points)),
                    Field::Standing => said(&row.standing, standing_words),
                    _ => said(&row.note, text),
                })
                .unwrap_or_default(),
            Thing::Conduit(id) => self.conduit_sides(id, field),
            Thing::Passage(cable, conduit) => {
                let row = of.cables.get(cable);
                let lying = row.and_then(|row| row.conduits.get(&conduit));
                lying
                    .map(|lying| said(lying, |lying| lying_words(*lying, "in it", "not in it")))
                    .unwrap_or_default()
            }
            Thing::Box(box_of) => {
                let medium = of.job.boxes.get(&box_of);
                let words = |medium: &Option<Medium>| match medium {
                    Some(medium) => medium.to_string(),
                    None => "not on site".to_owned(),
                };
                medium.map(|medium| said(medium, words)).unwrap_or_default()
            }
        }
    }

    fn conduit_sides(&self, id: ConduitId, field: Field) -> Vec<Opinion> {
        let Some(row) = self.registry.conduits.get(id) else {
            return Vec::new();
        };
        let end = |at: usize| {
            said(&row.ends[at], |end| {
                text(&names::conduit_end(self.registry, end))
            })
        };
        match field {
            Field::Number => said(&row.number, |number| conduit_code(*number)),
            Field::From => end(0),
            Field::To => end(1),
            Field::Size => said(&row.size, text),
            Field::PullString => said(&row.string, |lying| {
                lying_words(*lying, "a pull string", "no pull string")
            }),
            Field::Standing => said(&row.standing, standing_words),
            _ => said(&row.note, text),
        }
    }

    fn outlet_sides(&self, id: crate::domain::ids::OutletId, field: Field) -> Vec<Opinion> {
        let Some(row) = self.registry.outlets.get(id) else {
            return Vec::new();
        };
        match field {
            // Two rooms of one name are told apart by their codes.
            Field::Number => said(&row.number, |at| {
                let room = self.registry.rooms.get(at.room);
                let code = room.and_then(|row| row.code.get());
                format!(
                    "{} {}{}",
                    names::room(self.registry, at.room),
                    code.map_or_else(String::new, ToString::to_string),
                    at.number.get()
                )
            }),
            Field::Kind => said(&row.kind, |kind| names::outlet_kind(self.registry, *kind)),
            Field::Spot => said(&row.spot, |spot| {
                let height = spot
                    .height
                    .map(|height| format!("{} high", both_ways(height)));
                let offset = spot
                    .offset
                    .map(|offset| format!("{} from {}", both_ways(offset), spot.offset_from));
                let wall = (!spot.wall.is_empty()).then(|| spot.wall.clone());
                let parts: Vec<String> = [wall, height, offset].into_iter().flatten().collect();
                format!("“{}”", parts.join(", "))
            }),
            Field::WallBox => said(&row.wall_box, |wall_box| match wall_box {
                WallBox::Gangs(gangs) => format!("a box of {gangs}"),
                WallBox::Ring => "a ring".to_owned(),
                WallBox::None => "no box".to_owned(),
            }),
            Field::Standing => said(&row.standing, standing_words),
            Field::Slack => said(&row.slack, |slack| {
                let length = slack.length.map(both_ways);
                text(&format!("{} {}", length.unwrap_or_default(), slack.place))
            }),
            Field::Waits => said(&row.waits, number),
            Field::ChangeOrder => said(&row.change_order, text),
            _ => said(&row.purpose, text),
        }
    }

    fn cable_sides(
        &self,
        id: crate::domain::ids::CableId,
        row: &Cable,
        field: Field,
    ) -> Vec<Opinion> {
        let of = self.registry;
        let copper = row.copper(row.pull(id));
        match field {
            Field::Name => said(&row.name, |name| self.run_name(*name)),
            Field::Leaves => said(&row.leaves, |leaves| leaves_words(of, *leaves)),
            Field::Medium => said(&row.medium, number),
            Field::Jacket => said(&row.jacket, |jacket| {
                let mates = of.index.in_jacket.get(jacket).iter();
                let mates: Vec<String> = mates
                    .filter(|mate| **mate != id)
                    .map(|mate| names::cable(of, *mate))
                    .collect();
                if mates.is_empty() {
                    "a jacket of its own".to_owned()
                } else {
                    format!("one jacket with {}", names::listed(&mates))
                }
            }),
            Field::Standing => said(&row.standing, standing_words),
            Field::ChangeOrder => said(&row.change_order, text),
            Field::Repull => said(&row.repull, |repull| {
                format!("the pull because of “{}”", repull.reason)
            }),
            Field::Outcome => copper
                .map(|copper| {
                    said(&copper.outcome, |outcome| {
                        outcome_words(*outcome).to_owned()
                    })
                })
                .unwrap_or_default(),
            Field::DrawnFrom => copper
                .map(|copper| said(&copper.drawn_from, |number| format!("box {number}")))
                .unwrap_or_default(),
            _ => said(&row.purpose, text),
        }
    }

    fn run_name(&self, name: RunName) -> String {
        match (self.registry.label_of(name), name) {
            (Some(label), _) => label.to_string(),
            (None, RunName::Feeds { outlet, letter }) => {
                format!("{letter} at {}", names::outlet(self.registry, outlet))
            }
            (None, RunName::Ties { near, far, number }) => format!(
                "tie {number} from {} to {}",
                names::rack(self.registry, near),
                names::rack(self.registry, far)
            ),
        }
    }

    fn end_sides(&self, end: End, field: Field) -> Vec<Opinion> {
        let Some(row) = self.registry.cables.get(end.cable) else {
            return Vec::new();
        };
        if field == Field::Split {
            let record = row.end(end.cable, end.side);
            return record
                .map(|record| said(&record.split, |legs| format!("{} legs", legs.get())))
                .unwrap_or_default();
        }
        let plan = row.planned[side_index(end.side)].get(end.leg);
        plan.map(|plan| {
            said(plan, |place| match place {
                Some(place) => names::place(self.registry, place),
                None => "no place".to_owned(),
            })
        })
        .unwrap_or_default()
    }
}

/// What people disagree about, as the end of a sentence.
/// What a field says of a thing, in words.
#[must_use]
pub fn field_words(thing: Thing, field: Field) -> &'static str {
    match field {
        Field::Name if matches!(thing, Thing::Cable(_)) => "its outlet and letter",
        Field::Name => "its name",
        Field::Pinout => "how its jacks are wired",
        Field::TagAddress => "the address on its tags",
        Field::Number => "its number",
        Field::Code => "its code",
        Field::Floor => "its floor",
        Field::Unit => "its building or unit",
        Field::Order => "its place in the walking order",
        Field::Cables => "which cables it gets",
        Field::Kind => "its type",
        Field::Purpose => "what it is for",
        Field::Spot => "where exactly it is",
        Field::WallBox => "its box",
        Field::Standing => "whether it is still wanted",
        Field::Leaves => "where its far end goes",
        Field::Medium => "what it is made of",
        Field::Jacket => "the jacket that it shares",
        Field::Repull => "which pull lies there now",
        Field::Outcome => "how the pull went",
        Field::DrawnFrom => "the box that it was drawn from",
        Field::Planned => "where it belongs",
        Field::Split => "into how many legs it is split",
        Field::Space => "its telecom space",
        Field::Room => "the room that it stands in",
        Field::Make => "what its positions are",
        Field::Rack => "the rack that it is in",
        Field::Letters => "its letters",
        Field::RackUnit => "its height in the rack",
        Field::Kept => "what it is kept for",
        Field::Patched => "what it is patched to",
        Field::Model => "its model",
        Field::Serial => "its serial number",
        Field::Found => "where it was found",
        Field::Joined => "which cable it is",
        Field::Sheet => "the sheet of the plans that shows it",
        Field::Cover => "whether it may be covered",
        Field::Slack => "the slack behind it",
        Field::Waits => "whether it waits for somebody",
        Field::ChangeOrder => "its change order",
        Field::Shows => "what it shows",
        Field::Note => "the note on it",
        Field::Points => "what is seen where on it",
        Field::From => "where it begins",
        Field::To => "where it ends",
        Field::Size => "its size",
        Field::PullString => "whether a pull string lies in it",
        Field::Lying => "whether it lies there",
        Field::Build => "how it is built",
        Field::Height => "how many rack units it takes",
        Field::Mount => "where it hangs",
    }
}

impl Desk<'_> {
    /// Both sides of a run, for those who look for it.
    pub(super) fn ends_of(&self, cable: crate::domain::ids::CableId) -> String {
        format!(
            "From {} to {}.",
            names::side(self.registry, cable, Side::Near),
            names::side(self.registry, cable, Side::Far)
        )
    }
}
