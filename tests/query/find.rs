//! Looking things up: what people type, and what they are shown first.

use bothends::codes::tag::{JobKey, TagText, Tagged};
use bothends::command::{Correction, Laid, Want};
use bothends::domain::label::{RoomCode, SpaceCode};
use bothends::domain::medium::{Kind, Medium};
use bothends::domain::place::{ConduitEnd, End, Fitting, Place, Side, TaggedPlace};
use bothends::domain::work::{Availability, JointKind, MarkKind};
use bothends::journal::Found;
use bothends::query::find::{Answer, FoundIn, SearchIndex, both_ends, row, search};

use crate::mill::Mill;

/// The texts of tags.
mod tags;

/// Two rooms of two outlets each, nine cables in all.
fn mill() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "data", 2);
    mill.outlets("KITS", "tv", 1);
    mill.outlets("KITS", "contact", 1);
    mill
}

fn answer(mill: &Mill, text: &str) -> Answer {
    let registry = mill.registry();
    search(
        &SearchIndex::build(registry),
        registry,
        mill.journal.job(),
        text,
    )
}

/// The codes of what is found, in order.
fn codes(mill: &Mill, text: &str) -> String {
    let hits = answer(mill, text).hits.into_iter();
    let codes = hits.map(|hit| row(mill.registry(), hit, text).code);
    codes.collect::<Vec<_>>().join(", ")
}

/// The first row with why it is there: `KIT1-A (Code): KIT1 to B07; Data`.
fn first(mill: &Mill, text: &str) -> String {
    let Some(hit) = answer(mill, text).hits.first().copied() else {
        return "nothing".to_owned();
    };
    let row = row(mill.registry(), hit, text);
    format!(
        "{} ({:?}): {}; {}",
        row.code, hit.found_in, row.ends, row.why
    )
}

fn said(mill: &Mill, text: &str) -> String {
    answer(mill, text).said.join(" | ")
}

/// Marks the near end of a cable with a pen.
fn marks(mill: &mut Mill, code: &str) {
    let end = End::whole(mill.cable(code), Side::Near);
    mill.does(&Want::MarkEnds {
        ends: vec![end],
        kind: MarkKind::Pen,
        copies: 1,
    });
}

#[test]
fn a_code_is_found_however_it_is_spelled() {
    let mill = mill();
    for text in [
        "KIT1-B",
        "kit1-b",
        "kit1b",
        "KIT 1 B",
        " kit-1-b ",
        "K1T1B",
        "KITI-B",
        "KITO1-B",
        "KIT01-B",
        "kit1.b",
    ] {
        assert_eq!(
            first(&mill, text),
            "KIT1-B (Exact): KIT1 to Main rack; Data",
            "{text:?}"
        );
    }
}

#[test]
fn any_part_of_a_code_finds_it() {
    let mill = mill();
    assert_eq!(codes(&mill, "t1-b"), "KIT1-B");
    assert_eq!(codes(&mill, "t2b"), "KIT2-B");
    assert_eq!(codes(&mill, "S1-"), "KITS1-A, KITS1-B, KITS1-C, KITS1-D");
    assert_eq!(codes(&mill, "2-"), "KIT2-A, KIT2-B, KITS2-A");
    // The words of a text may stand in different lines of one thing, in any order.
    assert_eq!(codes(&mill, "2-b data"), "KIT2-B");
    assert_eq!(codes(&mill, "data t2"), "KIT2, KIT2-A, KIT2-B");
    assert_eq!(codes(&mill, "2-b contact"), "");
}

#[test]
fn a_short_word_begins_a_word_and_what_holds_the_whole_text_comes_first() {
    let mut mill = mill();
    for (code, purpose) in [
        ("KIT1-A", "Desk by the flat wall"),
        ("KIT1-B", "Flat at the bay"),
        ("KIT2-A", "Desk in flat B"),
        ("KIT2-B", "Spare, flat roof side"),
    ] {
        mill.does(&Want::SetPurpose {
            cable: mill.cable(code),
            purpose: purpose.to_owned(),
        });
    }
    assert_eq!(codes(&mill, "flat at"), "KIT1-B", "not in “data”");
    assert_eq!(
        codes(&mill, "flat b"),
        "KIT2-A, KIT1-A, KIT1-B, KIT2-B",
        "the text, then by, bay and the letter of the code"
    );
}

