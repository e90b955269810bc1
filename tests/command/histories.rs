//! Random histories of up to five phones that do what people want, meet now and then, and in the end
//! tell each other everything: whatever is claimed twice then is on the punch list. What is claimed
//! twice is found here from the rows alone, pair by pair, without any index.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use bothends::command::Want;
use bothends::domain::ids::{CableId, OutletId, PanelId};
use bothends::domain::label::PanelLetters;
use bothends::domain::medium::{Connector, Sharing};
use bothends::domain::place::{End, Place, Placement, RunName, Side};
use bothends::domain::work::Standing;
use bothends::journal::{Cable, Outlet, PanelMake, PanelSize, Register, Registry};
use bothends::query::{What, check};
use bothends::walk;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::TestCaseResult;

use super::random::{Draw, Step, crowded_mill};
use super::support::Site;
use crate::support::seeds::each_seed;

/// Seeds that failed once.
const KEPT: &str = include_str!("../corpus/seeds/commands.txt");

/// Something that is claimed twice, with who claims it.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Twice {
    /// Two ends on a place that takes one.
    Place(Place, End, End),
    /// One end on two places.
    End(End, Place, Place),
    /// One code on two cables.
    Code(CableId, CableId),
    /// One number of one room, or one code, at two outlets.
    Outlet(OutletId, OutletId),
    /// One letter at two panels.
    Panel(PanelId, PanelId),
}

fn wanted(is_added: bool, standing: &Register<Standing>) -> bool {
    is_added && !standing.is_cancelled()
}

fn takes_one(registry: &Registry, place: &Place) -> bool {
    let Place::Position { position, .. } = place else {
        return true;
    };
    let make = registry
        .panels
        .get(position.panel)
        .and_then(|row| row.make.get());
    make.is_some_and(|make| make.connector.sharing() == Sharing::Single)
}

/// Every pair of an end and a place where it is said to be landed.
fn landed(registry: &Registry) -> Vec<(End, Place)> {
    let mut landed = Vec::new();
    for (cable, row) in registry.cables.iter() {
        // Somebody said that it is not there, knowing of all that was done on it.
        let is_known = !row.foreseen.is_empty() && row.unforeseen().is_empty();
        if row.added.is_empty() && row.standing.is_cancelled() && is_known {
            continue;
        }
        for side in Side::BOTH {
            let Some(record) = row.end(cable, side) else {
                continue;
            };
            let legs = record.placement.legs.iter();
            let legs = legs.map(|(leg, placed)| (Some(*leg), placed));
            for (leg, placed) in legs.chain([(None, &record.placement.whole)]) {
                for placement in placed.distinct() {
                    if let Placement::Landed { place, .. } = placement {
                        landed.push((End { cable, side, leg }, place.clone()));
                    }
                }
            }
        }
    }
    landed.sort();
    landed.dedup();
    landed
}

fn is_marked(row: &Cable) -> bool {
    let mut ends = row.copper.iter().flat_map(|(_, copper)| &copper.ends);
    ends.any(|end| !end.marks.is_empty())
}

/// Every code that a cable has: that of its first mark, else one for each name.
fn codes(registry: &Registry, row: &Cable) -> BTreeSet<String> {
    let ends = row.copper.iter().flat_map(|(_, copper)| &copper.ends);
    let marks = ends.flat_map(|end| end.marks.iter());
    if let Some(first) = marks.min_by_key(|mark| (mark.stamp, mark.fact)) {
        return [first.value.text.clone()].into();
    }
    let mut names: Vec<RunName> = row.name.distinct().into_iter().copied().collect();
    if names.is_empty() && row.added.is_empty() {
        names.extend(row.name.ever().last());
    }
    let codes = names.into_iter().filter_map(|name| match name {
        RunName::Feeds { outlet, letter } => {
            let number = registry.outlets.get(outlet)?.number.get()?;
            let room = registry.rooms.get(number.room)?.code.get()?;
            Some(format!("{room}{}-{letter}", number.number.get()))
        }
        RunName::Ties { near, far, number } => {
            let space = |rack| registry.racks.get(rack)?.space.get();
            Some(format!("{}/{}-{number}", space(near)?, space(far)?))
        }
    });
    codes.collect()
}

