//! What stands on the tags of a job.

use bothends::command::Want;
use bothends::domain::ids::{Bits80, WriterId};
use bothends::domain::label::{LegNumber, PanelLetters, RoomCode};
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::place::{End, Fitting, Place, Side, TaggedPlace};
use bothends::domain::work::{MarkKind, PullOutcome};
use bothends::journal::Journal;
use bothends::tags::{
    Badge, Choice, Chosen, Microns, Outdated, Shape, Stock, Tag, Wishes, built_in, chosen,
    outdated, strip_words,
};

use crate::mill::Mill;

const WISHES: Wishes = Wishes {
    set: 4,
    with_position: false,
    diameter: None,
    pitch: None,
};

fn stock(name: &str) -> Stock {
    let mut all = built_in().into_iter();
    all.find(|stock| stock.name == name).expect("a stock")
}

fn of(mill: &Mill, choice: Choice) -> Chosen {
    with(mill, choice, WISHES)
}

fn with(mill: &Mill, choice: Choice, wishes: Wishes) -> Chosen {
    chosen(
        mill.registry(),
        mill.journal.job(),
        choice,
        wishes,
        &stock("Panel strips, A4"),
    )
}

fn codes(chosen: &Chosen) -> Vec<&str> {
    chosen.tags.iter().map(|tag| tag.code.as_str()).collect()
}

fn mill() -> Mill {
    let mut mill = Mill::new();
    mill.outlets("KIT", "tv", 1);
    mill.outlets("KIT", "data", 1);
    mill
}

fn tag_of(mill: &Mill, code: &str) -> Tag {
    let all = of(mill, Choice::All);
    all.tags
        .into_iter()
        .find(|tag| tag.code == code)
        .expect("a tag")
}

#[test]
fn a_cable_has_its_code_its_words_and_the_far_place() {
    let mill = mill();
    let tag = tag_of(&mill, "KIT1-D");
    assert_eq!(tag.words, "KITCHEN TV / RG-6");
    assert_eq!(
        tag.short, "KITCHEN TV",
        "what it is made of stands on its jacket"
    );
    assert_eq!(tag.far, "MAIN RACK");
    assert_eq!(tag.position, "");
    assert_eq!((tag.copies, tag.badge), (4, Badge::None));
    assert_eq!(tag.diameter, Microns(6_900));
    let (code, group) = tag.qr.split_once(' ').expect("two parts");
    assert_eq!((code, group.len()), ("KIT1-D", 8));
    assert!(bothends::codes::tag::TagText::read(&tag.qr).is_ok());
}

#[test]
fn they_come_in_the_order_of_the_work() {
    let mill = mill();
    let all = of(&mill, Choice::All);
    assert_eq!(codes(&all)[..4], ["KIT1-A", "KIT1-B", "KIT1-C", "KIT1-D"]);
    assert_eq!(all.cables.len(), all.tags.len());
}

#[test]
fn the_position_stands_there_once_landed_and_only_if_wished() {
    let mut mill = mill();
    mill.fill("B");
    let wished = Wishes {
        with_position: true,
        ..WISHES
    };
    let position = |mill: &Mill, wishes| with(mill, Choice::All, wishes).tags[1].position.clone();
    assert_eq!(
        position(&mill, wished),
        "",
        "meant for it is not landed on it"
    );
    mill.land("KIT1-B", "B07");
    assert_eq!(position(&mill, WISHES), "");
    // The TIA-606 identifier of a horizontal link: space, dash, panel and port.
    assert_eq!(position(&mill, wished), "1A-B07");
}

#[test]
fn a_spare_end_says_future_and_a_dead_one_dead() {
    let mut mill = mill();
    let reason = "second screen".to_owned();
    let place = "above the box".to_owned();
    mill.does(&Want::Spare {
        end: End::whole(mill.cable("KIT1-A"), Side::Near),
        kept: place,
        reason: reason.clone(),
    });
    mill.does(&Want::Dead {
        end: mill.far("KIT1-B"),
        reason,
    });
    let badges = ["KIT1-A", "KIT1-B", "KIT1-C"].map(|code| tag_of(&mill, code).badge);
    assert_eq!(badges, [Badge::Future, Badge::Dead, Badge::None]);
}