#[test]
fn a_position_looked_for_in_the_wrong_rack_is_shown_where_it_is() {
    let mut mill = mill();
    mill.rack(2, "A", "Attic rack");
    mill.land("KIT1-A", "B07");
    assert_eq!(codes(&mill, "1A-B07"), "KIT1-A, B07");
    assert_eq!(said(&mill, "1A-B07"), "");
    assert_eq!(codes(&mill, "2a-b07"), "KIT1-A, B07");
    assert_eq!(
        said(&mill, "2a-b07"),
        "Panel B is not in 2A. This is B07 where that panel is."
    );
    assert_eq!(codes(&mill, "2A-X07"), "");
}

#[test]
fn what_is_exactly_meant_comes_before_what_only_holds_the_text() {
    let mut mill = mill();
    // The outlet, its cables, and only then those in whose codes the text stands.
    mill.outlets("KIT", "contact", 10);
    assert_eq!(
        codes(&mill, "KIT1"),
        "KIT1, KIT1-A, KIT1-B, KIT10, KIT11, KIT12, KIT10-A, KIT11-A, KIT12-A"
    );
    let found_in: Vec<FoundIn> = answer(&mill, "kit1")
        .hits
        .iter()
        .map(|hit| hit.found_in)
        .collect();
    assert_eq!(found_in[..3], [FoundIn::Exact; 3]);
    assert!(found_in[3..].iter().all(|by| *by == FoundIn::Code));

    // The room of the code comes before the one whose code begins with it, each thing once.
    let hits = answer(&mill, "kit").hits;
    let rows: Vec<String> = hits
        .iter()
        .map(|hit| row(mill.registry(), *hit, "kit").code)
        .collect();
    assert_eq!(rows[..3], ["KIT", "KIT1", "KIT2"]);
    let store = rows.iter().position(|code| code == "KITS");
    assert!(store > rows.iter().position(|code| code == "KIT12"));
    let mut once = rows.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!(once.len(), rows.len(), "{rows:?}");
    // Two rooms, four outlets and ten more, nineteen cables: nothing is cut off here.
    assert_eq!(rows.len(), 2 + 14 + 19);
}

#[test]
fn ways_of_being_found_come_in_their_order() {
    let mut mill = mill();
    let cable = mill.cable("KITS1-D");
    for (code, note) in [("KIT2-A", "Beside the kits2 box"), ("KIT2-B", "plain")] {
        mill.does(&Want::NoteCable {
            cable: mill.cable(code),
            note: note.to_owned(),
        });
    }
    mill.does(&Want::KnowCableAs {
        cable,
        name: "old KITS2".to_owned(),
    });
    mill.does(&Want::SetPurpose {
        cable: mill.cable("KIT1-A"),
        purpose: "Spare for kits2".to_owned(),
    });
    assert_eq!(
        codes(&mill, "kits2"),
        "KITS2, KITS2-A, KITS1-D, KIT1-A, KIT2-A",
        "exact, old name, purpose, note"
    );
    assert_eq!(
        first(&mill, "beside"),
        "KIT2-A (Note): KIT2 to Main rack; note: Beside the kits2 box"
    );
}