/// What is claimed twice, from the rows alone.
fn twice(registry: &Registry) -> BTreeSet<Twice> {
    let mut found = BTreeSet::new();
    let landed = landed(registry);
    for (end, place) in &landed {
        for (other, there) in &landed {
            if end < other && place == there && takes_one(registry, place) {
                found.insert(Twice::Place(place.clone(), *end, *other));
            }
            if end == other && place < there {
                found.insert(Twice::End(*end, place.clone(), there.clone()));
            }
        }
    }
    let cables = registry.cables.iter();
    let cables: Vec<(CableId, bool, BTreeSet<String>)> = cables
        .map(|(id, row)| {
            let is_wanted = wanted(!row.added.is_empty(), &row.standing);
            (id, row, is_wanted)
        })
        // One that is out of the job claims its code where that is written on it.
        .filter(|(_, row, is_wanted)| *is_wanted || is_marked(row))
        .map(|(id, row, is_wanted)| (id, is_wanted, codes(registry, row)))
        .collect();
    for (id, is_wanted, codes) in &cables {
        for (other, too, theirs) in &cables {
            if id < other && (*is_wanted || *too) && !codes.is_disjoint(theirs) {
                found.insert(Twice::Code(*id, *other));
            }
        }
    }
    for (id, row) in registry.outlets.iter() {
        for (other, theirs) in registry.outlets.iter() {
            let both = !row.added.is_empty() && !theirs.added.is_empty();
            let any = wanted(both, &row.standing) || wanted(both, &theirs.standing);
            let claims = |id, row: &Outlet| {
                let feeds = |row: &Cable| {
                    row.name
                        .distinct()
                        .into_iter()
                        .any(|name| matches!(name, RunName::Feeds { outlet, .. } if *outlet == id))
                };
                wanted(both, &row.standing)
                    || !row.tags.is_empty()
                    || registry
                        .cables
                        .iter()
                        .any(|(_, row)| feeds(row) && is_marked(row))
            };
            let any = any && claims(id, row) && claims(other, theirs);
            let code = |room| registry.rooms.get(room).and_then(|room| room.code.get());
            let same = row.number.distinct().into_iter().any(|one| {
                theirs.number.distinct().into_iter().any(|two| {
                    one.number == two.number
                        && code(one.room).is_some()
                        && (one.room == two.room || code(one.room) == code(two.room))
                })
            });
            if id < other && any && same {
                found.insert(Twice::Outlet(id, other));
            }
        }
    }
    for (id, row) in registry.panels.iter() {
        for (other, theirs) in registry.panels.iter() {
            let both = row.make.get().is_some() && theirs.make.get().is_some();
            let theirs = theirs.letters.distinct();
            let same = row
                .letters
                .distinct()
                .into_iter()
                .any(|one| theirs.contains(&one));
            if id < other && both && same {
                found.insert(Twice::Panel(id, other));
            }
        }
    }
    found
}

/// Whether the punch list tells of it.
fn is_told(list: &[What], twice: &Twice) -> bool {
    list.iter().any(|what| match (twice, what) {
        (Twice::Place(at, one, two), What::DoubleClaim { place, ends }) => {
            at == place && ends.contains(one) && ends.contains(two)
        }
        (Twice::End(of, one, two), What::EndAtTwoPlaces { end, places }) => {
            of == end && places.contains(one) && places.contains(two)
        }
        // Whatever was done with a cable whose adding was taken back is one finding.
        (Twice::End(of, ..), What::WorkOnWithdrawn { cable }) => of.cable == *cable,
        (Twice::Code(one, two), What::CodeTwice { cables }) => {
            cables.contains(one) && cables.contains(two)
        }
        (Twice::Outlet(one, two), What::OutletCodeTwice { outlets }) => {
            outlets.contains(one) && outlets.contains(two)
        }
        (Twice::Panel(one, two), What::PanelLettersTwice { panels }) => {
            panels.contains(one) && panels.contains(two)
        }
        _ => false,
    })
}

/// Cables share their code where their outlets share theirs, which is told once, of the outlets.
fn is_told_of_outlets(registry: &Registry, list: &[What], twice: &Twice) -> bool {
    let Twice::Code(one, two) = twice else {
        return false;
    };
    let outlet = |id: &CableId| match registry.cables.get(*id)?.name.get()? {
        RunName::Feeds { outlet, .. } => Some(*outlet),
        RunName::Ties { .. } => None,
    };
    let (Some(one), Some(two)) = (outlet(one), outlet(two)) else {
        return false;
    };
    one != two && is_told(list, &Twice::Outlet(one, two))
}

