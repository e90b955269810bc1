//! The cable ends that come out of the wall at one outlet, each with all that is known of it.

use crate::domain::ids::{CableId, OutletId};
use crate::domain::label::Letter;
use crate::domain::length::{FootageMark, Millimetres};
use crate::domain::medium::Medium;
use crate::domain::order::Order;
use crate::domain::place::{End, Place, Placement, RunKind, RunName, Side};
use crate::domain::work::{MarkKind, PullOutcome};
use crate::journal::{Hold, Registry, side_index};
use crate::query::deeds::{in_short, spare_words};
use crate::query::printed::read;
use crate::query::proof::{Proof, proofs};
use crate::query::rack::is_disputed;
use crate::query::run::{Marked, Pulled, Run, Standpoint};
use crate::{names, walk};

/// One end that comes out at an outlet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EndHere {
    /// The end.
    pub end: End,
    /// The code of its run.
    pub code: String,
    /// Whether the code may still change.
    pub hold: Hold,
    /// The jack of the plate that it is meant for: its own letter, unless something else is planned.
    pub jack: Letter,
    /// What it is made of; none when nobody said.
    pub medium: Option<Medium>,
    /// What it is for; empty when nobody said.
    pub purpose: String,
    /// Why it comes out here.
    pub belongs: Belongs,
    /// The kind of run.
    pub kind: RunKind,
    /// The place at the other end in words.
    pub other_place: String,
    /// Whether it bears its code here.
    pub mark: MarkState,
    /// Whether it bears its code at the other end.
    pub other_mark: MarkState,
    /// Whether the copper is proved, or its tag was at least seen here.
    pub proofs: Vec<Proof>,
    /// How far the pull is.
    pub pull: PullState,
    /// What has become of it here.
    pub here: Settled,
    /// Whether people disagree where it is here, or another end claims its jack too.
    pub disputed: bool,
    /// The last length mark at the near end.
    pub near_footage: Option<FootageMark>,
    /// The last length mark at the far end.
    pub far_footage: Option<FootageMark>,
    /// Whether one of the two was hardly read right, and none was read twice alike.
    pub is_doubtful: bool,
    /// Whether they give more than a link of category cable may have, and it is not certified.
    pub is_too_long: bool,
    /// Its length, once both marks are known.
    pub length: Option<Millimetres>,
    /// The other cables in its jacket, by code.
    pub jacket: Vec<String>,
    /// The change order that it came with itself; empty when it came with none, or with its outlet.
    pub order: String,
    /// The box that it was drawn from; none when nobody said.
    pub drawn_from: Option<u16>,
    /// Why it is pulled anew; none when it is not.
    pub repull: Option<String>,
    /// Its old names.
    pub known_as: Vec<String>,
    /// Remarks.
    pub notes: Vec<String>,
}

/// Why an end comes out at an outlet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Belongs {
    /// The outlet is the one that its run feeds.
    Own,
    /// It was meant for another outlet, and came out here.
    Visitor,
    /// It is the start of a local run that goes out to another outlet.
    Out,
}

/// Whether an end bears its code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkState {
    /// Not yet.
    No,
    /// Its tag or mark is gone.
    Lost,
    /// A tag for it is printed, and nobody says that it is on.
    Printed,
    /// It does. Of one that bears a mark and for which a tag was printed since, that.
    Yes(MarkKind),
}

/// How far a pull is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PullState {
    /// Nobody says that it is pulled.
    No,
    /// It lies from end to end.
    Pulled,
    /// It went wrong.
    Trouble(PullOutcome),
}

/// What has become of an end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Settled {
    /// Nothing yet.
    Open,
    /// Terminated at this place.
    Landed(String),
    /// Left coiled on purpose.
    Spare(String),
    /// Out of use.
    Dead(String),
}

/// A cable of an outlet that came out elsewhere.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Away {
    /// The cable.
    pub cable: CableId,
    /// Its code.
    pub code: String,
    /// The outlet where it came out.
    pub at: OutletId,
    /// That outlet in words.
    pub words: String,
}

impl EndHere {
    /// Whether it bears its code here.
    #[must_use]
    pub fn is_marked(&self) -> bool {
        matches!(self.mark, MarkState::Yes(_))
    }

    /// Whether anything on it wants a look.
    #[must_use]
    pub fn wants_a_look(&self) -> bool {
        self.disputed || self.mark == MarkState::Lost || matches!(self.pull, PullState::Trouble(_))
    }
}

