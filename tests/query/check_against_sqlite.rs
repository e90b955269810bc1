//! The punch list against `SQLite`: the same questions, asked of flat tables that a generator fills
//! without the registry, must have the same answers.
//!
//! Outside reference: `SQLite`, as bundled with `rusqlite`.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use bothends::domain::ids::{ThingId, WriterId};
use bothends::domain::mount::Mountable;
use bothends::domain::place::{End, Place};
use bothends::domain::work::PullOutcome;
use bothends::journal::Journal;
use bothends::query::{Finding, RoomTally, Tally, Thing, What, check, tally};

use super::flat::Ids;
use super::generator::{Generated, JOB, generate};
use super::reference::{Reference, Rows};
use crate::support::seeds::seeds;

/// The jobs that the gate looks at.
const SEEDS: std::ops::Range<u64> = 0..180;
/// How often each kind must have occurred, so that no question goes unasked.
const LEAST: usize = 50;

fn joined<T>(things: impl IntoIterator<Item = T>, text: impl FnMut(T) -> String) -> String {
    things.into_iter().map(text).collect::<Vec<_>>().join(",")
}

/// Ids as numbers in order.
fn numbers<I: Into<ThingId> + Copy>(ids: &mut Ids, things: &[I]) -> String {
    let mut numbers: Vec<i64> = things.iter().map(|thing| ids.of(*thing)).collect();
    numbers.sort_unstable();
    joined(numbers, |number| number.to_string())
}

fn ends(ids: &mut Ids, ends: &[End]) -> String {
    let mut texts: Vec<String> = ends.iter().map(|end| ids.end(*end)).collect();
    texts.sort_unstable();
    texts.join(",")
}

fn claim(ids: &mut Ids, place: &Place, claimants: &[End]) -> String {
    format!("{} : {}", ids.place(place), ends(ids, claimants))
}

fn thing(ids: &mut Ids, thing: Thing) -> String {
    let (kind, id): (_, ThingId) = match thing {
        Thing::Job => return "job 0".to_owned(),
        Thing::End(end) => return format!("end {}", ids.end(end)),
        Thing::Position(position) => return format!("position {}", ids.position(position)),
        Thing::Unit(id) => ("unit", id.into()),
        Thing::Floor(id) => ("floor", id.into()),
        Thing::Room(id) => ("room", id.into()),
        Thing::OutletType(id) => ("type", id.into()),
        Thing::Outlet(id) => ("outlet", id.into()),
        Thing::Cable(id) => ("cable", id.into()),
        Thing::Rack(id) => ("rack", id.into()),
        Thing::Panel(id) => ("panel", id.into()),
        Thing::Device(id) => ("device", id.into()),
        Thing::Joint(id) => ("joint", id.into()),
        Thing::LooseEnd(id) => ("loose", id.into()),
        Thing::Picture(id) => ("picture", id.into()),
        Thing::Box(number) => return format!("box {number}"),
        Thing::Passage(cable, conduit) => {
            return format!("passage {} {}", ids.of(cable), ids.of(conduit));
        }
        Thing::Conduit(id) => ("conduit", id.into()),
        Thing::Block(id) => ("block", id.into()),
    };
    format!("{kind} {}", ids.of(id))
}

fn mountable(ids: &mut Ids, what: Mountable) -> String {
    let kind = ["panel", "device", "block"][hung(ids, what).0];
    format!("{kind} {}", ids.of(what.thing()))
}

/// Panels, devices and the rest, each by the numbers that SQL knows.
fn hung(ids: &mut Ids, what: Mountable) -> (usize, i64) {
    let kind = match what {
        Mountable::Panel(_) => 0,
        Mountable::Device(_) => 1,
        Mountable::Block(_) => 2,
    };
    (kind, ids.of(what.thing()))
}

