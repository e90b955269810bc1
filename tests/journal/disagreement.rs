//! Live values: what replaces what, when two people disagree, and what only adds.

use bothends::domain::ids::{Bits80, CableId, PullId, ThingId};
use bothends::domain::length::{FootageMark, LengthUnit};
use bothends::domain::medium::Medium;
use bothends::domain::place::{Face, Leaves, Place, Side};
use bothends::domain::work::{Availability, PullOutcome, Standing, WallBox};
use bothends::journal::{
    CableFact, EndFact, Fact, JobFact, OutletFact, PanelFact, PullFact, PullRef, RackFact,
    Registry, RoomFact,
};

use super::support::{
    Kitchen, Phone, Picture, at_end, feeds, job, landed, met, numbered, room_code, space, taken,
};

/// A single-valued field: two facts that set it, and how many different values it holds.
type Field = (
    &'static str,
    fn(Kitchen) -> [Fact; 2],
    fn(&Registry, Kitchen) -> usize,
);

const FIELDS: &[Field] = &[
    (
        "job name",
        |_| ["Marrowby Mill", "Mill"].map(|name| Fact::Job(JobFact::Named(name.to_owned()))),
        |registry, _| registry.job.name.distinct().len(),
    ),
    (
        "room name",
        |k| ["Kitchen", "Galley"].map(|name| Fact::Room(k.room, RoomFact::Named(name.to_owned()))),
        |registry, k| registry.rooms.get(k.room).unwrap().name.distinct().len(),
    ),
    (
        "room code",
        |k| ["KIT", "GAL"].map(|code| Fact::Room(k.room, RoomFact::Coded(room_code(code)))),
        |registry, k| registry.rooms.get(k.room).unwrap().code.distinct().len(),
    ),
    (
        "outlet number",
        |k| [2, 3].map(|number| numbered(k.outlet, k.room, number)),
        |registry, k| {
            let outlet = registry.outlets.get(k.outlet).unwrap();
            outlet.number.distinct().len()
        },
    ),
    (
        "outlet box",
        |k| {
            [WallBox::Ring, WallBox::Gangs(2)]
                .map(|found| Fact::Outlet(k.outlet, OutletFact::Boxed(found)))
        },
        |registry, k| {
            let outlet = registry.outlets.get(k.outlet).unwrap();
            outlet.wall_box.distinct().len()
        },
    ),
    (
        "cable name",
        |k| ['C', 'D'].map(|code| feeds(k.cable, k.outlet, code)),
        |registry, k| registry.cables.get(k.cable).unwrap().name.distinct().len(),
    ),
    (
        "cable medium",
        |k| {
            [Medium::speaker(16, 4), Medium::control(22, 4)]
                .map(|medium| Fact::Cable(k.cable, CableFact::MadeOf(medium)))
        },
        |registry, k| {
            let cable = registry.cables.get(k.cable).unwrap();
            cable.medium.distinct().len()
        },
    ),
    (
        "where a cable goes",
        |k| {
            [Leaves::Rack(Some(k.rack)), Leaves::Outlet(k.outlet)]
                .map(|leaves| Fact::Cable(k.cable, CableFact::Leaves(leaves)))
        },
        |registry, k| {
            let cable = registry.cables.get(k.cable).unwrap();
            cable.leaves.distinct().len()
        },
    ),
    (
        "whether a cable is wanted",
        |k| {
            let reason = "no television here".to_owned();
            [Standing::Wanted, Standing::Cancelled { reason }]
                .map(|standing| Fact::Cable(k.cable, CableFact::Stands(standing)))
        },
        |registry, k| {
            let cable = registry.cables.get(k.cable).unwrap();
            cable.standing.distinct().len()
        },
    ),
    (
        "outcome of a pull",
        |k| {
            let pull = PullRef {
                cable: k.cable,
                pull: PullId(k.cable.0),
            };
            [PullOutcome::Pulled, PullOutcome::Short]
                .map(|outcome| Fact::Pull(pull, PullFact::Reported(outcome)))
        },
        |registry, k| {
            let cable = registry.cables.get(k.cable).unwrap();
            let copper = cable.copper(PullId(k.cable.0)).unwrap();
            copper.outcome.distinct().len()
        },
    ),
    (
        "placement of an end",
        |k| [1, 2].map(|number| at_end(k.cable, Side::Far, landed(k.position(number)))),
        |registry, k| {
            let cable = registry.cables.get(k.cable).unwrap();
            let end = cable.end(k.cable, Side::Far).unwrap();
            end.placement.whole.distinct().len()
        },
    ),
    (
        "where an end belongs",
        |k| {
            [Some(Place::rear(k.position(7))), None]
                .map(|place| at_end(k.cable, Side::Far, EndFact::Planned(place)))
        },
        |registry, k| {
            let cable = registry.cables.get(k.cable).unwrap();
            cable.planned[1].whole.distinct().len()
        },
    ),
    (
        "space of a rack",
        |k| ["A", "B"].map(|letters| Fact::Rack(k.rack, RackFact::InSpace(space(letters)))),
        |registry, k| registry.racks.get(k.rack).unwrap().space.distinct().len(),
    ),
    (
        "rack unit of a panel",
        |k| [Some(12), None].map(|unit| Fact::Panel(k.panel, PanelFact::AtUnit(unit))),
        |registry, k| registry.panels.get(k.panel).unwrap().unit.distinct().len(),
    ),
    (
        "what a position is kept for",
        |k| {
            let reason = "alarm".to_owned();
            [Availability::Open, Availability::Reserved { reason }]
                .map(|kept| Fact::PositionKept(k.position(7), kept))
        },
        |registry, k| {
            let panel = registry.panels.get(k.panel).unwrap();
            panel
                .kept
                .get(&k.position(7).number)
                .unwrap()
                .distinct()
                .len()
        },
    ),
];

