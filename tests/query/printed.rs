//! Which tags hold, from which sheet they are, and why others do not.

use bothends::command::{Want, draft};
use bothends::domain::ids::CableId;
use bothends::domain::label::{OutletNumber, PanelLetters, RoomCode};
use bothends::domain::place::{End, Side, TaggedPlace};
use bothends::domain::work::MarkKind;
use bothends::query::deeds;
use bothends::query::printed::{
    StripState, Tag, Void, end_tag, place_tag, sheets, strip_state, to_fix,
};
use bothends::query::wall::{self, MarkState};
use bothends::tags::strip_words;

use crate::mill::Mill;

fn mill() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    mill
}

fn print(set: u8, cables: Vec<CableId>) -> Want {
    Want::PrintTags {
        stock: "White wraps".to_owned(),
        tags: 24,
        set,
        cables,
        places: Vec::new(),
        strips: Vec::new(),
    }
}

fn near(mill: &Mill, code: &str) -> End {
    End::whole(mill.cable(code), Side::Near)
}

fn mark(end: End, kind: MarkKind) -> Want {
    Want::MarkEnds {
        ends: vec![end],
        kind,
        copies: 1,
    }
}

fn renumber(mill: &Mill, from: u8, to: u8) -> Want {
    Want::MoveOutlet {
        outlet: mill.outlet_id("KIT", from),
        room: mill.room_id("KIT"),
        number: OutletNumber::new(to).expect("a number"),
    }
}

/// `Printed 2×KIT1-A of sheet 1, lost`.
fn words(tag: &Tag) -> String {
    let Some(kind) = tag.kind else {
        return match &tag.void {
            None => "none".to_owned(),
            Some(void) => format!("none, void: {void:?} {}", tag.text),
        };
    };
    let mut words = format!("{kind:?} {}×{}", tag.copies, tag.text);
    if let Some(sheet) = tag.sheet {
        words.push_str(&format!(" of sheet {sheet}"));
    }
    if let Some(sheet) = tag.again {
        words.push_str(&format!(", again on sheet {sheet}"));
    }
    if tag.lost {
        words.push_str(", lost");
    }
    match &tag.void {
        None => {}
        Some(Void::Repulled) => words.push_str(", pulled anew"),
        Some(Void::Recoded { text }) => words.push_str(&format!(", is {text}")),
    }
    words
}

#[track_caller]
fn is(mill: &Mill, end: End, expected: &str) {
    assert_eq!(words(&end_tag(mill.registry(), end)), expected);
}

#[test]
fn a_tag_is_as_far_as_its_furthest_mark_and_keeps_its_sheet() {
    let mut mill = mill();
    let (end, far) = (near(&mill, "KIT1-A"), mill.far("KIT1-A"));
    is(&mill, end, "none");
    mill.does(&mark(end, MarkKind::Pen));
    is(&mill, end, "Pen 1×KIT1-A");
    mill.does(&print(2, vec![mill.cable("KIT1-B")]));
    mill.does(&print(5, vec![end.cable]));
    is(&mill, end, "Printed 3×KIT1-A of sheet 2");
    is(&mill, far, "Printed 2×KIT1-A of sheet 2");
    mill.does(&mark(end, MarkKind::Fixed));
    is(&mill, end, "Fixed 1×KIT1-A of sheet 2");
    // A spare set in the drawer changes nothing on the cable.
    mill.does(&print(2, vec![end.cable]));
    is(&mill, end, "Fixed 1×KIT1-A of sheet 2, again on sheet 3");
    is(&mill, far, "Printed 1×KIT1-A of sheet 3");
    let ends = wall::ends(mill.registry(), mill.outlet_id("KIT", 1));
    let state = (ends[0].mark, ends[0].other_mark);
    let fixed = MarkState::Yes(MarkKind::Fixed);
    assert_eq!(state, (fixed, MarkState::Printed), "at the wall too");
    mill.does(&Want::LoseTag { end });
    is(
        &mill,
        end,
        "Fixed 1×KIT1-A of sheet 2, again on sheet 3, lost",
    );
    // What was fixed and lost does not make the new tag a fixed one.
    mill.does(&print(2, vec![end.cable]));
    is(&mill, end, "Printed 1×KIT1-A of sheet 4");
    let act = mill.journal.history().last().expect("an act").id;
    let tag = end_tag(mill.registry(), end);
    assert_eq!(tag.act, Some(act));
    assert_eq!(deeds::who(&mill.journal, act), "MW, 2026-03-02 00:00");
    mill.does(&Want::Undo { act });
    is(
        &mill,
        end,
        "Fixed 1×KIT1-A of sheet 2, again on sheet 3, lost",
    );
}

