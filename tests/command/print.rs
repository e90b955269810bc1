//! Tags are noted as printed and, on places, as fixed: in one act, or not at all.

use bothends::command::{Want, done_words};
use bothends::domain::ids::CableId;
use bothends::domain::label::LegNumber;
use bothends::domain::medium::Kind;
use bothends::domain::place::{Side, TaggedPlace};
use bothends::domain::work::MarkKind;
use bothends::journal::Mark;
use bothends::query::{Gate, check};

use super::support::{Site, outlet_number, room_code};

/// A set of tags for each cable, on a sheet of 24.
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

/// A tag for each place of the mill that has one, and a strip for panel B.
fn print_places(site: &Site) -> Want {
    Want::PrintTags {
        stock: "Plates".to_owned(),
        tags: 4,
        set: 0,
        cables: Vec::new(),
        places: vec![
            TaggedPlace::Outlet(site.outlet("KIT1")),
            TaggedPlace::Panel(site.panel("B")),
            TaggedPlace::Rack(site.rack("1A")),
        ],
        strips: vec![(site.panel("B"), "KITCHEN\nDINING".to_owned())],
    }
}

fn words(mark: &Mark) -> String {
    format!("{:?} {}×{}", mark.kind, mark.copies, mark.text)
}

/// `Printed 2×KIT1-A, Printed 1×KIT1-A`: the marks of both ends.
fn marks(site: &Site, cable: CableId) -> String {
    let row = site.registry().cables.get(cable).expect("a cable");
    let ends = Side::BOTH.into_iter();
    let records = ends.filter_map(|side| row.end(cable, side));
    let marks = records.flat_map(|record| record.marks.iter().map(|said| words(said.value)));
    marks.collect::<Vec<_>>().join(", ")
}

/// The tags of outlet, panel and rack.
fn place_tags(site: &Site) -> String {
    let outlets = site.registry().outlets.iter().map(|(_, row)| &row.tags);
    let panels = site.registry().panels.iter().map(|(_, row)| &row.tags);
    let racks = site.registry().racks.iter().map(|(_, row)| &row.tags);
    let tags = outlets.chain(panels).chain(racks);
    let tags = tags.flat_map(|tags| tags.iter().map(|said| words(said.value)));
    tags.collect::<Vec<_>>().join(", ")
}

fn numbers(site: &Site) -> Vec<u16> {
    let sheets = site.registry().job.sheets.iter();
    sheets.map(|said| said.value.number).collect()
}

#[test]
fn a_set_is_shared_by_both_ends_and_the_wall_gets_the_larger_half() {
    for (set, expected) in [
        (1, "Printed 1×KIT1-A"),
        (2, "Printed 1×KIT1-A, Printed 1×KIT1-A"),
        (3, "Printed 2×KIT1-A, Printed 1×KIT1-A"),
        (5, "Printed 3×KIT1-A, Printed 2×KIT1-A"),
        (6, "Printed 3×KIT1-A, Printed 3×KIT1-A"),
    ] {
        let mut site = Site::wired_mill();
        let cable = site.cable("KIT1-A");
        site.does(print(set, vec![cable, cable]));
        assert_eq!(marks(&site, cable), expected);
        assert_eq!(marks(&site, site.cable("KIT1-B")), "");
    }
}

#[test]
fn the_whole_end_is_tagged_where_it_is_split() {
    let mut site = Site::wired_mill();
    let (far, cable) = (site.far("KIT1-A"), site.cable("KIT1-A"));
    site.does(Want::SplitEnd {
        end: far,
        legs: LegNumber::new(2).expect("two"),
    });
    site.does(print(4, vec![cable]));
    assert_eq!(marks(&site, cable), "Printed 2×KIT1-A, Printed 2×KIT1-A");
}

#[test]
fn a_print_freezes_the_code_and_is_taken_back_as_one() {
    let mut site = Site::wired_mill();
    let [a, b] = ["KIT1-A", "DIN1-A"].map(|code| site.cable(code));
    let want = print(4, vec![a, b]);
    let act = site.does(want.clone());
    assert_eq!(
        done_words(&want, site.registry()),
        "Sheet 1: 24 tags are noted as printed."
    );
    let (room, code) = (site.room("KIT"), room_code("GAL"));
    let recode = site.does(Want::RecodeRoom { room, code });
    assert_eq!(site.codes("GAL1"), "KIT1-A GAL1-B");
    site.undoes(recode);
    site.undoes(act);
    assert!(numbers(&site).is_empty());
    assert_eq!(marks(&site, a) + &marks(&site, b), "");
    site.does(Want::RecodeRoom { room, code });
    assert_eq!(site.codes("GAL1"), "GAL1-A GAL1-B");
    site.undo_restores(&want);
    let places = print_places(&Site::wired_mill());
    Site::wired_mill().undo_restores(&places);
}

#[test]
fn places_and_strips_are_noted_and_fixed() {
    let mut site = Site::wired_mill();
    let want = print_places(&site);
    site.does(want.clone());
    assert_eq!(
        done_words(&want, site.registry()),
        "Sheet 1: 4 tags are noted as printed."
    );
    assert_eq!(
        place_tags(&site),
        "Printed 1×KIT1, Printed 1×B, Printed 1×1A"
    );
    let panel = site.registry().panels.get(site.panel("B"));
    let strip = panel.and_then(|row| row.strips.last());
    assert_eq!(strip.map(String::as_str), Some("KITCHEN\nDINING"));
    // What is put on is what was printed, whatever it is called by then; a plate that nobody noted
    // as printed says the code.
    let (kitchen, dining) = (site.outlet("KIT1"), site.outlet("DIN1"));
    site.does(Want::MoveOutlet {
        outlet: kitchen,
        room: site.room("KIT"),
        number: outlet_number(5),
    });
    let fix = Want::FixPlaceTags {
        places: vec![
            TaggedPlace::Outlet(kitchen),
            TaggedPlace::Outlet(dining),
            TaggedPlace::Rack(site.rack("1A")),
        ],
    };
    site.does(fix.clone());
    assert_eq!(done_words(&fix, site.registry()), "3 places tagged.");
    assert_eq!(
        place_tags(&site),
        "Printed 1×KIT1, Fixed 1×KIT1, Fixed 1×DIN1, Printed 1×B, Printed 1×1A, Fixed 1×1A"
    );
    site.undo_restores(&fix);
}

