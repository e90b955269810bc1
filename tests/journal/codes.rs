//! Codes that freeze at the first mark, re-pulls, split ends, and indexes that follow.

use bothends::domain::ids::{ActId, PullId, RackId, RoomId, WriterId};
use bothends::domain::label::LegNumber;
use bothends::domain::place::{End, Fitting, Leaves, Place, Placement, RunName, Side};
use bothends::journal::{
    CableFact, EndFact, EndOfPull, Fact, Hold, LooseEndFact, OutletFact, PanelFact, RackFact,
    RoomFact,
};

use super::support::{
    Kitchen, Phone, Picture, at_end, feeds, landed, marked, met, numbered, on_pull, room_code,
    space, taken,
};

fn code(phone: &Phone, kitchen: Kitchen) -> (String, Hold) {
    let journal = met(&[phone]);
    let code = journal.registry().cable_code(kitchen.cable).unwrap();
    let found = journal.registry().index.cables_by_code.get(&code.text);
    assert_eq!(found, &[kitchen.cable]);
    (code.text, code.held)
}

fn recode(phone: &mut Phone, room: RoomId, code: &str) {
    phone.writes([Fact::Room(room, RoomFact::Coded(room_code(code)))]);
}

#[test]
fn a_code_follows_until_the_first_mark_and_is_frozen_from_then_on() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    assert_eq!(code(&phone, kitchen), ("KIT2-C".to_owned(), Hold::Follows));
    recode(&mut phone, kitchen.room, "GAL");
    assert_eq!(code(&phone, kitchen), ("GAL2-C".to_owned(), Hold::Follows));
    phone.writes([numbered(kitchen.outlet, kitchen.room, 4)]);
    assert_eq!(code(&phone, kitchen), ("GAL4-C".to_owned(), Hold::Follows));
    let mark = phone.writes([at_end(kitchen.cable, Side::Near, marked("GAL4-C"))]);
    recode(&mut phone, kitchen.room, "PAN");
    phone.writes([feeds(kitchen.cable, kitchen.outlet, 'D')]);
    assert_eq!(code(&phone, kitchen), ("GAL4-C".to_owned(), Hold::Frozen));
    phone.strikes([mark]);
    assert_eq!(code(&phone, kitchen), ("PAN4-D".to_owned(), Hold::Follows));
}

#[test]
fn a_rename_at_the_same_time_never_changes_a_frozen_text() {
    let mut first = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut first);
    let mut second = Phone::beside(2, &first);
    first.writes([at_end(kitchen.cable, Side::Near, marked("KIT2-C"))]);
    // The other phone's counter is far ahead, and behind, in turn.
    recode(&mut second, kitchen.room, "GAL");
    for _ in 0..5 {
        second.writes([feeds(kitchen.cable, kitchen.outlet, 'E')]);
    }
    let both = met(&[&first, &second]);
    let code = both.registry().cable_code(kitchen.cable).unwrap();
    assert_eq!((code.text.as_str(), code.held), ("KIT2-C", Hold::Frozen));
    let index = &both.registry().index.cables_by_code;
    assert_eq!(index.get(&"KIT2-C".to_owned()), &[kitchen.cable]);
}

#[test]
fn a_pull_anew_keeps_the_code_and_lays_old_marks_and_claims_aside() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    phone.writes([at_end(kitchen.cable, Side::Far, marked("KIT2-C"))]);
    phone.writes([at_end(
        kitchen.cable,
        Side::Far,
        landed(kitchen.position(7)),
    )]);
    let mut draft = phone.journal.draft();
    let pull: PullId = draft.mint();
    let repulled = phone.writes([Fact::Cable(
        kitchen.cable,
        CableFact::Repulled {
            pull,
            reason: "the plumber drilled through it".to_owned(),
            known: None,
        },
    )]);
    let journal = met(&[&phone]);
    let registry = journal.registry();
    let cable = registry.cables.get(kitchen.cable).unwrap();
    assert_eq!(cable.pull(kitchen.cable), pull);
    assert!(cable.end(kitchen.cable, Side::Far).is_none());
    let old = cable.copper(PullId(kitchen.cable.0)).unwrap();
    assert_eq!(old.ends[1].marks.iter().count(), 1);
    let position = Place::rear(kitchen.position(7));
    assert_eq!(registry.index.landed.get(&position), &[]);
    assert_eq!(code(&phone, kitchen), ("KIT2-C".to_owned(), Hold::Frozen));

    // The new copper lands where the old one was, and a mark on it changes nothing of the code.
    phone.writes([on_pull(
        kitchen.cable,
        pull,
        Side::Far,
        landed(kitchen.position(7)),
    )]);
    phone.writes([on_pull(
        kitchen.cable,
        pull,
        Side::Far,
        marked("KIT2-C new"),
    )]);
    assert_eq!(code(&phone, kitchen), ("KIT2-C".to_owned(), Hold::Frozen));
    let journal = met(&[&phone]);
    assert_eq!(journal.registry().index.landed.get(&position).len(), 1);

    // Taken back, the old copper lies there again, on its old position.
    phone.strikes([repulled]);
    let journal = met(&[&phone]);
    let cable = journal.registry().cables.get(kitchen.cable).unwrap();
    let end = cable.end(kitchen.cable, Side::Far).unwrap();
    assert_eq!(end.marks.iter().count(), 1);
    assert_eq!(journal.registry().index.landed.get(&position).len(), 1);
}