#[test]
fn rooms_and_purposes_are_found_by_their_words() {
    let mut mill = mill();
    assert_eq!(
        codes(&mill, "kitchen  STORE"),
        "KITS, KITS1, KITS2, KITS1-A, KITS1-B, KITS1-C, KITS1-D, KITS2-A"
    );
    assert_eq!(first(&mill, "store"), "KITS (Name): Kitchen store; ");
    assert_eq!(codes(&mill, "contact"), "KITS2, KITS2-A");
    assert_eq!(
        first(&mill, "contact"),
        "KITS2 (Name): Kitchen store, Contact; "
    );
    mill.does(&Want::SetOutletPurpose {
        outlet: mill.outlet_id("KIT", 2),
        purpose: "Clay oven".to_owned(),
    });
    assert_eq!(codes(&mill, "oven"), "KIT2, KIT2-A, KIT2-B");
    assert_eq!(
        first(&mill, "clay OV"),
        "KIT2 (Purpose): Kitchen, Clay oven; "
    );
    // What a cable is made of finds it too, and says so.
    let coax = mill.cable("KITS1-D");
    let medium = mill
        .registry()
        .cables
        .get(coax)
        .expect("a row")
        .medium
        .get();
    let medium = medium.expect("a medium").to_string();
    let found = first(&mill, &medium);
    assert!(found.starts_with("KITS1-D (Medium)"), "{found}");
    assert!(found.ends_with(&format!("; {medium}")), "{found}");
    assert_eq!(first(&mill, "rg6"), found, "without its dash");
    // A tie line is one by its nature, whatever it is called.
    mill.rack(2, "A", "Loft rack");
    mill.does(&Want::AddTie {
        near: mill.rack_id("1A"),
        far: mill.rack_id("2A"),
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    });
    assert_eq!(codes(&mill, "tie"), "1A/2A-1");
    let end = End::whole(mill.cable("1A/2A-1"), Side::Near);
    let place = Place::rear(mill.position("B09"));
    let fitting = Fitting::Direct;
    mill.does(&Want::Land {
        end,
        place,
        fitting,
    });
    assert_eq!(first(&mill, "tie"), "1A/2A-1 (Name): B09 to Loft rack; ");
    // What is not wanted any more says so.
    mill.does(&Want::CancelOutlet {
        outlet: mill.outlet_id("KITS", 2),
        reason: "Not needed".to_owned(),
    });
    assert_eq!(
        first(&mill, "KITS2"),
        "KITS2 (Exact): Kitchen store, Contact, cancelled; "
    );
    assert_eq!(
        first(&mill, "KITS2-A"),
        "KITS2-A (Exact): KITS2 to a rack not chosen, cancelled; Contact"
    );
}

#[test]
fn a_room_that_was_renamed_is_found_by_its_new_name_only() {
    let mut mill = mill();
    mill.does(&Want::RenameRoom {
        room: mill.room_id("KITS"),
        name: "Larder".to_owned(),
    });
    assert_eq!(codes(&mill, "store"), "");
    assert!(codes(&mill, "larder").starts_with("KITS, KITS1, "));
}

#[test]
fn a_position_is_found_with_what_is_there_first() {
    let mut mill = mill();
    mill.land("KIT2-B", "B07");
    for text in ["B07", "B7", "b7", "b-07", "BO7", "1A-B07", "1ab7"] {
        assert_eq!(codes(&mill, text), "KIT2-B, B07", "{text}");
        let position = answer(&mill, text).hits[1];
        let row = row(mill.registry(), position, text);
        assert_eq!(row.ends, "a position", "{text}");
    }
    assert_eq!(first(&mill, "b7"), "KIT2-B (Exact): KIT2 to B07; Data");
    assert_eq!(
        first(&mill, "B08"),
        "B08 (Exact): a position, nothing landed; "
    );
    // A position that no panel has.
    assert_eq!(codes(&mill, "B25"), "");

    // Where it only belongs is found too.
    let end = mill.far("KIT1-A");
    let place = Some(Place::rear(mill.position("B08")));
    mill.does(&Want::PlanEnd { end, place });
    assert_eq!(codes(&mill, "b8"), "KIT1-A, B08");
    assert_eq!(
        both_ends(mill.registry(), mill.cable("KIT1-A")),
        "KIT1 to B08, not landed"
    );
}

#[test]
fn panels_and_racks_are_found_by_what_stands_on_them() {
    let mill = mill();
    assert_eq!(first(&mill, "C"), "Panel C (Exact): Main rack; ");
    assert_eq!(first(&mill, "c"), "Panel C (Exact): Main rack; ");
    assert_eq!(first(&mill, "1a"), "1A (Exact): Main rack; ");
}

#[test]
fn a_rack_is_found_by_a_part_of_its_code_its_name_and_its_room() {
    let mut mill = mill();
    mill.does(&Want::AddRack {
        space: SpaceCode::new(2, "B").expect("a space"),
        name: "Pottery cabinet".to_owned(),
        room: Some(mill.room_id("KITS")),
    });
    for text in ["pottery", "cabinet", "pott"] {
        assert_eq!(codes(&mill, text), "2B", "{text}");
    }
    assert_eq!(first(&mill, "cabinet"), "2B (Name): Pottery cabinet; ");
    assert_eq!(codes(&mill, "rack"), "1A");
    assert!(
        codes(&mill, "2").starts_with("2B, "),
        "{}",
        codes(&mill, "2")
    );
    assert!(codes(&mill, "kitchen store").contains("2B"));
    assert_eq!(codes(&mill, "1A").matches("1A").count(), 1, "once");
}