#[test]
fn two_who_do_not_know_of_each_other_disagree_and_both_are_kept() {
    for (name, facts, count) in FIELDS {
        let mut first = Phone::new(1);
        let kitchen = Kitchen::wired_by(&mut first);
        let mut second = Phone::beside(2, &first);
        let [one, other] = facts(kitchen);
        first.writes([one]);
        second.writes([other]);
        let both = met(&[&first, &second]);
        assert_eq!(count(both.registry(), kitchen), 2, "{name}");

        // Whoever has seen both settles it for everybody, with either value.
        let mut third = Phone::beside(3, &first);
        third.hears(&second);
        let [one, _] = facts(kitchen);
        third.writes([one]);
        let settled = met(&[&first, &second, &third]);
        assert_eq!(count(settled.registry(), kitchen), 1, "{name} settled");
    }
}

#[test]
fn a_later_value_replaces_the_one_that_it_knew() {
    for (name, facts, count) in FIELDS {
        let mut phone = Phone::new(1);
        let kitchen = Kitchen::wired_by(&mut phone);
        for fact in facts(kitchen) {
            phone.writes([fact]);
            assert_eq!(count(phone.registry(), kitchen), 1, "{name}");
        }
        let alone = met(&[&phone]);
        assert_eq!(count(alone.registry(), kitchen), 1, "{name} taken in");
    }
}

#[test]
fn the_same_value_said_twice_is_no_disagreement() {
    for (name, facts, count) in FIELDS {
        let mut first = Phone::new(1);
        let kitchen = Kitchen::wired_by(&mut first);
        let mut second = Phone::beside(2, &first);
        first.writes([facts(kitchen)[0].clone()]);
        second.writes([facts(kitchen)[0].clone()]);
        let both = met(&[&first, &second]);
        assert_eq!(count(both.registry(), kitchen), 1, "{name}");
    }
}

#[test]
fn notes_marks_tests_and_footage_only_add() {
    let mut first = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut first);
    let mut second = Phone::beside(2, &first);
    let footage = |value| {
        let unit = LengthUnit::Feet;
        EndFact::Footage(FootageMark { value, unit })
    };
    for (phone, value) in [(&mut first, 812), (&mut second, 813)] {
        phone.writes([at_end(kitchen.cable, Side::Near, footage(value))]);
        let note = CableFact::Noted(format!("read {value}"));
        phone.writes([Fact::Cable(kitchen.cable, note)]);
    }
    first.writes([at_end(kitchen.cable, Side::Near, footage(700))]);
    let both = met(&[&first, &second]);
    let cable = both.registry().cables.get(kitchen.cable).unwrap();
    let end = cable.end(kitchen.cable, Side::Near).unwrap();
    let mut read: Vec<u32> = end.footage.iter().map(|said| said.value.value).collect();
    read.sort_unstable();
    assert_eq!(read, [700, 812, 813]);
    assert_eq!(cable.notes.iter().count(), 2);
}