#[test]
fn pulled_anew_the_old_tags_are_void_until_the_new_copper_has_its_own() {
    let mut mill = mill();
    let (end, far) = (near(&mill, "KIT1-A"), mill.far("KIT1-A"));
    mill.does(&print(1, vec![end.cable]));
    let reason = "Drilled through".to_owned();
    mill.does(&Want::Repull {
        cable: end.cable,
        reason,
    });
    is(&mill, end, "none, void: Repulled KIT1-A");
    is(&mill, far, "none");
    mill.does(&print(2, vec![end.cable]));
    is(&mill, end, "Printed 1×KIT1-A of sheet 2");
}

#[test]
fn renamed_after_the_print_a_tag_says_the_old_code() {
    let mut mill = mill();
    let end = near(&mill, "KIT1-A");
    mill.does(&print(2, vec![end.cable]));
    let back = renumber(&mill, 1, 7);
    mill.does(&back);
    is(&mill, end, "Printed 1×KIT1-A of sheet 1, is KIT7-A");
    is(&mill, near(&mill, "KIT7-B"), "none");
    mill.does(&renumber(&mill, 7, 1));
    is(&mill, end, "Printed 1×KIT1-A of sheet 1");
    mill.does(&renumber(&mill, 1, 7));
    mill.does(&Want::TagsAnew { cable: end.cable });
    is(&mill, end, "none");
    mill.does(&print(2, vec![end.cable]));
    is(&mill, end, "Printed 1×KIT7-A of sheet 2");
}

#[test]
fn the_tag_of_a_place_is_void_once_the_place_is_called_otherwise() {
    let mut mill = mill();
    let (outlet, panel, rack) = (
        mill.outlet_id("KIT", 1),
        mill.panel_id("B"),
        mill.rack_id("1A"),
    );
    let all = [
        TaggedPlace::Outlet(outlet),
        TaggedPlace::Panel(panel),
        TaggedPlace::Rack(rack),
    ];
    let tags = |mill: &Mill| all.map(|place| words(&place_tag(mill.registry(), place)));
    assert_eq!(tags(&mill), ["none"; 3]);
    let plates = Want::PrintTags {
        stock: "Plates".to_owned(),
        tags: 3,
        set: 0,
        cables: Vec::new(),
        places: vec![
            TaggedPlace::Outlet(outlet),
            TaggedPlace::Panel(panel),
            TaggedPlace::Rack(rack),
        ],
        strips: Vec::new(),
    };
    let fix = Want::FixPlaceTags {
        places: vec![TaggedPlace::Outlet(outlet)],
    };
    mill.does(&plates);
    mill.does(&fix);
    assert_eq!(
        tags(&mill),
        [
            "Fixed 1×KIT1 of sheet 1",
            "Printed 1×B of sheet 1",
            "Printed 1×1A of sheet 1"
        ]
    );
    mill.does(&Want::RecodeRoom {
        room: mill.room_id("KIT"),
        code: RoomCode::new("GAL").expect("a code"),
    });
    assert_eq!(tags(&mill)[0], "Fixed 1×KIT1 of sheet 1, is GAL1");
    assert_eq!(tags(&mill)[1], "Printed 1×B of sheet 1");
    // The new tag is printed, and not yet on.
    mill.does(&plates);
    assert_eq!(tags(&mill)[0], "Printed 1×GAL1 of sheet 2");
    mill.does(&fix);
    assert_eq!(tags(&mill)[0], "Fixed 1×GAL1 of sheet 2");
}