#[test]
fn inserts_are_noted_as_a_sheet_and_as_tags_of_nothing() {
    let mut site = Site::wired_mill();
    let inserts = print(4, Vec::new());
    site.undo_restores(&inserts);
    site.does(inserts);
    assert_eq!(site.registry().job.sheets.iter().count(), 1);
    assert_eq!(marks(&site, site.cable("KIT1-A")), "");
}

#[test]
fn a_print_of_nothing_and_of_no_number_is_refused() {
    let mut site = Site::wired_mill();
    let cable = site.cable("KIT1-A");
    let mut none = print(4, Vec::new());
    if let Want::PrintTags { tags, .. } = &mut none {
        *tags = 0;
    }
    site.refuses(none, "Nothing is chosen");
    for set in [0, 7, u8::MAX] {
        site.refuses(print(set, vec![cable]), "1 to 6 tags");
    }
    let mut want = print(4, vec![cable]);
    if let Want::PrintTags { stock, .. } = &mut want {
        *stock = " ".to_owned();
    }
    site.refuses(want, "The name of the label stock is empty");
    let none = Want::FixPlaceTags { places: Vec::new() };
    site.refuses(none, "Nothing is chosen");
}

#[test]
fn all_that_has_no_code_of_its_own_is_named_and_nothing_is_noted() {
    let mut site = Site::wired_mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    for phone in [&mut site, &mut other] {
        let want = phone.add_cable("DIN1", Kind::Cat6Utp);
        phone.does(want);
    }
    let (mine, theirs) = (site.cable("DIN1-C"), other.cable("DIN1-C"));
    site.meets(&mut other);
    let (gone, fine) = (site.cable("KIT1-A"), site.cable("DIN1-A"));
    let kitchen = [site.cable("KIT1-B"), gone];
    let (outlet, panel) = (site.outlet("KIT1"), site.panel("T"));
    // The acts that added the kitchen, the panel and one cable are taken back.
    let history = site.journal.history();
    let by = |n: usize| history[n].id;
    let (room, last) = (by(0), by(5));
    let added = site.does(site.add_cable("KIT1", Kind::Cat6Utp));
    let withdrawn = site.cable("KIT1-C");
    for act in [added, room, last] {
        site.undoes(act);
    }
    let print = |cables: &[CableId]| Want::PrintTags {
        stock: "Wraps".to_owned(),
        tags: 9,
        set: 2,
        cables: cables.to_vec(),
        places: vec![TaggedPlace::Outlet(outlet), TaggedPlace::Panel(panel)],
        strips: vec![],
    };
    let all = [kitchen[0], kitchen[1], mine, theirs, fine, withdrawn];
    let refusal = site.refuses(print(&all), "give each a code of its own or leave it out");
    for named in [
        "KIT1-A at KIT1 (no code yet)",
        "KIT1-B at KIT1 (no code yet)",
        "KIT1-C (no longer in the job)",
        "DIN1-C (two cables are called so)",
        ", KIT1 (no code yet)",
        "Panel T (no longer in the job)",
    ] {
        assert_eq!(refusal.words.matches(named).count(), 1, "{}", refusal.words);
    }
    assert!(!refusal.words.contains("DIN1-A"), "{}", refusal.words);
    site.takes(&refusal, 1);
    let refusal = site.refuses(print(&all), "no code yet");
    assert!(!refusal.words.contains("two cables"), "{}", refusal.words);
    let fix = Want::FixPlaceTags {
        places: vec![TaggedPlace::Outlet(outlet), TaggedPlace::Panel(panel)],
    };
    site.refuses(fix, "KIT1 (no code yet) and Panel T (no longer in the job)");
    // A strip of a panel that is gone is refused as any work on it.
    let mut strip = print(&[fine]);
    if let Want::PrintTags { places, strips, .. } = &mut strip {
        places.clear();
        strips.push((panel, "KITCHEN".to_owned()));
    }
    site.refuses(strip, "This panel is no longer in the job");
}

#[test]
fn two_phones_may_print_one_number_both() {
    let mut site = Site::wired_mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    let (kitchen, dining) = (site.cable("KIT1-A"), site.cable("DIN1-A"));
    let found = |site: &Site| {
        let mut found = check(site.registry());
        found.retain(|finding| matches!(finding.gate, Gate::Now));
        found
    };
    let before = found(&site);
    site.does(print(2, vec![kitchen]));
    other.does(print(2, vec![kitchen]));
    other.does(print(4, vec![dining]));
    site.meets(&mut other);
    assert_eq!(numbers(&site), [1, 1, 2]);
    assert_eq!(found(&site), before);
    assert_eq!(marks(&site, kitchen), ["Printed 1×KIT1-A"; 4].join(", "));
    site.does(print(1, vec![dining]));
    assert_eq!(numbers(&site), [1, 1, 2, 3]);
    let one = site.does(Want::MarkEnds {
        ends: vec![site.near("DIN1-A"), site.far("DIN1-A")],
        kind: MarkKind::Fixed,
        copies: 2,
    });
    site.undoes(one);
}