/// The kind of a finding and what it names, as SQL writes them.
fn written(ids: &mut Ids, what: &What) -> String {
    let kind = format!("{what:?}");
    let kind = kind.split(' ').next().expect("a name").to_owned();
    let args = match what {
        What::DoubleClaim { place, ends } | What::PlannedTwice { place, ends } => {
            claim(ids, place, ends)
        }
        What::PatchedTwice { place, from, ends } => {
            let mut from: Vec<_> = from.iter().map(|at| ids.position(*at)).collect();
            from.sort_unstable();
            let mut ends: Vec<_> = ends.iter().map(|end| ids.end(*end)).collect();
            ends.sort_unstable();
            let place = ids.place(place);
            format!("{place} : {} : {}", from.join(","), ends.join(","))
        }
        What::EndAtTwoPlaces { end, places } => {
            let mut places: Vec<_> = places.iter().map(|place| ids.place(place)).collect();
            places.sort_unstable();
            format!("{} : {}", ids.end(*end), places.join(","))
        }
        What::CodeTwice { cables } => numbers(ids, cables),
        What::OutletCodeTwice { outlets } => numbers(ids, outlets),
        What::RoomCodeTwice { rooms } => numbers(ids, rooms),
        What::PanelLettersTwice { panels } => numbers(ids, panels),
        What::SpaceTwice { racks } => numbers(ids, racks),
        What::UnitsShared { rack, face, things } => {
            let mut in_order = things.clone();
            in_order.sort_by_key(|what| hung(ids, *what));
            let things = joined(in_order, |what| mountable(ids, what));
            format!("{} {face:?} : {things}", ids.of(*rack))
        }
        What::OutsideRack { rack, thing } => {
            format!("{} {}", ids.of(*rack), mountable(ids, *thing))
        }
        What::JoinedTwice { end, loose } => {
            format!("{} : {}", ids.end(*end), numbers(ids, loose))
        }
        What::Disputed { thing: of, field } => format!("{} {field:?}", thing(ids, *of)),
        What::NoSuchPosition { end, position }
        | What::LandedOnBad { end, position }
        | What::LandedOnReserved { end, position }
        | What::Misfit { end, position } => {
            format!("{} {}", ids.end(*end), ids.position(*position))
        }
        What::PullTrouble { cable, outcome } => {
            let outcome = match outcome {
                PullOutcome::Pulled => "pulled",
                PullOutcome::Short => "short",
                PullOutcome::Stuck => "stuck",
                PullOutcome::Damaged => "damaged",
            };
            format!("{} {outcome}", ids.of(*cable))
        }
        What::MarksDiffer { cable }
        | What::CodeMoved { cable }
        | What::WorkOnWithdrawn { cable }
        | What::WorkOnCancelled { cable }
        | What::WorkAstray { cable }
        | What::MarksDoubtful { cable }
        | What::TestFailed { cable }
        | What::CableWithoutCode { cable }
        | What::CableWithoutMedium { cable }
        | What::NoRackChosen { cable }
        | What::LocalRunOpen { cable }
        | What::OutletGone { cable }
        | What::NotPulled { cable }
        | What::TooLong { cable }
        | What::NotVerified { cable } => ids.of(*cable).to_string(),
        What::OutletWithoutCables { outlet } | What::OutletWithoutRoom { outlet } => {
            ids.of(*outlet).to_string()
        }
        What::RoomWithoutCode { room } => ids.of(*room).to_string(),
        What::LooseNumberTwice { loose } => numbers(ids, loose),
        What::ConduitNumberTwice { conduits } => numbers(ids, conduits),
        What::LooseEndOpen { loose } => ids.of(*loose).to_string(),
        What::EndDisputed { end }
        | What::NotMarked { end }
        | What::NotLanded { end }
        | What::SpareWithoutReason { end }
        | What::DeadWithoutReason { end } => ids.end(*end),
    };
    format!("{kind}|{args}")
}

fn line(ids: &mut Ids, finding: &Finding) -> String {
    let outlet = finding.outlet.map(|outlet| ids.of(outlet));
    let outlet = outlet.map_or("-".to_owned(), |outlet| outlet.to_string());
    let gate = finding.gate as u8;
    format!("{gate}|{outlet}|{}", written(ids, &finding.what))
}

fn tally_line(ids: &mut Ids, row: &RoomTally) -> String {
    let room = row.room.map(|room| ids.of(room).to_string());
    counts(&room.unwrap_or("-".to_owned()), row.tally)
}