#[test]
fn a_move_makes_the_strip_stale_and_not_the_tag() {
    let mut mill = mill();
    mill.land("KIT1-A", "B01");
    mill.land("KIT1-B", "B02");
    let panel = mill.panel_id("B");
    let state = |mill: &Mill, now: &str| strip_state(mill.registry(), panel, now);
    let was = "KITCHEN 1A\nKITCHEN 1B\n\n";
    assert_eq!(state(&mill, was), StripState::NeverPrinted);
    mill.does(&Want::PrintTags {
        stock: "Strips".to_owned(),
        tags: 1,
        set: 2,
        cables: vec![mill.cable("KIT1-B")],
        places: Vec::new(),
        strips: vec![(panel, was.to_owned())],
    });
    let sheet = Some(1);
    assert_eq!(state(&mill, was), StripState::Current { sheet });
    let end = mill.far("KIT1-B");
    mill.does(&Want::Lift { end });
    mill.land("KIT1-B", "B04");
    let stale = |positions| StripState::Stale { sheet, positions };
    assert_eq!(state(&mill, "KITCHEN 1A\n\n\nKITCHEN 1B"), stale(2));
    is(&mill, end, "Printed 1×KIT1-B of sheet 1");
    assert_eq!(state(&mill, "KITCHEN 1A\nKITCHEN 1B"), stale(2));
    assert_eq!(state(&mill, ""), stale(4));
}

#[test]
fn sheets_are_listed_the_newest_first() {
    let mut mill = mill();
    assert_eq!(sheets(mill.registry()), []);
    for set in [2, 4] {
        mill.does(&print(set, vec![mill.cable("KIT2-A")]));
    }
    let history = mill.journal.history();
    let acts: Vec<_> = history.iter().rev().take(2).map(|act| act.id).collect();
    let listed = sheets(mill.registry());
    let numbers: Vec<_> = listed.iter().map(|sheet| sheet.number).collect();
    assert_eq!(numbers, [2, 1]);
    let listed_acts: Vec<_> = listed.iter().map(|sheet| sheet.act).collect();
    assert_eq!(listed_acts, acts);
    assert_eq!(
        (listed[0].stock.as_str(), listed[0].tags),
        ("White wraps", 24)
    );
}

#[test]
fn the_tags_of_places_wait_until_somebody_says_that_they_are_on() {
    let mut mill = mill();
    assert_eq!(to_fix(mill.registry()).len(), 0);
    let [outlet, other] = [1, 2].map(|number| mill.outlet_id("KIT", number));
    let (panel, rack) = (mill.panel_id("B"), mill.rack_id("1A"));
    mill.does(&Want::PrintTags {
        stock: "Flat labels".to_owned(),
        tags: 4,
        set: 0,
        cables: Vec::new(),
        places: vec![
            TaggedPlace::Outlet(outlet),
            TaggedPlace::Outlet(other),
            TaggedPlace::Panel(panel),
            TaggedPlace::Rack(rack),
        ],
        strips: Vec::new(),
    });
    let waiting = to_fix(mill.registry());
    assert_eq!(waiting.len(), 4);
    let others = waiting.into_iter();
    let others = others.filter(|place| *place != TaggedPlace::Outlet(other));
    mill.does(&Want::FixPlaceTags {
        places: others.collect(),
    });
    let waiting = to_fix(mill.registry());
    assert_eq!(waiting, [TaggedPlace::Outlet(other)]);
}