#[test]
fn a_local_run_says_what_it_comes_out_of() {
    let mut mill = mill();
    let from = mill.outlet_id("KIT", 1);
    let cable = mill.cable("KIT2-A");
    mill.does(&Want::RouteLocal { cable, from });
    assert_eq!(tag_of(&mill, "KIT2-A").far, "OUT FROM KIT1");
}

#[test]
fn what_is_pulled_or_has_a_tag_is_not_asked_for_again() {
    let mut mill = mill();
    let all = of(&mill, Choice::ToPull).tags.len();
    let ends = vec![mill.far("KIT1-A")];
    mill.does(&Want::MarkEnds {
        ends,
        kind: MarkKind::Printed,
        copies: 2,
    });
    let ends = vec![mill.far("KIT1-B")];
    mill.does(&Want::MarkEnds {
        ends,
        kind: MarkKind::Pen,
        copies: 2,
    });
    let cables = vec![mill.cable("KIT1-C")];
    mill.does(&Want::ReportPull {
        cables,
        outcome: PullOutcome::Pulled,
    });
    assert_eq!(
        codes(&of(&mill, Choice::Untagged))[..3],
        ["KIT1-B", "KIT1-C", "KIT1-D"]
    );
    let to_pull = of(&mill, Choice::ToPull);
    assert_eq!(codes(&to_pull)[..2], ["KIT1-B", "KIT1-D"]);
    assert_eq!(to_pull.tags.len(), all - 2);
    // A tag that fell off is none any more.
    let end = mill.far("KIT1-A");
    mill.does(&Want::LoseTag { end });
    assert_eq!(codes(&of(&mill, Choice::Untagged))[0], "KIT1-A");
    // New copper has no tag.
    let cable = mill.cable("KIT1-A");
    let before = tag_of(&mill, "KIT1-A").qr;
    mill.does(&Want::Repull {
        cable,
        reason: "Drilled through".to_owned(),
    });
    assert_eq!(codes(&of(&mill, Choice::ToPull))[0], "KIT1-A");
    assert_ne!(
        tag_of(&mill, "KIT1-A").qr,
        before,
        "an old tag can be told from a new one"
    );
}

#[test]
fn places_have_tags_too() {
    let mut mill = mill();
    mill.rack(2, "A", "Loft rack");
    let outlets = of(&mill, Choice::Outlets);
    assert_eq!(codes(&outlets), ["KIT1", "KIT2"]);
    assert_eq!(outlets.tags[0].words, "KITCHEN TV");
    assert_eq!(
        outlets.tags[0].short, "TV",
        "its code has the letters of the room"
    );
    assert_eq!(outlets.tags[0].far, "CABLES A B C D");
    assert!(outlets.tags[0].qr.starts_with("KIT1 "));
    assert_eq!(outlets.tags[0].copies, 1);
    let racks = of(&mill, Choice::Racks);
    assert_eq!(codes(&racks), ["1A", "PANEL B", "PANEL C", "PANEL T", "2A"]);
    assert_eq!(racks.places.len(), 5);
    let inserts = of(&mill, Choice::Inserts);
    assert_eq!(inserts.tags[0].words, "KITCHEN TV", "what it is for");
    assert_eq!(
        (inserts.tags[0].far.as_str(), inserts.places.len()),
        ("A B C D", 0)
    );
}