fn sum(one: Tally, other: Tally) -> Tally {
    Tally {
        cables: one.cables + other.cables,
        pulled: one.pulled + other.pulled,
        marked: one.marked + other.marked,
        wall_settled: one.wall_settled + other.wall_settled,
        rack_settled: one.rack_settled + other.rack_settled,
        tested: one.tested + other.tested,
    }
}

fn counts(of: &str, t: Tally) -> String {
    format!(
        "{of} {} {} {} {} {} {}",
        t.cables, t.pulled, t.marked, t.wall_settled, t.rack_settled, t.tested
    )
}

fn assert_same(seed: u64, ours: &BTreeSet<String>, theirs: &BTreeSet<String>) {
    let extra: Vec<_> = ours.difference(theirs).take(10).collect();
    let missing: Vec<_> = theirs.difference(ours).take(10).collect();
    assert!(
        extra.is_empty() && missing.is_empty(),
        "seed {seed}: only the registry says {extra:#?}, only SQLite says {missing:#?}"
    );
}

/// The findings stand by gate, and within a gate in the walking order that `SQLite` tells.
fn assert_walking_order(seed: u64, ids: &mut Ids, findings: &[Finding], reference: &Reference) {
    let walk: HashMap<i64, i64> = reference.walk().into_iter().collect();
    let places: Vec<_> = findings
        .iter()
        .map(|finding| {
            let place = |outlet| walk.get(&ids.of(outlet)).copied().unwrap_or(i64::MAX);
            (finding.gate, finding.outlet.map(place))
        })
        .collect();
    assert!(places.is_sorted(), "seed {seed}: {places:?}");
}

/// Compares one job and counts its findings by kind, and disagreements by what they are about.
fn compare(seed: u64, occurred: &mut BTreeMap<String, usize>) {
    let Generated {
        lines,
        live,
        by,
        former,
        placed,
        mut ids,
    } = generate(seed);
    let reader = WriterId(bothends::domain::ids::Bits80([1; 10]));
    let mut journal = Journal::new(JOB, reader);
    journal.take(lines.iter().map(String::as_str));
    assert_eq!(journal.len(), lines.len(), "every act counts");
    let findings = check(journal.registry());
    let reference = Reference::fill(&Rows::of(
        &mut ids,
        by.into_iter().zip(&live),
        &former,
        &placed,
    ));
    reference.index();
    reference.ask();
    reference.count();
    let ours: Vec<String> = findings.iter().map(|found| line(&mut ids, found)).collect();
    for (text, finding) in ours.iter().zip(&findings) {
        let kind = text.split('|').nth(2).expect("a kind").to_owned();
        *occurred.entry(kind).or_default() += 1;
        if let What::Disputed { thing, field } = finding.what {
            let thing = format!("{thing:?}");
            let thing = thing.split('(').next().expect("a name");
            *occurred.entry(format!("{thing}.{field:?}")).or_default() += 1;
        }
    }
    let said = ours.len();
    let ours: BTreeSet<String> = ours.into_iter().collect();
    assert_eq!(ours.len(), said, "seed {seed}: nothing is said twice");
    assert_same(seed, &ours, &reference.findings());
    assert_walking_order(seed, &mut ids, &findings, &reference);
    let tallies = tally(journal.registry());
    let rooms = tallies.rooms.iter().map(|row| tally_line(&mut ids, row));
    let mut lines: BTreeSet<String> = rooms.collect();
    let orders = tallies.orders.iter();
    lines.extend(orders.map(|row| counts(&format!("order {}", row.order), row.tally)));
    let orders = tallies.orders.iter().map(|row| row.tally);
    assert_eq!(
        orders.fold(Tally::default(), sum),
        tallies.whole,
        "seed {seed}"
    );
    for (of, tally) in [("whole", tallies.whole), ("walls", tallies.walls)] {
        // SQLite has no row where there is nothing to count.
        if tally.cables > 0 {
            lines.insert(counts(of, tally));
        }
    }
    assert_same(seed, &lines, &reference.tallies());
}