#[test]
fn the_tags_of_conduits_and_boxes_are_noted_and_a_renumbered_one_is_void() {
    let mut mill = mill();
    let conduit = mill.conduit("Attic", &[]);
    let places = [TaggedPlace::Conduit(conduit), TaggedPlace::Box(3)];
    assert_eq!(
        places.map(|place| place_tag(mill.registry(), place).kind),
        [None; 2]
    );
    mill.does(&Want::PrintTags {
        stock: "Flat labels".to_owned(),
        tags: 2,
        set: 0,
        cables: Vec::new(),
        places: places.to_vec(),
        strips: Vec::new(),
    });
    assert_eq!(to_fix(mill.registry()), places);
    mill.does(&Want::FixPlaceTags {
        places: places.to_vec(),
    });
    assert_eq!(to_fix(mill.registry()), []);
    let [of_conduit, of_box] = places.map(|place| place_tag(mill.registry(), place));
    assert_eq!(of_conduit.kind, Some(MarkKind::Fixed));
    assert_eq!(
        (of_conduit.text, of_conduit.sheet),
        ("CD1".to_owned(), Some(1))
    );
    assert_eq!(
        (of_box.text, of_box.kind),
        ("BOX3".to_owned(), Some(MarkKind::Fixed))
    );
    mill.does(&Want::RenumberConduit { conduit });
    let text = "CD2".to_owned();
    let tag = place_tag(mill.registry(), places[0]);
    assert_eq!(tag.void, Some(Void::Recoded { text }));
}

#[test]
fn panels_swap_letters_in_one_act_which_makes_their_strips_stale_and_no_tag() {
    let mut mill = mill();
    mill.land("KIT1-A", "B01");
    let cable = mill.cable("KIT1-A");
    let [one, other] = ["B", "C"].map(|letters| mill.panel_id(letters));
    let words = |mill: &Mill, panel| strip_words(mill.registry(), panel).expect("a strip");
    let strips = vec![one, other].into_iter();
    mill.does(&Want::PrintTags {
        stock: "Strips".to_owned(),
        tags: 1,
        set: 2,
        cables: vec![cable],
        places: [one, other].map(TaggedPlace::Panel).to_vec(),
        strips: strips.map(|panel| (panel, words(&mill, panel))).collect(),
    });
    let letters = PanelLetters::new("C").expect("letters");
    let refusal = draft(
        &Want::LetterPanel {
            panel: one,
            letters,
        },
        &mill.journal,
    );
    let refusal = refusal.expect_err("C is taken");
    assert_eq!(
        refusal.words,
        "Panel C exists already. Panels are lettered through the whole job. Swapped, the printed \
         strips and letter tags of both are out of date. The tags on cables stay right."
    );
    let way = &refusal.ways_out[0];
    assert_eq!(way.label, "Swap the letters");
    let code = mill.registry().cable_code(cable);
    let acts = mill.journal.history().len();
    mill.does(&way.want);
    assert_eq!(mill.journal.history().len(), acts + 1);
    assert_eq!(mill.panel_id("C"), one);
    assert_eq!(mill.panel_id("B"), other);
    assert_eq!(mill.registry().cable_code(cable), code);
    for panel in [one, other] {
        let state = strip_state(mill.registry(), panel, &words(&mill, panel));
        assert!(matches!(state, StripState::Stale { .. }), "{state:?}");
    }
    let tag = |mill: &Mill, panel| place_tag(mill.registry(), TaggedPlace::Panel(panel));
    for (panel, was, now) in [(one, "B", "C"), (other, "C", "B")] {
        let tag = tag(&mill, panel);
        let text = now.to_owned();
        assert_eq!(
            (tag.text.as_str(), tag.void),
            (was, Some(Void::Recoded { text }))
        );
    }
    // A tag that no longer holds is not one to be fixed.
    let to_fix = to_fix(mill.registry());
    assert_eq!(to_fix, []);
    let last = mill.journal.history().last().expect("an act").id;
    mill.does(&Want::Undo { act: last });
    assert_eq!(mill.panel_id("B"), one);
    let state = strip_state(mill.registry(), one, &words(&mill, one));
    assert!(matches!(state, StripState::Current { .. }), "{state:?}");
    assert_eq!(tag(&mill, one).void, None);
}