#[test]
fn a_room_is_found_by_its_unit_and_its_floor() {
    let mut mill = mill();
    let room = mill.room_id("KITS");
    mill.does(&Want::AddUnit {
        name: "Pottery studio".to_owned(),
    });
    mill.does(&Want::AddFloor {
        name: "Loft level".to_owned(),
        number: None,
    });
    let registry = mill.registry();
    let unit = registry.units.iter().next().map(|(id, _)| id);
    let floor = registry.floors.iter().next().map(|(id, _)| id);
    mill.does(&Want::PutRoomInUnit { room, unit });
    mill.does(&Want::PutRoomOnFloor { room, floor });
    assert_eq!(codes(&mill, "pottery"), "KITS");
    assert_eq!(codes(&mill, "loft lev"), "KITS");
}

#[test]
fn a_spare_end_is_found_by_the_word_and_by_where_it_is_kept() {
    let mut mill = mill();
    assert_eq!(codes(&mill, "spare"), "");
    let end = mill.far("KIT2-A");
    mill.does(&Want::Spare {
        end,
        kept: "Coiled above the door".to_owned(),
        reason: "No port yet".to_owned(),
    });
    for text in ["spare", "SPAR", "coiled", "above spare"] {
        assert_eq!(
            first(&mill, text),
            "KIT2-A (Position): KIT2 to spare: No port yet; Data",
            "{text}"
        );
    }
    assert_eq!(codes(&mill, "spare"), "KIT2-A");
    let end = End::whole(end.cable, Side::Near);
    mill.does(&Want::Spare {
        end,
        kept: String::new(),
        reason: "No port yet".to_owned(),
    });
    let ends = both_ends(mill.registry(), end.cable);
    assert_eq!(ends, "KIT2 with both ends spare: No port yet");
}

#[test]
fn what_is_out_of_use_or_kept_is_found_by_its_word_and_its_reason() {
    let mut mill = mill();
    assert_eq!(codes(&mill, "dead") + &codes(&mill, "bad"), "");
    let reason = |words: &str| words.to_owned();
    let far = mill.far("KIT2-A");
    mill.does(&Want::Dead {
        end: far,
        reason: reason("Drilled through"),
    });
    mill.does(&Want::Dead {
        end: End::whole(mill.cable("KIT2-B"), Side::Near),
        reason: reason("Cut short"),
    });
    for (text, expected) in [
        (
            "dead drilled",
            "KIT2-A (Position): KIT2 to dead: Drilled through; Data",
        ),
        (
            "cut short",
            "KIT2-B (Position): KIT2 (dead: Cut short) to Main rack; Data",
        ),
    ] {
        assert_eq!(first(&mill, text), expected, "{text}");
    }
    assert_eq!(codes(&mill, "dead"), "KIT2-A, KIT2-B");
    for (position, kept) in [
        (
            "C02",
            Availability::Reserved {
                reason: reason("Aerial"),
            },
        ),
        (
            "C03",
            Availability::Bad {
                reason: reason("Bent"),
            },
        ),
        (
            "C04",
            Availability::Bad {
                reason: reason("Taken back"),
            },
        ),
        ("C04", Availability::Open),
    ] {
        let position = mill.position(position);
        mill.does(&Want::KeepPosition { position, kept });
    }
    assert_eq!(
        first(&mill, "reserved"),
        "C02 (Position): a position, nothing landed, reserved: Aerial; "
    );
    for text in ["bad", "bent", "C03"] {
        let ends = "a position, nothing landed, bad: Bent; ";
        assert!(first(&mill, text).ends_with(ends), "{text}");
    }
    assert_eq!(codes(&mill, "free for use"), "");
}

#[test]
fn devices_and_joints_are_found_by_name_with_what_is_landed_on_them() {
    let mut mill = mill();
    mill.does(&Want::AddDevice {
        name: "Gate intercom".to_owned(),
        room: Some(mill.room_id("KIT")),
    });
    mill.does(&Want::AddJoint {
        kind: JointKind::Splice,
        name: "Attic splice".to_owned(),
        room: None,
    });
    let device = mill.registry().devices.iter().next().expect("a device").0;
    mill.does(&Want::Land {
        end: mill.far("KIT1-A"),
        place: Place::Device {
            device,
            port: "LAN 1".to_owned(),
        },
        fitting: Fitting::Direct,
    });
    assert_eq!(first(&mill, "intercom"), "Gate intercom (Name): Kitchen; ");
    assert_eq!(codes(&mill, "intercom"), "Gate intercom, KIT1-A");
    assert_eq!(codes(&mill, "intercom lan 1"), "KIT1-A");
    assert_eq!(codes(&mill, "splice"), "Attic splice");
}