#[test]
fn a_strip_has_the_room_and_the_code_over_each_port() {
    let mut mill = mill();
    mill.fill("B");
    let words = strip_words(mill.registry(), mill.panel_id("B")).expect("a strip");
    assert_eq!(words.lines().next(), Some("B01\tKITCHEN\tKIT1-B"));
    assert_eq!(words.lines().count(), 24);
    assert_eq!(words.lines().last(), Some("B24\t\t"));
    // 192 mm at 15.9 or 16 mm a port are twelve ports, so 24 ports are two strips, and 8 and 12 one
    // each.
    let strips = of(&mill, Choice::Strips);
    assert_eq!(codes(&strips), ["Panel B", "Panel B", "Panel C", "Panel T"]);
    assert_eq!(strips.strips.len(), 3);
    assert_eq!(strips.tags[1].words.lines().next(), Some("B13\t\t"));
}

#[test]
fn each_leg_of_a_split_end_is_told_apart_on_its_strip() {
    let mut mill = mill();
    let far = mill.far("KIT1-B");
    let legs = LegNumber::new(2).expect("two");
    mill.does(&Want::SplitEnd { end: far, legs });
    for (leg, position) in [(1, "B01"), (2, "B02")] {
        let leg = LegNumber::new(leg);
        mill.does(&Want::Land {
            end: End { leg, ..far },
            place: Place::rear(mill.position(position)),
            fitting: Fitting::Direct,
        });
    }
    let words = strip_words(mill.registry(), mill.panel_id("B")).expect("a strip");
    let first: Vec<&str> = words.lines().take(2).collect();
    assert_eq!(first, ["B01\tKITCHEN\tKIT1-B.1", "B02\tKITCHEN\tKIT1-B.2"]);
}

#[test]
fn a_tie_line_names_both_racks() {
    let mut mill = mill();
    mill.rack(2, "A", "Loft rack");
    mill.does(&Want::AddTie {
        near: mill.rack_id("1A"),
        far: mill.rack_id("2A"),
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    });
    let all = of(&mill, Choice::All);
    let tie = all.tags.last().expect("a tag");
    assert_eq!(
        (tie.code.as_str(), tie.words.as_str()),
        ("1A/2A-1", "TIE LINE / CAT 6 U/UTP")
    );
    assert_eq!(tie.far, "MAIN RACK TO LOFT RACK");
    assert_eq!(all.left_out, Vec::<String>::new());
}

#[test]
fn two_cables_of_one_code_get_no_tag_until_they_are_told_apart() {
    let mut one = mill();
    let lines: Vec<String> = one.journal.lines().into_iter().map(str::to_owned).collect();
    let mut other = Mill {
        journal: Journal::new(one.journal.job(), WriterId(Bits80([7; 10]))),
    };
    other.journal.take(lines.iter().map(String::as_str));
    for phone in [&mut one, &mut other] {
        phone.outlets("KIT", "camera", 1);
    }
    let theirs: Vec<String> = other
        .journal
        .lines()
        .into_iter()
        .map(str::to_owned)
        .collect();
    one.journal.take(theirs.iter().map(String::as_str));
    let all = of(&one, Choice::All);
    assert!(!codes(&all).contains(&"KIT3-A"), "{:?}", codes(&all));
    assert_eq!(all.left_out[0], "KIT3-A, as two cables are called so");
    assert_eq!(all.left_out.len(), 1, "said once");
    let outlets = of(&one, Choice::Outlets);
    assert_eq!(outlets.left_out, ["KIT3, as two outlets are called so"]);
    assert_eq!(outlets.places.len(), 2);
}

#[test]
fn a_strip_names_a_cable_where_it_is_and_nowhere_else() {
    let mut mill = mill();
    mill.fill("B");
    let line = |mill: &Mill, number: usize| {
        let words = strip_words(mill.registry(), mill.panel_id("B")).expect("a strip");
        words
            .lines()
            .nth(number - 1)
            .expect("a position")
            .to_owned()
    };
    assert_eq!(line(&mill, 1), "B01\tKITCHEN\tKIT1-B");
    mill.land("KIT1-B", "B20");
    assert_eq!(
        line(&mill, 1),
        "B01\t\t",
        "it was meant for B01 and is on B20"
    );
    assert_eq!(line(&mill, 20), "B20\tKITCHEN\tKIT1-B");
}