#[test]
fn each_leg_of_a_split_end_has_a_place_of_its_own() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let leg = |number| LegNumber::new(number).expect("a leg");
    let at_leg = |number: u8, fact| {
        let end = End {
            leg: Some(leg(number)),
            ..End::whole(kitchen.cable, Side::Far)
        };
        let pull = PullId(kitchen.cable.0);
        Fact::End(EndOfPull { end, pull }, fact)
    };
    phone.writes([at_end(kitchen.cable, Side::Far, EndFact::Split(leg(2)))]);
    phone.writes([at_leg(1, landed(kitchen.position(1)))]);
    phone.writes([at_leg(2, landed(kitchen.position(2)))]);
    let moved = phone.writes([at_leg(2, landed(kitchen.position(3)))]);
    let journal = met(&[&phone]);
    let found = |number| {
        let place = Place::rear(kitchen.position(number));
        let ends = journal.registry().index.landed.get(&place);
        ends.iter().map(|end| end.leg).collect::<Vec<_>>()
    };
    assert_eq!(found(1), [Some(leg(1))]);
    assert_eq!(found(2), []);
    assert_eq!(found(3), [Some(leg(2))]);
    phone.strikes([moved]);
    let journal = met(&[&phone]);
    let cable = journal.registry().cables.get(kitchen.cable).unwrap();
    let end = cable.end(kitchen.cable, Side::Far).unwrap();
    assert_eq!(end.split.get(), Some(&leg(2)));
    let second = end.placement.get(Some(leg(2))).unwrap();
    let place = Place::rear(kitchen.position(2));
    let fitting = Fitting::Direct;
    assert_eq!(second.get(), Some(&Placement::Landed { place, fitting }));
    assert_eq!(end.placement.whole.get(), None);
}

/// The index that was kept act by act, against one that was built in one go.
fn follows(phone: &Phone) {
    let kept = Picture::of(&phone.journal);
    assert_eq!(
        kept.index,
        Picture::of(&taken(&phone.journal.lines())).index
    );
    met(&[phone]);
}

fn adding(thing: impl Into<bothends::domain::ids::ThingId>) -> ActId {
    let thing = thing.into();
    ActId {
        writer: WriterId(thing.origin),
        n: thing.n,
    }
}

#[test]
fn the_index_follows_through_room_outlet_rack_and_jacket() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let far: RackId = phone.adds(|rack| vec![Fact::Rack(rack, RackFact::Added)]);
    let tie = kitchen.further(&mut phone, 'E');
    phone.writes([Fact::Cable(
        tie,
        CableFact::Named(RunName::Ties {
            near: kitchen.rack,
            far,
            number: 1,
        }),
    )]);
    follows(&phone);
    let found = |phone: &Phone, code: &str| {
        let index = &phone.registry().index.cables_by_code;
        index.get(&code.to_owned()).to_vec()
    };
    assert_eq!(found(&phone, "1A/1B-1"), []);
    phone.writes([Fact::Rack(far, RackFact::InSpace(space("B")))]);
    assert_eq!(found(&phone, "1A/1B-1"), [tie]);
    follows(&phone);
    phone.writes([Fact::Rack(kitchen.rack, RackFact::InSpace(space("C")))]);
    assert_eq!(found(&phone, "1A/1B-1"), []);
    assert_eq!(found(&phone, "1C/1B-1"), [tie]);
    let leaves = [Leaves::Rack(Some(kitchen.rack)), Leaves::Rack(None)];
    for leaves in leaves.into_iter().chain([Leaves::Outlet(kitchen.outlet)]) {
        phone.writes([Fact::Cable(kitchen.cable, CableFact::Leaves(leaves))]);
        follows(&phone);
    }
    let index = &phone.registry().index;
    assert_eq!(index.out_to.get(&kitchen.outlet), &[kitchen.cable]);
    assert_eq!(index.runs_to.get(&kitchen.rack), &[tie]);
}