/// One of the phones, and another one.
fn pair(phones: &mut [Site], one: usize, two: usize) -> Option<(&mut Site, &mut Site)> {
    let (low, high) = (one.min(two), one.max(two));
    let (before, after) = phones.split_at_mut(high);
    Some((before.get_mut(low)?, after.first_mut()?)).filter(|_| low != high)
}

/// A small panel with one of few letters, while there is a rack.
fn add_panel(site: &Site, number: u8) -> Option<Want> {
    let rack = *walk::racks(site.registry()).first()?;
    let letters = ["E", "F", "G"][usize::from(number % 3)];
    Some(Want::AddPanel {
        rack,
        make: PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(4).expect("a size"),
        },
        letters: PanelLetters::new(letters).expect("letters"),
        unit: None,
    })
}

/// The phones after a history: whoever acts, or who meets whom.
fn happened(hours: &[i8], steps: &[Step]) -> Vec<Site> {
    let mut first = crowded_mill();
    let mut phones: Vec<Site> = Vec::new();
    for (number, hours) in (2..).zip(hours) {
        let mut phone = Site::phone(number);
        first.meets(&mut phone);
        phone.clock_is_wrong_by(*hours);
        phones.push(phone);
    }
    phones.push(first);
    let count = phones.len();
    for step in steps {
        let who = usize::from(step[0]) % count;
        let other = usize::from(step[5]) % count;
        if step[0] >= 240 {
            if let Some((one, two)) = pair(&mut phones, who, other) {
                one.meets(two);
            }
            continue;
        }
        let site = &mut phones[who];
        if step[0] >= 230 {
            // Refused where these letters are known to be taken.
            let added = add_panel(site, step[4]).map(|want| site.tries(&want));
            drop(added);
            continue;
        }
        if let Some(want) = (Draw { site, step: *step }).want()
            && let Err(refusal) = site.tries(&want)
            && let Some(way) = refusal.ways_out.first()
        {
            site.does((*way.want).clone());
        }
    }
    phones
}

fn holds(hours: &[i8], steps: &[Step], seen: &Cell<BTreeMap<u8, usize>>) -> TestCaseResult {
    let mut phones = happened(hours, steps);
    let all: BTreeSet<String> = phones
        .iter()
        .flat_map(|phone| phone.journal.lines())
        .map(str::to_owned)
        .collect();
    // Round the ring twice, and everybody knows everything.
    let count = phones.len();
    for at in 0..2 * count {
        if let Some((one, two)) = pair(&mut phones, at % count, (at + 1) % count) {
            one.meets(two);
        }
    }
    for phone in &phones {
        let lines = phone.journal.lines();
        prop_assert_eq!(lines.len(), all.len());
        prop_assert!(lines.iter().all(|line| all.contains(*line)));
        prop_assert_eq!(phone.registry().dump(), phones[0].registry().dump());
    }
    let registry = phones[0].registry();
    let list: Vec<What> = check(registry)
        .into_iter()
        .map(|found| found.what)
        .collect();
    let mut counts = seen.take();
    for twice in twice(registry) {
        let told = is_told(&list, &twice) || is_told_of_outlets(registry, &list, &twice);
        prop_assert!(told, "{:?} is not on the punch list: {:?}", twice, list);
        let kind = match twice {
            Twice::Place(..) => 0,
            Twice::End(..) => 1,
            Twice::Code(..) => 2,
            Twice::Outlet(..) => 3,
            Twice::Panel(..) => 4,
        };
        *counts.entry(kind).or_default() += 1;
    }
    seen.set(counts);
    Ok(())
}

#[test]
fn whatever_is_claimed_twice_after_a_merge_is_on_the_punch_list() {
    let seen = Cell::new(BTreeMap::new());
    let histories = (vec(-72..=72_i8, 1..5), vec(any::<Step>(), 20..120));
    each_seed(KEPT, 150, &histories, |(hours, steps)| {
        holds(&hours, &steps, &seen)
    });
    let seen = seen.take();
    for kind in 0..5 {
        let often = seen.get(&kind).copied().unwrap_or_default();
        assert!(often >= 20, "hardly any of kind {kind}: {seen:?}");
    }
}