#[test]
fn what_people_disagree_about_stands_on_no_strip() {
    let mut one = mill();
    let lines: Vec<String> = one.journal.lines().into_iter().map(str::to_owned).collect();
    let mut other = Mill {
        journal: Journal::new(one.journal.job(), WriterId(Bits80([7; 10]))),
    };
    other.journal.take(lines.iter().map(String::as_str));
    one.land("KIT1-B", "B03");
    other.land("KIT1-C", "B03");
    let theirs: Vec<String> = other
        .journal
        .lines()
        .into_iter()
        .map(str::to_owned)
        .collect();
    one.journal.take(theirs.iter().map(String::as_str));
    let words = strip_words(one.registry(), one.panel_id("B")).expect("a strip");
    assert_eq!(words.lines().nth(2), Some("B03\t\t"));
    let strips = of(&one, Choice::Strips);
    assert_eq!(strips.left_out, ["B03, as it is disputed what is there"]);
    let alone = of(&one, Choice::Strip(one.panel_id("C")));
    assert_eq!((alone.strips.len(), alone.left_out.len()), (1, 0));
}

#[test]
fn words_that_the_room_says_are_not_said_again() {
    let mut mill = mill();
    let outlet = mill.outlet_id("KIT", 1);
    for (purpose, words) in [
        ("Kitchen island", "KITCHEN ISLAND"),
        ("kitchen", "KITCHEN"),
        ("Behind the sofa", "KITCHEN BEHIND THE SOFA"),
    ] {
        mill.does(&Want::SetOutletPurpose {
            outlet,
            purpose: purpose.to_owned(),
        });
        assert_eq!(of(&mill, Choice::Place(outlet)).tags[0].words, words);
    }
}

#[test]
fn what_is_landed_lies_there_so_no_tag_is_wanted_for_its_pull() {
    let mut mill = mill();
    mill.land("KIT1-B", "B07");
    assert!(!codes(&of(&mill, Choice::ToPull)).contains(&"KIT1-B"));
    assert!(codes(&of(&mill, Choice::Untagged)).contains(&"KIT1-B"));
}

#[test]
fn conduits_and_boxes_have_their_words() {
    let mut mill = mill();
    let conduit = mill.conduit("the attic", &["KIT1-A"]);
    mill.conduit("the gate", &[]);
    let cancelled = mill.conduit("the roof", &[]);
    mill.does(&Want::CancelConduit {
        conduit: cancelled,
        reason: "No way".to_owned(),
    });
    mill.does(&Want::HoldBox {
        number: 3,
        medium: Some(Medium::indoor(Kind::Rg6)),
    });
    let cable = mill.cable("KIT1-A");
    mill.does(&Want::DrawFrom { cable, number: 12 });
    let all = of(&mill, Choice::Conduits);
    assert_eq!(codes(&all), ["CD1", "CD2", "BOX3", "BOX12"]);
    assert_eq!(all.places.len(), 4);
    assert_eq!(all.places[0], TaggedPlace::Conduit(conduit));
    assert_eq!(
        all.tags[0].words,
        "CONDUIT FROM THE ATTIC TO THE CELLAR, 25 MM"
    );
    assert!(all.tags[0].qr.starts_with("CD1 "));
    assert_eq!(all.tags[2].words, "RG-6");
    assert!(all.tags[2].qr.starts_with("BOX3 "));
}