#[test]
fn a_code_that_stands_on_the_copper_finds_it_after_a_renaming() {
    let mut mill = mill();
    marks(&mut mill, "KIT1-B");
    let room = mill.room_id("KIT");
    let code = RoomCode::new("GAL").expect("a code");
    mill.does(&Want::RecodeRoom { room, code });
    // What was marked keeps its code; its neighbour was written nowhere and follows the room.
    assert_eq!(codes(&mill, "KIT1-B"), "KIT1-B");
    assert_eq!(codes(&mill, "GAL1"), "GAL1, GAL1-A, KIT1-B");
    assert_eq!(codes(&mill, "KIT1-A"), "");

    let cable = mill.cable("KIT1-B");
    mill.does(&Want::TagsAnew { cable });
    assert_eq!(codes(&mill, "gal1b"), "GAL1-B");
    for text in ["KIT1-B", "kit1-b", "kit1b", "KIT1"] {
        assert_eq!(
            first(&mill, text),
            "GAL1-B (OldName): GAL1 to Main rack; once called “KIT1-B”",
            "{text}"
        );
    }
}

#[test]
fn an_old_name_finds_the_cable_that_came_out_elsewhere() {
    let mut mill = mill();
    marks(&mut mill, "KIT1-B");
    mill.does(&Want::CameOutAt {
        cable: mill.cable("KIT1-B"),
        outlet: mill.outlet_id("KITS", 1),
        how: Correction::TagsMove,
    });
    assert_eq!(
        first(&mill, "KIT1-B"),
        "KITS1-E (OldName): KITS1 to Main rack; once called “KIT1-B”"
    );
    mill.does(&Want::KnowCableAs {
        cable: mill.cable("KIT2-A"),
        name: "Línea 12 / oven".to_owned(),
    });
    assert_eq!(
        first(&mill, "LÍNEA 12"),
        "KIT2-A (OldName): KIT2 to Main rack; once called “Línea 12 / oven”"
    );
}

#[test]
fn what_was_withdrawn_is_not_found_and_what_was_cancelled_is() {
    let mut mill = mill();
    mill.does(&Want::CancelCable {
        cable: mill.cable("KIT1-B"),
        reason: "Wall stays shut".to_owned(),
    });
    assert_eq!(codes(&mill, "KIT1-B"), "KIT1-B");
    mill.outlets("KIT", "contact", 1);
    assert_eq!(codes(&mill, "KIT3"), "KIT3, KIT3-A");
    let act = mill.journal.history().last().expect("an act").id;
    mill.does(&Want::Undo { act });
    assert_eq!(codes(&mill, "KIT3"), "");
    assert_eq!(codes(&mill, "KIT3-A"), "");
}

#[test]
fn loose_ends_are_found_by_number_place_and_note() {
    let mut mill = mill();
    mill.does(&Want::AddLooseEnd {
        found: Found {
            place: "Above the door".to_owned(),
            room: Some(mill.room_id("KITS")),
            medium: None,
            note: "Orange tape".to_owned(),
        },
    });
    for (text, by) in [
        ("loose", "Code"),
        ("loose end 1", "Code"),
        ("above door", "Name"),
        ("tape store", "Name"),
        ("orange", "Note"),
    ] {
        assert_eq!(
            first(&mill, text),
            format!("Loose end 1 ({by}): Above the door; "),
            "{text}"
        );
    }
}

#[test]
fn a_loose_end_that_is_joined_says_which_cable_it_is() {
    let mut mill = mill();
    let add = Want::AddLooseEnd {
        found: Found {
            place: "Above the door".to_owned(),
            ..Found::default()
        },
    };
    mill.does(&add);
    let loose = mill.registry().loose_ends.iter().map(|(id, _)| id);
    let loose = loose.last().expect("a loose end");
    assert_eq!(
        first(&mill, "loose 1"),
        "Loose end 1 (Code): Above the door; "
    );
    mill.does(&Want::JoinLooseEnd {
        loose,
        end: mill.far("KIT1-B"),
    });
    assert_eq!(
        first(&mill, "loose 1"),
        "Loose end 1 (Code): Above the door; is KIT1-B"
    );
}