/// The ends that come out at an outlet: of the cables that it feeds, of those that came out here
/// instead of elsewhere, and of the local runs that leave here.
#[must_use]
pub fn ends(registry: &Registry, outlet: OutletId) -> Vec<EndHere> {
    let fed = walk::fed(registry, outlet).into_iter();
    let near = |cable| End::whole(cable, Side::Near);
    let mut found: Vec<End> = fed
        .map(near)
        .filter(|end| place_elsewhere(registry, *end, outlet).is_none())
        .collect();
    for letter in Letter::all() {
        let jack = Place::Jack {
            outlet,
            jack: letter,
        };
        let claims = [&registry.index.planned, &registry.index.landed];
        for end in claims.into_iter().flat_map(|claims| claims.get(&jack)) {
            let whole = End { leg: None, ..*end };
            let wanted = registry.cables.get(end.cable);
            let wanted = wanted.is_some_and(walk::is_wanted_cable);
            if wanted && !found.contains(&whole) {
                found.push(whole);
            }
        }
    }
    let out = walk::out_to(registry, outlet).into_iter();
    for end in out.map(|cable| End::whole(cable, Side::Far)) {
        if !found.contains(&end) {
            found.push(end);
        }
    }
    // What leaves here stands last, as the plate and the pen go through its own cables first.
    found.order_by_key(|end| end.side);
    let mut jacks = Jacks::default();
    let jacks: Vec<Letter> = found
        .iter()
        .map(|end| jacks.take(wished_jack(registry, *end, outlet)))
        .collect();
    let both = found.into_iter().zip(jacks);
    both.filter_map(|(end, jack)| {
        let row = registry.cables.get(end.cable)?;
        end_here(registry, end, belongs(row.name.get(), end, outlet), jack)
    })
    .collect()
}

/// The cables of an outlet that came out elsewhere.
#[must_use]
pub fn away(registry: &Registry, outlet: OutletId) -> Vec<Away> {
    let fed = walk::fed(registry, outlet).into_iter();
    fed.filter_map(|cable| {
        let at = place_elsewhere(registry, End::whole(cable, Side::Near), outlet)?;
        Some(Away {
            cable,
            code: names::cable(registry, cable),
            at,
            words: names::outlet(registry, at),
        })
    })
    .collect()
}

/// The other outlet that an end belongs to by what was planned for it.
fn place_elsewhere(registry: &Registry, end: End, outlet: OutletId) -> Option<OutletId> {
    match planned(registry, end)? {
        Place::Jack { outlet: at, .. } if *at != outlet => Some(*at),
        Place::Jack { .. }
        | Place::Position { .. }
        | Place::Device { .. }
        | Place::Joint { .. } => None,
    }
}

fn planned(registry: &Registry, end: End) -> Option<&Place> {
    let cable = registry.cables.get(end.cable)?;
    cable.planned[side_index(end.side)].whole.get()?.as_ref()
}

/// The jack that an end is meant for: where it is landed, else what was planned, else its own
/// letter at the outlet that it feeds.
fn wished_jack(registry: &Registry, end: End, outlet: OutletId) -> Option<Letter> {
    let cable = registry.cables.get(end.cable)?;
    let landed = cable.end(end.cable, end.side);
    let landed = landed.and_then(|record| match record.placement.whole.get()? {
        Placement::Landed { place, .. } => Some(place),
        Placement::Lifted | Placement::Spare { .. } | Placement::Dead { .. } => None,
    });
    let jack_of = |place: &Place| match place {
        Place::Jack { outlet: at, jack } if *at == outlet => Some(*jack),
        Place::Jack { .. }
        | Place::Position { .. }
        | Place::Device { .. }
        | Place::Joint { .. } => None,
    };
    let placed = landed
        .and_then(jack_of)
        .or_else(|| planned(registry, end).and_then(jack_of));
    placed.or_else(|| match (cable.name.get()?, end.side) {
        (RunName::Feeds { outlet: of, letter }, Side::Near) if *of == outlet => Some(*letter),
        (RunName::Feeds { .. } | RunName::Ties { .. }, _) => None,
    })
}

/// The letters of one plate, each given once.
#[derive(Default)]
struct Jacks {
    given: Vec<Letter>,
}