#[test]
fn what_is_out_of_date_is_named_and_printed_as_a_set() {
    let mut mill = mill();
    mill.room("Hall", "HAL");
    mill.outlets("HAL", "data", 1);
    mill.fill("B");
    mill.land("KIT1-B", "B19");
    let (panel, other) = (mill.panel_id("B"), mill.panel_id("C"));
    let [kitchen, hall] = ["KIT", "HAL"].map(|room| mill.outlet_id(room, 1));
    let conduit = mill.conduit("the attic", &[]);
    let strips = [panel, other].map(|panel| {
        let words = strip_words(mill.registry(), panel).expect("a strip");
        (panel, words)
    });
    mill.does(&Want::PrintTags {
        stock: "Flat labels".to_owned(),
        tags: 6,
        set: 0,
        cables: Vec::new(),
        places: vec![
            TaggedPlace::Outlet(kitchen),
            TaggedPlace::Outlet(hall),
            TaggedPlace::Panel(other),
            TaggedPlace::Conduit(conduit),
        ],
        strips: strips.to_vec(),
    });
    assert_eq!(outdated(mill.registry()), Outdated::default());
    for choice in [Choice::OldPlaces, Choice::OldStrips] {
        assert_eq!(of(&mill, choice), Chosen::default());
    }
    // A move makes the strip stale, a new code of the room the tags of its outlets.
    mill.land("KIT1-B", "B20");
    mill.does(&Want::RecodeRoom {
        room: mill.room_id("KIT"),
        code: RoomCode::new("GAL").expect("a code"),
    });
    mill.does(&Want::LetterPanel {
        panel: other,
        letters: PanelLetters::new("F").expect("letters"),
    });
    let old = outdated(mill.registry());
    let told: Vec<_> = old
        .places
        .iter()
        .map(|tag| [&*tag.says, &*tag.now])
        .collect();
    assert_eq!(told, [["KIT1", "GAL1"], ["C", "F"]]);
    assert_eq!(old.strips.len(), 2);
    assert_eq!((old.strips[0].panel, old.strips[1].panel), (panel, other));
    let places = of(&mill, Choice::OldPlaces);
    assert_eq!(codes(&places), ["GAL1", "PANEL F"]);
    assert_eq!(
        places.places,
        [TaggedPlace::Outlet(kitchen), TaggedPlace::Panel(other)]
    );
    let strips = of(&mill, Choice::OldStrips);
    assert_eq!(codes(&strips), ["Panel B", "Panel B", "Panel F"]);
    // Once they are printed anew, nothing is.
    mill.does(&Want::PrintTags {
        stock: "Flat labels".to_owned(),
        tags: 5,
        set: 0,
        cables: Vec::new(),
        places: places.places,
        strips: strips.strips,
    });
    assert_eq!(outdated(mill.registry()), Outdated::default());
}

#[test]
fn a_far_place_that_nobody_chose_is_no_word_on_the_tag_but_a_warning_before_it() {
    let mut mill = mill();
    assert_eq!(of(&mill, Choice::All).unplaced, []);
    // With a second rack nobody can tell where a new cable goes.
    mill.rack(2, "A", "Loft rack");
    mill.outlets("KITS", "tv", 1);
    let all = of(&mill, Choice::All);
    assert!(all.tags.iter().all(|tag| !tag.far.contains("NOT CHOSEN")));
    let silent = all.tags.iter().filter(|tag| tag.far.is_empty()).count();
    assert!(silent > 0, "{all:?}");
    assert_eq!(all.unplaced.len(), silent);
    assert_eq!(
        all.cables.len(),
        all.tags.len(),
        "they are printed all the same"
    );
    let rack = Some(mill.rack_id("2A"));
    mill.does(&Want::RouteHome {
        cables: all.unplaced,
        rack,
    });
    let all = of(&mill, Choice::All);
    assert_eq!(all.unplaced, []);
    assert!(all.tags.iter().any(|tag| tag.far == "LOFT RACK"));
}