#[test]
fn nothing_found_says_why_where_the_text_is_no_code() {
    let mill = mill();
    for text in ["", "  ", "\u{200B}", "xyzzy", "KIT9-A", "X99"] {
        assert_eq!(answer(&mill, text), Answer::default(), "{text:?}");
    }
    for (text, reason) in [
        ("KIT1-S", "“S” is not a cable letter."),
        ("KIT100", "“100” is not an outlet number."),
        ("B00", "“00” is not a position."),
        ("B99", "Panel B has no B99: the last one is B24."),
        ("1A-B25", "Panel B has no B25: the last one is B24."),
    ] {
        assert_eq!(codes(&mill, text), "", "{text}");
        assert!(
            said(&mill, text).starts_with(reason),
            "{}",
            said(&mill, text)
        );
    }
}

#[test]
fn a_reason_is_not_said_where_something_is_found() {
    let mut mill = mill();
    mill.does(&Want::KnowCableAs {
        cable: mill.cable("KIT2-A"),
        name: "KIT100".to_owned(),
    });
    assert_eq!(codes(&mill, "KIT100"), "KIT2-A");
    assert_eq!(said(&mill, "KIT100"), "");
}

#[test]
fn the_tag_of_a_place_that_is_called_otherwise_by_now_leads_to_it_and_is_void() {
    let mut mill = mill();
    let outlet = mill.outlet_id("KIT", 1);
    let tag = TagText {
        tagged: Tagged::Outlet(mill.registry().outlet_code(outlet).expect("a code")),
        job_key: JobKey::of(mill.journal.job()),
    };
    mill.does(&Want::PrintTags {
        stock: "Flat labels".to_owned(),
        tags: 1,
        set: 0,
        cables: Vec::new(),
        places: vec![TaggedPlace::Outlet(outlet)],
        strips: Vec::new(),
    });
    let code = RoomCode::new("GAL").expect("a code");
    mill.does(&Want::RecodeRoom {
        room: mill.room_id("KIT"),
        code,
    });
    assert_eq!(codes(&mill, &tag.to_string()), "GAL1, GAL1-A, GAL1-B");
    assert_eq!(
        said(&mill, &tag.to_string()),
        "This tag is void: KIT1 is called GAL1 by now. Take it off, and print a new one."
    );
}

#[test]
fn a_code_of_a_flat_is_found_as_the_pen_writes_it() {
    let mut mill = Mill::new();
    mill.room("Kitchen of flat A", "AKIT");
    mill.outlets("AKIT", "data", 2);
    mill.outlets("KIT", "data", 2);
    for text in ["AKIT2 B", "akit 2 b", "AKIT2-B", "akit2b"] {
        assert!(
            codes(&mill, text).starts_with("AKIT2-B"),
            "{text}: {}",
            codes(&mill, text)
        );
    }
}

#[test]
fn a_conduit_is_found_by_its_code_and_by_its_words() {
    let mut mill = mill();
    mill.does(&Want::LayConduit {
        conduit: None,
        number: None,
        laid: Laid {
            ends: ["the attic", "the cellar"].map(|at| ConduitEnd::Words(at.to_owned())),
            size: "25 mm".to_owned(),
            note: "Behind the stove".to_owned(),
        },
    });
    for text in ["cd1", "attic", "cellar 25", "stove"] {
        assert_eq!(codes(&mill, text), "CD1", "{text}");
    }
}

#[test]
fn where_people_disagree_each_name_is_found() {
    let mut mill = mill();
    let mut other = mill.phone(2);
    let room = mill.room_id("KIT");
    for (phone, name) in [(&mut mill, "Scullery"), (&mut other, "Galley")] {
        phone.does(&Want::RenameRoom {
            room,
            name: name.to_owned(),
        });
    }
    mill.hears(&other);
    for name in ["scullery", "galley"] {
        let found = codes(&mill, name);
        assert!(
            found.starts_with("KIT, KIT1, KIT2, KIT1-A"),
            "{name}: {found}"
        );
    }
}