/// Every kind of finding.
const KINDS: &[&str] = &[
    "DoubleClaim",
    "PatchedTwice",
    "EndAtTwoPlaces",
    "EndDisputed",
    "CodeTwice",
    "OutletCodeTwice",
    "RoomCodeTwice",
    "PanelLettersTwice",
    "SpaceTwice",
    "UnitsShared",
    "OutsideRack",
    "JoinedTwice",
    "LooseNumberTwice",
    "ConduitNumberTwice",
    "Disputed",
    "MarksDiffer",
    "CodeMoved",
    "WorkOnWithdrawn",
    "WorkOnCancelled",
    "WorkAstray",
    "NoSuchPosition",
    "LandedOnBad",
    "LandedOnReserved",
    "Misfit",
    "PullTrouble",
    "MarksDoubtful",
    "TestFailed",
    "CableWithoutCode",
    "CableWithoutMedium",
    "NoRackChosen",
    "OutletWithoutCables",
    "OutletWithoutRoom",
    "RoomWithoutCode",
    "PlannedTwice",
    "LocalRunOpen",
    "OutletGone",
    "NotPulled",
    "TooLong",
    "NotMarked",
    "LooseEndOpen",
    "NotLanded",
    "NotVerified",
    "SpareWithoutReason",
    "DeadWithoutReason",
];

/// Every field that people may disagree about.
const FIELDS: &[&str] = &[
    "Job.Name",
    "Job.Pinout",
    "Job.TagAddress",
    "Unit.Name",
    "Floor.Name",
    "Floor.Number",
    "Floor.Sheet",
    "Room.Name",
    "Room.Code",
    "Room.Floor",
    "Room.Unit",
    "Room.Order",
    "Room.Cover",
    "OutletType.Name",
    "OutletType.Cables",
    "Outlet.Number",
    "Outlet.Kind",
    "Outlet.Purpose",
    "Outlet.Spot",
    "Outlet.WallBox",
    "Outlet.Standing",
    "Outlet.Slack",
    "Outlet.Waits",
    "Outlet.ChangeOrder",
    "Cable.Name",
    "Cable.Leaves",
    "Cable.Medium",
    "Cable.Purpose",
    "Cable.Jacket",
    "Cable.Standing",
    "Cable.Repull",
    "Cable.ChangeOrder",
    "Cable.Outcome",
    "Cable.DrawnFrom",
    "End.Planned",
    "End.Split",
    "Rack.Space",
    "Rack.Name",
    "Rack.Room",
    "Rack.Build",
    "Panel.Make",
    "Panel.Rack",
    "Panel.Letters",
    "Panel.RackUnit",
    "Panel.Height",
    "Panel.Purpose",
    "Position.Kept",
    "Position.Patched",
    "Device.Model",
    "Device.Name",
    "Device.Room",
    "Device.Serial",
    "Device.Mount",
    "Block.Kind",
    "Block.Name",
    "Block.Mount",
    "Block.Standing",
    "Joint.Kind",
    "Joint.Name",
    "Joint.Room",
    "LooseEnd.Number",
    "LooseEnd.Found",
    "LooseEnd.Joined",
    "Picture.Shows",
    "Picture.Note",
    "Picture.Points",
    "Picture.Standing",
    "Box.Medium",
    "Conduit.Number",
    "Conduit.From",
    "Conduit.To",
    "Conduit.Size",
    "Conduit.PullString",
    "Conduit.Note",
    "Conduit.Standing",
    "Passage.Lying",
];

#[test]
fn sqlite_finds_the_same() {
    let mut occurred = BTreeMap::new();
    let seeds = seeds(SEEDS);
    for seed in seeds.clone() {
        compare(seed, &mut occurred);
    }
    if seeds != SEEDS {
        return;
    }
    let times = |kind: &str| occurred.get(kind).copied().unwrap_or_default();
    let rare: Vec<_> = KINDS
        .iter()
        .map(|kind| (*kind, LEAST))
        .chain(FIELDS.iter().map(|field| (*field, 5)))
        .map(|(kind, least)| (kind, times(kind), least))
        .filter(|(_, times, least)| times < least)
        .collect();
    assert!(rare.is_empty(), "too rare to prove anything: {rare:#?}");
    // A kind that was added without a word here would not be counted.
    let known = KINDS.len() + FIELDS.len();
    assert_eq!(occurred.len(), known, "{:?}", occurred.keys());
}