#[test]
fn a_character_that_no_label_can_show_leaves_out_its_tag_alone() {
    let mut mill = mill();
    mill.fill("B");
    let outlet = mill.outlet_id("KIT", 1);
    let before = of(&mill, Choice::All).tags.len();
    mill.does(&Want::SetOutletPurpose {
        outlet,
        purpose: "Łódź".to_owned(),
    });
    let all = of(&mill, Choice::All);
    let lost = all.left_out.len();
    assert!(lost > 0 && all.tags.len() == before - lost);
    assert_eq!(all.cables.len(), all.tags.len());
    assert_eq!(
        all.left_out[0],
        "KIT1-A, as no label can show “Ł” of “KITCHEN ŁÓDŹ / CAT 6 F/UTP”: write it with other letters, or by pen"
    );
    assert!(codes(&all).contains(&"KIT2-A"));
    assert!(
        bothends::tags::pen_list(&all).contains("ŁÓDŹ"),
        "a pen writes it"
    );
    let outlets = of(&mill, Choice::Outlets);
    assert_eq!((codes(&outlets), outlets.places.len()), (vec!["KIT2"], 1));
    // A strip keeps every port, and the words of one are left out.
    let room = mill.room_id("KIT");
    mill.does(&Want::RenameRoom {
        room,
        name: "厨房".to_owned(),
    });
    let strips = of(&mill, Choice::Strip(mill.panel_id("B")));
    assert_eq!(strips.tags[0].words.lines().next(), Some("B01\t\tKIT1-B"));
    assert_eq!(
        strips.left_out[0],
        "The words over B01, as no label can show “厨” of “厨房”: write it with other letters, or by pen"
    );
}

#[test]
fn the_ports_of_a_strip_lie_as_its_panel_has_them_unless_somebody_measured() {
    let mut mill = mill();
    mill.panel("1A", "E", Connector::ShieldedModular, 48, None);
    let ports = |wishes, stock: &Stock| {
        let (registry, job) = (mill.registry(), mill.journal.job());
        let all = chosen(registry, job, Choice::Strips, wishes, stock);
        let all = all.tags.into_iter();
        all.map(|tag| {
            (
                tag.code,
                tag.ports.pitch.0,
                tag.ports.group,
                tag.words.lines().count(),
            )
        })
        .collect::<Vec<_>>()
    };
    let own = |code: &str, pitch, group, count| (code.to_owned(), pitch, group, count);
    // 5/8 inch is 15.875 mm (25.4 / 8 * 5); groups of six are common practice, no source.
    let built_in = stock("Panel strips, A4");
    let all = ports(WISHES, &built_in);
    assert_eq!(all[0], own("Panel B", 15_875, 6, 12));
    assert_eq!(all[2], own("Panel C", 16_000, 0, 8));
    assert_eq!(all[3], own("Panel T", 16_000, 0, 12));
    assert_eq!(all.iter().filter(|tag| tag.0 == "Panel E").count(), 4);
    // Short labels still hold whole groups, and those that hold none hold what they can.
    let short = |width| Stock {
        width: Microns(width),
        ..built_in.clone()
    };
    assert_eq!(ports(WISHES, &short(150_000))[0].3, 6);
    assert_eq!(ports(WISHES, &short(50_000))[0].3, 3);
    // What somebody wrote counts before what the labels have, and that before the panel.
    let mine = Stock {
        shape: Shape::Strip {
            pitch: Microns(17_000),
        },
        ..built_in.clone()
    };
    assert_eq!(ports(WISHES, &mine)[0], own("Panel B", 17_000, 6, 6));
    let wished = Wishes {
        pitch: Some(Microns(14_200)),
        ..WISHES
    };
    assert_eq!(ports(wished, &mine)[0], own("Panel B", 14_200, 6, 12));
    let said = |wishes, stock: &Stock| {
        let (registry, job) = (mill.registry(), mill.journal.job());
        let all = chosen(registry, job, Choice::Strips, wishes, stock);
        all.tags[0].made_of.clone()
    };
    assert!(said(WISHES, &built_in).starts_with("as such panels usually have them"));
    assert_eq!(said(WISHES, &mine), "as these labels have them");
    assert_eq!(said(wished, &mine), "as you wrote");
}