#[test]
fn withdrawn_rooms_outlets_racks_and_panels_give_up_their_codes_until_they_are_back() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let letters = bothends::domain::label::PanelLetters::new("B").expect("letters");
    phone.writes([
        Fact::Panel(kitchen.panel, PanelFact::Lettered(letters)),
        Fact::Rack(kitchen.rack, RackFact::InSpace(space("A"))),
        Fact::Room(kitchen.room, RoomFact::Coded(room_code("KIT"))),
        numbered(kitchen.outlet, kitchen.room, 2),
    ]);
    let counts = |phone: &Phone| {
        let index = &phone.registry().index;
        let code = phone.registry().outlet_code(kitchen.outlet);
        [
            index.panels_by_letters.get(&letters).len(),
            index.racks_by_space.get(&space("A")).len(),
            index.rooms_by_code.get(&room_code("KIT")).len(),
            code.map_or(0, |code| index.outlets_by_code.get(&code).len()),
        ]
    };
    assert_eq!(counts(&phone), [1, 1, 1, 1]);
    let things = [
        kitchen.panel.0,
        kitchen.rack.0,
        kitchen.room.0,
        kitchen.outlet.0,
    ];
    for (at, thing) in things.into_iter().enumerate() {
        let struck = phone.strikes([adding(thing)]);
        follows(&phone);
        assert_eq!(counts(&phone)[at], 0, "{at}");
        phone.strikes([struck]);
        follows(&phone);
        assert_eq!(counts(&phone), [1, 1, 1, 1], "{at}");
    }
}

#[test]
fn a_loose_end_is_joined_and_parted() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    let loose: bothends::domain::ids::LooseEndId =
        phone.adds(|loose| vec![Fact::LooseEnd(loose, LooseEndFact::Added { number: 4 })]);
    let end = End::whole(kitchen.cable, Side::Near);
    phone.writes([Fact::LooseEnd(loose, LooseEndFact::Joined(end))]);
    follows(&phone);
    assert_eq!(phone.registry().index.loose_by_end.get(&end), &[loose]);
    let parted = phone.writes([Fact::LooseEnd(loose, LooseEndFact::Parted)]);
    follows(&phone);
    assert_eq!(phone.registry().index.loose_by_end.get(&end), &[]);
    phone.strikes([parted]);
    follows(&phone);
    assert_eq!(phone.registry().index.loose_by_end.get(&end), &[loose]);
}

#[test]
fn a_fact_about_a_thing_of_another_kind_gives_the_same_in_every_order() {
    // One id added as a room by one phone and as an outlet by another, as two versions of an
    // import might, and spoken of as both.
    let id = bothends::domain::ids::ThingId {
        origin: bothends::domain::ids::Bits80(*b"schedule#1"),
        n: 1,
        index: 0,
    };
    let mut base = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut base);
    let mut first = Phone::beside(2, &base);
    let mut second = Phone::beside(3, &base);
    first.writes([Fact::Room(id.into(), RoomFact::Added)]);
    first.writes([Fact::Room(id.into(), RoomFact::Coded(room_code("HAL")))]);
    first.writes([Fact::Outlet(
        id.into(),
        OutletFact::Noted("by the door".into()),
    )]);
    second.writes([Fact::Outlet(id.into(), OutletFact::Added)]);
    second.writes([numbered(id.into(), kitchen.room, 9)]);
    let both = met(&[&first, &second]);
    let registry = both.registry();
    let outlet = registry.outlets.get(id.into()).unwrap();
    assert_eq!(outlet.notes.iter().count(), 1);
    assert_eq!(registry.index.rooms_by_code.get(&room_code("HAL")).len(), 1);
    // Whoever heard them one after the other sees the same.
    first.hears(&second);
    assert_eq!(Picture::of(&first.journal), Picture::of(&both));
}

#[test]
fn a_fact_about_a_thing_of_its_own_act_that_nothing_adds_gives_the_same_in_every_order() {
    let own = bothends::domain::ids::ThingId::added_by(super::support::act_id(2, 1), 3);
    let naming = super::support::Raw::new(super::support::act_id(2, 1), 1)
        .facts([Fact::Room(own.into(), RoomFact::Named("Hall".into()))])
        .line();
    let adding = super::support::Raw::new(super::support::act_id(3, 1), 2)
        .facts([Fact::Room(own.into(), RoomFact::Added)])
        .line();
    let journal = super::support::merged(&[vec![naming], vec![adding]]);
    let room = journal.registry().rooms.get(own.into()).unwrap();
    assert_eq!(room.name.distinct(), ["Hall"]);
}

#[test]
fn the_index_follows_while_the_outlet_between_room_and_cable_is_withdrawn() {
    let mut phone = Phone::new(1);
    let kitchen = Kitchen::wired_by(&mut phone);
    // The number was said again by an act of its own, so that it outlives the adding.
    phone.writes([numbered(kitchen.outlet, kitchen.room, 4)]);
    let struck = phone.strikes([adding(kitchen.outlet)]);
    follows(&phone);
    recode(&mut phone, kitchen.room, "GAL");
    follows(&phone);
    phone.strikes([struck]);
    recode(&mut phone, kitchen.room, "PAN");
    follows(&phone);
    let struck = phone.strikes([adding(kitchen.room)]);
    phone.writes([numbered(kitchen.outlet, kitchen.room, 5)]);
    follows(&phone);
    phone.strikes([struck]);
    follows(&phone);
    assert_eq!(code(&phone, kitchen).0, "PAN5-C");
}