impl Jacks {
    fn take(&mut self, wished: Option<Letter>) -> Letter {
        let free = Letter::all().find(|letter| !self.given.contains(letter));
        let jack = wished
            .or(free)
            .unwrap_or_else(|| Letter::new('A').expect("A is a letter"));
        self.given.push(jack);
        jack
    }
}

fn belongs(name: Option<&RunName>, end: End, outlet: OutletId) -> Belongs {
    match (name, end.side) {
        (Some(RunName::Feeds { outlet: of, .. }), Side::Near) if *of == outlet => Belongs::Own,
        (_, Side::Far) => Belongs::Out,
        (_, Side::Near) => Belongs::Visitor,
    }
}

/// The near end of a cable, wherever it comes out.
#[must_use]
pub fn near_end(registry: &Registry, cable: CableId) -> Option<EndHere> {
    let jack = Jacks::default().take(None);
    end_here(registry, End::whole(cable, Side::Near), Belongs::Own, jack)
}

fn end_here(registry: &Registry, end: End, belongs: Belongs, jack: Letter) -> Option<EndHere> {
    let row = registry.cables.get(end.cable)?;
    let run = Run::new(registry, end.cable, row);
    let code = registry.cable_code(end.cable);
    let footage = |side| {
        let marks = run.end(side).map(|record| &record.footage)?;
        marks.last().copied()
    };
    let (near, far) = (footage(Side::Near), footage(Side::Far));
    Some(EndHere {
        end,
        hold: code.as_ref().map_or(Hold::Follows, |code| code.held),
        code: names::cable(registry, end.cable),
        jack,
        medium: row.medium.get().cloned(),
        purpose: row.purpose.get().cloned().unwrap_or_default(),
        belongs,
        kind: names::run_kind(registry, end.cable),
        other_place: names::side(registry, end.cable, end.side.other()),
        mark: mark_state(registry, &run, end.side),
        other_mark: mark_state(registry, &run, end.side.other()),
        proofs: proofs(registry, end),
        pull: match run.pulled() {
            Pulled::Yes => PullState::Pulled,
            Pulled::No => PullState::No,
            Pulled::Trouble(outcome) => PullState::Trouble(outcome),
        },
        here: settled(registry, &run, end.side),
        disputed: is_disputed(registry, end),
        near_footage: near,
        far_footage: far,
        is_doubtful: run.doubtful_marks().is_some(),
        is_too_long: run.is_too_long(),
        length: near.zip(far).and_then(|(near, far)| near.span(far)),
        jacket: walk::jacket_mates(registry, end.cable)
            .map(|mate| names::cable(registry, mate))
            .collect(),
        order: row.change_order.get().cloned().unwrap_or_default(),
        drawn_from: run
            .copper
            .and_then(|copper| copper.drawn_from.get().copied()),
        repull: row.repull.get().map(|repull| repull.reason.clone()),
        known_as: texts(row.known_as.iter()),
        notes: texts(row.notes.iter()),
    })
}

fn texts<'a>(lines: impl Iterator<Item = crate::journal::Said<'a, String>>) -> Vec<String> {
    lines.map(|line| line.value.clone()).collect()
}

fn mark_state(registry: &Registry, run: &Run<'_>, side: Side) -> MarkState {
    match (run.marked(side), read(registry, &mut run.borne(side)).kind) {
        (Marked::Printed, _) => MarkState::Printed,
        (Marked::Yes, Some(kind)) => MarkState::Yes(kind),
        (Marked::No, _) | (_, None) => {
            let ever = run.end(side).and_then(|record| record.marks.last());
            ever.map_or(MarkState::No, |_| MarkState::Lost)
        }
    }
}

fn settled(registry: &Registry, run: &Run<'_>, side: Side) -> Settled {
    let placement = run
        .end(side)
        .and_then(|record| record.placement.whole.get());
    match (run.standpoint(side), placement) {
        (Standpoint::Open, _) => Settled::Open,
        (_, Some(landed @ Placement::Landed { .. })) => Settled::Landed(in_short(registry, landed)),
        (_, Some(Placement::Spare { kept, reason })) => Settled::Spare(spare_words(kept, reason)),
        (_, Some(Placement::Dead { reason })) => Settled::Dead(reason.clone()),
        // A split end: its legs are settled each for itself.
        (Standpoint::Landed | Standpoint::OutOfUse, _) => Settled::Landed("its legs".to_owned()),
    }
}
