//! How one end of a cable stands, with who said so: where it is and belongs, who else claims the
//! place, its marks and length marks.

use super::{Dated, EndState, EndView, OutletOrRack, dated};
use crate::domain::label::LegNumber;
use crate::domain::order::Order;
use crate::domain::place::{End, Leaves, Place, Placement, RunKind, Side};
use crate::journal::{EndRecord, Journal, Mark, Register, Registry};
use crate::names;
use crate::query::deeds::{disagreement, mark_words, placement_words, sayer, who};
use crate::query::rack::{is_disputed, landed_by, planned_place, rivals};
use crate::query::run::{Run, Standpoint, shown_outlet, standpoint};

pub(super) fn end_view(journal: &Journal, run: Run<'_>, side: Side) -> EndView {
    let registry = journal.registry();
    let record = run.end(side);
    let at = names::side(registry, run.id, side);
    let whole = End::whole(run.id, side);
    let planned = planned_place(registry, whole);
    let mut standing = Vec::new();
    let mut state = EndState::Open;
    let mut places = Vec::new();
    let mut say = |leg: Option<LegNumber>, words: &str, who: String| {
        let leg = leg.map_or_else(String::new, |leg| format!("leg {}: ", leg.get()));
        standing.push(Dated {
            words: format!("{leg}{words}"),
            who,
        });
    };
    let mut belongs_somewhere = planned.is_some();
    run.each_part(side, |end, placement| {
        let register = record.and_then(|record| record.placement.get(end.leg));
        let belongs = planned_place(registry, end);
        for said in register.into_iter().flat_map(Register::all) {
            let words = placement_words(registry, said.value);
            let words = words.strip_prefix("is ").unwrap_or(&words);
            let elsewhere = belongs.filter(|at| landed_at(said.value).is_some_and(|is| is != *at));
            let elsewhere = elsewhere.map_or_else(String::new, |at| {
                format!(", but belongs on {}", names::place(registry, at))
            });
            let who = sayer(journal, said.fact);
            say(end.leg, &format!("{words}{elsewhere}"), who);
        }
        let there = placement.and_then(landed_at);
        let open = standpoint(placement) == Standpoint::Open;
        if let (true, Some(belongs)) = (open, belongs) {
            belongs_somewhere = true;
            let belongs = names::place(registry, belongs);
            let words = format!("belongs on {belongs}, not landed yet");
            say(end.leg, &words, String::new());
        } else if end.leg.is_some() && placement.is_none() {
            say(end.leg, "not landed", String::new());
        }
        let claimed = there.or(belongs.filter(|_| open));
        let rivals = claimed.map(|at| (at, rivals(registry, end, at)));
        for (at, other) in rivals
            .iter()
            .flat_map(|(at, ends)| ends.iter().map(move |end| (at, end)))
        {
            let by = landed_by(registry, *other, at);
            let by = by.map_or_else(String::new, |act| who(journal, act));
            let code = names::end_code(registry, *other);
            say(end.leg, &format!("{code} is landed there"), by);
        }
        if is_disputed(registry, end) {
            state = EndState::Disputed;
        } else if let (Some(placement), true) = (placement, state != EndState::Disputed) {
            state = state_of(placement);
        }
        // Where people disagree, no side of it stands there alone.
        places.extend(disagreement(registry, end).or_else(|| Some(short(registry, there?))));
    });
    if places.is_empty() {
        places.push(planned.map_or_else(|| at.clone(), |place| short(registry, place)));
    }
    // A split end is landed once all its legs are settled.
    match (state, run.standpoint(side)) {
        (EndState::Disputed, _) | (_, Standpoint::OutOfUse) => {}
        (_, Standpoint::Open) if belongs_somewhere => state = EndState::Planned,
        (_, Standpoint::Open) => state = EndState::Open,
        (_, Standpoint::Landed) => state = EndState::Landed,
    }
    EndView {
        side,
        outlet_or_rack: outlet_or_rack(run, side),
        at,
        place: places.join(" and "),
        state,
        standing,
        marks: record
            .map(|record| marks(journal, record))
            .unwrap_or_default(),
        footage: footage(journal, record),
        loose: registry.index.loose_by_end.get(&whole).first().copied(),
    }
}

/// Where a placement lands an end.
fn landed_at(placement: &Placement) -> Option<&Place> {
    match placement {
        Placement::Landed { place, .. } => Some(place),
        Placement::Lifted | Placement::Spare { .. } | Placement::Dead { .. } => None,
    }
}

fn outlet_or_rack(run: Run<'_>, side: Side) -> OutletOrRack {
    match (run.kind(), side, run.cable.leaves.get()) {
        (RunKind::TieLine, _, _) | (RunKind::HomeRun, Side::Far, _) => OutletOrRack::Rack,
        (_, Side::Near, _) => OutletOrRack::Outlet(shown_outlet(run.cable)),
        (_, Side::Far, Some(Leaves::Outlet(from))) => OutletOrRack::Outlet(Some(*from)),
        (_, Side::Far, _) => OutletOrRack::Outlet(None),
    }
}

fn state_of(placement: &Placement) -> EndState {
    match placement {
        Placement::Landed { .. } => EndState::Landed,
        Placement::Lifted => EndState::Open,
        Placement::Spare { .. } => EndState::Spare,
        Placement::Dead { .. } => EndState::Dead,
    }
}

fn short(registry: &Registry, place: &Place) -> String {
    match place {
        Place::Jack { outlet, jack } => format!("{} {jack}", names::outlet(registry, *outlet)),
        Place::Position { position, .. } => names::position(registry, *position),
        Place::Device { .. } | Place::Joint { .. } => names::place(registry, place),
    }
}

fn marks(journal: &Journal, record: &EndRecord) -> Vec<Dated> {
    let marked = record.marks.iter().map(|said| {
        let words = |mark: &Mark| format!("{} as {}", mark_words(mark.kind), mark.text);
        (said.stamp, dated(journal, said, words))
    });
    let lost = record
        .lost
        .iter()
        .map(|said| (said.stamp, dated(journal, said, |()| "tag lost".to_owned())));
    let seen = record.seen.iter().map(|said| {
        (
            said.stamp,
            dated(journal, said, |at| format!("seen at {at}")),
        )
    });
    let mut all: Vec<_> = marked.chain(lost).chain(seen).collect();
    all.order_by_key(|(stamp, _)| std::cmp::Reverse(*stamp));
    all.into_iter().map(|(_, line)| line).collect()
}

fn footage(journal: &Journal, record: Option<&EndRecord>) -> Vec<Dated> {
    let lines = record
        .into_iter()
        .flat_map(|record| record.footage.iter().rev());
    lines
        .map(|said| dated(journal, said, ToString::to_string))
        .collect()
}