#[test]
fn two_ends_on_one_position_are_found_together() {
    let mut first = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut first);
    let other = kitchen.further(&mut first, 'D');
    let mut second = Phone::beside(2, &first);
    let position = kitchen.position(7);
    first.writes([at_end(kitchen.cable, Side::Far, landed(position))]);
    second.writes([at_end(other, Side::Far, landed(position))]);
    let both = met(&[&first, &second]);
    let ends = both.registry().index.landed.get(&Place::rear(position));
    let mut cables: Vec<CableId> = ends.iter().map(|end| end.cable).collect();
    cables.sort_unstable();
    let mut expected = [kitchen.cable, other];
    expected.sort_unstable();
    assert_eq!(cables, expected);
    let front = Place::Position {
        position,
        face: Face::Front,
    };
    assert_eq!(both.registry().index.landed.get(&front), &[]);
}

#[test]
fn clocks_decide_nothing() {
    // The same acts with sober clocks, and with one phone in 1970 and the other past the year 9999.
    let story = |walls: [u64; 2]| {
        let mut first = Phone::new(1);
        let kitchen = Kitchen::wired_by(&mut first);
        let mut second = Phone::beside(2, &first);
        first.wall = walls[0];
        second.wall = walls[1];
        first.writes([numbered(kitchen.outlet, kitchen.room, 4)]);
        second.writes([numbered(kitchen.outlet, kitchen.room, 5)]);
        second.hears(&first);
        first.writes([Fact::Room(kitchen.room, RoomFact::Named("Galley".into()))]);
        second.writes([Fact::Room(kitchen.room, RoomFact::Named("Larder".into()))]);
        let mut picture = Picture::of(&met(&[&first, &second]));
        // The lines carry the clocks as plain data, in places that do not depend on them.
        picture.lines = picture
            .lines
            .iter()
            .map(|line| without_wall(line))
            .collect();
        picture
    };
    let sober = story([1_700_000_000_000, 1_700_000_100_000]);
    assert_eq!(sober, story([0, 1 << 52]));
    assert_eq!(sober, story([1 << 52, 0]));
}

fn without_wall(line: &str) -> String {
    let mut value: serde_json::Value = serde_json::from_str(line).expect("a line of ours");
    value["wall"] = 0.into();
    value.to_string()
}

#[test]
fn one_schedule_imported_on_two_phones_is_one_set_of_things() {
    let row = |n| ThingId {
        origin: Bits80(*b"schedule#1"),
        n,
        index: 0,
    };
    let mut first = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut first);
    let mut second = Phone::beside(2, &first);
    let import = |phone: &mut Phone| {
        let rows = [(1, 'D'), (2, 'E')].into_iter().flat_map(|(n, code)| {
            let cable = CableId(row(n));
            [
                Fact::Cable(cable, CableFact::Added),
                feeds(cable, kitchen.outlet, code),
            ]
        });
        let rows: Vec<Fact> = rows.collect();
        phone.writes(rows)
    };
    let before = first.registry().cables.len();
    import(&mut first);
    let imported = import(&mut second);
    let both = met(&[&first, &second]);
    let registry = both.registry();
    assert_eq!(registry.cables.len(), before + 2);
    let found = registry.index.cables_by_code.get(&"KIT2-D".to_owned());
    assert_eq!(found, &[CableId(row(1))]);
    assert!(
        !registry
            .cables
            .get(CableId(row(1)))
            .unwrap()
            .name
            .disputed()
    );
    assert_eq!(both.health().waiting, []);

    // Taking one of the two imports back leaves the other's cables where they are.
    first.hears(&second);
    first.strikes([imported]);
    let left = met(&[&first, &second]);
    let cable = left.registry().cables.get(CableId(row(1))).unwrap();
    assert!(!cable.added.is_empty());
    assert_eq!(cable.name.distinct().len(), 1);
}

#[test]
fn an_import_twice_on_one_phone_adds_nothing() {
    let cable = CableId(ThingId {
        origin: Bits80(*b"schedule#1"),
        n: 1,
        index: 0,
    });
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    for _ in 0..2 {
        phone.writes([
            Fact::Cable(cable, CableFact::Added),
            feeds(cable, kitchen.outlet, 'D'),
        ]);
    }
    let journal = met(&[&phone]);
    assert_eq!(journal.registry().cables.len(), 2);
    let row = journal.registry().cables.get(cable).unwrap();
    assert_eq!(row.name.all().count(), 1);
}

#[test]
fn an_empty_job_is_empty() {
    let journal = taken::<&str>(&[]);
    assert_eq!(journal.job(), job());
    assert!(journal.is_empty());
    assert_eq!(journal.lines(), Vec::<&str>::new());
    assert_eq!(journal.health(), bothends::journal::Health::default());
}
