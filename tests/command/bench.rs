//! Racks in rack units, and what hangs in them.

use bothends::command::{Want, done_words};
use bothends::domain::ids::RackId;
use bothends::domain::medium::Connector;
use bothends::domain::mount::{BlockKind, Mount, Mountable, RackBuild, Units};
use bothends::domain::place::{Face, Fitting};
use bothends::journal::{PanelMake, PanelSize};
use bothends::names;

use super::support::{Site, panel_letters};

fn units(count: u8) -> Units {
    Units::new(count).expect("a count of rack units")
}

fn mount(rack: RackId, unit: u8, height: u8, face: Face) -> Mount {
    Mount {
        rack,
        unit: Some(unit),
        height: units(height),
        face,
    }
}

/// The mill with a rack of 12 units, panels B and C at units 10 and 11.
fn built() -> (Site, RackId) {
    let mut site = Site::mill();
    let rack = site.rack("1A");
    let build = RackBuild::Units(units(12));
    site.does(Want::BuildRack { rack, build });
    for (letters, unit) in [("B", 10), ("C", 11)] {
        let panel = site.panel(letters);
        site.does(hang(
            Mountable::Panel(panel),
            mount(rack, unit, 1, Face::Front),
        ));
    }
    (site, rack)
}

fn hang(what: Mountable, mount: Mount) -> Want {
    Want::Hang { what, mount }
}

fn add(kind: BlockKind, name: &str, mount: Mount) -> Want {
    Want::AddBlock {
        kind,
        name: name.to_owned(),
        mount,
    }
}

fn panel(rack: RackId, letters: &str, positions: u16, unit: u8) -> Want {
    Want::AddPanel {
        rack,
        make: PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(positions).expect("a size"),
        },
        letters: panel_letters(letters),
        unit: Some(unit),
    }
}

/// Everything in the rack, from the lowest unit up.
fn hung(site: &Site, rack: RackId) -> String {
    let hung = site.registry().hung_in(rack);
    let words = hung.iter().map(|hung| {
        let name = names::mountable(site.registry(), hung.what);
        let at = hung.unit.map_or("nowhere".to_owned(), |unit| {
            names::units_from(unit, hung.height)
        });
        format!("{name} {at} {}", names::face(hung.face))
    });
    words.collect::<Vec<_>>().join("; ")
}

#[test]
fn what_hangs_in_a_rack_is_listed_from_below() {
    let (mut site, rack) = built();
    site.does(add(
        BlockKind::Shelf,
        " Router shelf ",
        mount(rack, 1, 2, Face::Front),
    ));
    // The same units on the other rails are free.
    let want = add(BlockKind::Blank, "", mount(rack, 1, 1, Face::Rear));
    site.does(want.clone());
    assert_eq!(done_words(&want, site.registry()), "Blank is added.");
    assert_eq!(
        hung(&site, rack),
        "Router shelf units 1 to 2 front; Blank unit 1 rear; Panel B unit 10 front; \
         Panel C unit 11 front; Panel T nowhere front"
    );
}

#[test]
fn no_two_things_hang_in_one_place() {
    let (mut site, rack) = built();
    let refusal = site.refuses(
        panel(rack, "E", 48, 9),
        "Panel B is at rack unit 10 of Main rack already. Choose another, or move that one first.",
    );
    let ways: Vec<&str> = refusal.ways_out.iter().map(|way| &*way.label).collect();
    // Two rows of 24 take two units (common practice, no source): above there is one left.
    assert_eq!(
        ways,
        [
            "At units 8 to 9: it is free",
            "Make room: Panel B to unit 11 and Panel C to unit 12"
        ]
    );
    let act = site.takes(&refusal, 2);
    assert_eq!(
        hung(&site, rack),
        "Panel E units 9 to 10 front; Panel B unit 11 front; Panel C unit 12 front; \
         Panel T nowhere front"
    );
    // One undo takes all of it back.
    site.undoes(act);
    site.takes(&refusal, 1);
    assert_eq!(
        hung(&site, rack),
        "Panel E units 8 to 9 front; Panel B unit 10 front; Panel C unit 11 front; \
         Panel T nowhere front"
    );
}

#[test]
fn who_has_no_room_above_goes_down() {
    let (mut site, rack) = built();
    let shelf = add(BlockKind::Shelf, "", mount(rack, 10, 3, Face::Front));
    let refusal = site.refuses(shelf, "Panel B is at rack unit 10");
    let ways: Vec<&str> = refusal.ways_out.iter().map(|way| &*way.label).collect();
    assert_eq!(
        ways,
        [
            "At units 7 to 9: it is free",
            "Make room: Panel C to unit 9 and Panel B to unit 8"
        ]
    );
    site.takes(&refusal, 2);
    assert_eq!(
        hung(&site, rack),
        "Panel B unit 8 front; Panel C unit 9 front; Shelf units 10 to 12 front; \
         Panel T nowhere front"
    );
}

#[test]
fn a_full_rack_says_so() {
    let (mut site, rack) = built();
    site.does(add(BlockKind::Shelf, "", mount(rack, 1, 9, Face::Front)));
    let blank = |height| add(BlockKind::Blank, "", mount(rack, 11, height, Face::Front));
    let refusal = site.refuses(blank(2), "Nothing of 2 rack units high is free there.");
    assert!(refusal.ways_out.is_empty());
    let room = Want::MakeRoom {
        change: Box::new(blank(2)),
    };
    site.refuses(room, "The others in Main rack cannot make room there");
    let refusal = site.refuses(blank(1), "Panel C is at rack unit 11");
    assert_eq!(refusal.ways_out[0].label, "At unit 12: it is free");
}

#[test]
fn nothing_reaches_out_of_its_rack() {
    let (mut site, rack) = built();
    let refusal = site.refuses(
        add(BlockKind::Shelf, "", mount(rack, 12, 2, Face::Rear)),
        "Main rack has 12 rack units, and this would reach to unit 13. Choose a lower one.",
    );
    site.takes(&refusal, 1);
    assert!(hung(&site, rack).contains("Shelf units 11 to 12 rear"));
    site.refuses(
        add(BlockKind::Shelf, "", mount(rack, 0, 1, Face::Rear)),
        "Rack units count from 1, the lowest.",
    );
    let refusal = site.refuses(
        Want::BuildRack {
            rack,
            build: RackBuild::Units(units(6)),
        },
        "Shelf reaches to unit 12 of Main rack. Move it down first.",
    );
    assert_eq!(refusal.ways_out.len(), 0, "it has 12 already");
}

#[test]
fn a_panel_is_as_high_as_somebody_says() {
    let (mut site, rack) = built();
    let panel = site.panel("B");
    let size = |height| Want::SizePanel {
        panel,
        height: units(height),
    };
    let refusal = site.refuses(size(2), "Panel C is at rack unit 11");
    let ways: Vec<&str> = refusal.ways_out.iter().map(|way| &*way.label).collect();
    assert_eq!(
        ways,
        [
            "At units 9 to 10: it is free",
            "Make room: Panel C to unit 12"
        ]
    );
    site.takes(&refusal, 2);
    assert_eq!(
        hung(&site, rack),
        "Panel B units 10 to 11 front; Panel C unit 12 front; Panel T nowhere front"
    );
    site.refuses(
        hang(Mountable::Panel(panel), mount(rack, 1, 1, Face::Rear)),
        "A panel hangs on the front rails",
    );
}

#[test]
fn a_panel_that_has_no_room_above_grows_down_and_stays_in_its_order() {
    let (mut site, rack) = built();
    site.does(panel(rack, "E", 24, 12));
    for unit in [9, 8, 7, 4] {
        site.does(add(
            BlockKind::Blank,
            &format!("Blank {unit}"),
            mount(rack, unit, 1, Face::Front),
        ));
    }
    let want = Want::ReplacePanel {
        panel: site.panel("B"),
        make: PanelMake {
            connector: Connector::Modular,
            positions: PanelSize::new(48).expect("a size"),
        },
        fitting: Fitting::Direct,
    };
    let refusal = site.refuses(want, "Panel C is at rack unit 11");
    let ways: Vec<&str> = refusal.ways_out.iter().map(|way| &*way.label).collect();
    // All that move are named, and what stands where it is is not.
    assert_eq!(
        ways,
        [
            "Make room: Panel B to unit 9, Blank 9 to unit 8, Blank 8 to unit 7 and Blank 7 to unit 6"
        ]
    );
    let before = hung(&site, rack);
    let act = site.takes(&refusal, 1);
    assert_eq!(
        hung(&site, rack),
        "Blank 4 unit 4 front; Blank 7 unit 6 front; Blank 8 unit 7 front; Blank 9 unit 8 front; \
         Panel B units 9 to 10 front; Panel C unit 11 front; Panel E unit 12 front; \
         Panel T nowhere front"
    );
    site.undoes(act);
    assert_eq!(hung(&site, rack), before);
}

#[test]
fn a_board_has_no_rack_units() {
    let (mut site, rack) = built();
    let build = RackBuild::Board;
    site.does(Want::BuildRack { rack, build });
    let refusal = site.refuses(
        panel(rack, "E", 12, 3),
        "Main rack has no rack units. Leave the unit empty.",
    );
    site.takes(&refusal, 1);
    assert!(hung(&site, rack).contains("Panel E nowhere front"));
}

#[test]
fn a_thing_is_taken_out_and_hung_again() {
    let (mut site, rack) = built();
    let act = site.does(add(
        BlockKind::CableGuide,
        "",
        mount(rack, 1, 1, Face::Front),
    ));
    let block = site.registry().blocks.iter().next().expect("a guide").0;
    let what = Mountable::Block(block);
    let before = hung(&site, rack);
    site.does(Want::TakeOut { what });
    assert!(!hung(&site, rack).contains("Cable guide"));
    site.refuses(Want::TakeOut { what }, "it is so already");
    site.does(hang(what, mount(rack, 1, 1, Face::Front)));
    assert_eq!(hung(&site, rack), before);
    let name = " Guide above B ".to_owned();
    let called = |name: &str, mount| Want::RenameBlock {
        block,
        name: name.to_owned(),
        mount,
    };
    site.does(called(&name, None));
    assert!(hung(&site, rack).contains("Guide above B unit 1 front"));
    // Named anew and hung elsewhere at once, and taken back at once.
    let high = mount(rack, 7, 1, Face::Front);
    let moved = site.does(called("Guide", Some(high)));
    assert!(hung(&site, rack).contains("Guide unit 7 front"));
    site.undoes(moved);
    assert!(hung(&site, rack).contains("Guide above B unit 1 front"));
    let panel = Mountable::Panel(site.panel("C"));
    site.does(Want::TakeOut { what: panel });
    assert!(hung(&site, rack).contains("Panel C nowhere front"));
    site.undoes(act);
    site.refuses(
        hang(what, mount(rack, 2, 1, Face::Front)),
        "This block is no longer in the job",
    );
}

#[test]
fn two_phones_may_hang_two_things_in_one_place() {
    let (mut site, rack) = built();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    site.does(add(
        BlockKind::Shelf,
        "Ours",
        mount(rack, 3, 2, Face::Front),
    ));
    other.does(add(
        BlockKind::Shelf,
        "Theirs",
        mount(rack, 4, 2, Face::Front),
    ));
    site.meets(&mut other);
    assert!(hung(&site, rack).starts_with("Ours units 3 to 4 front; Theirs units 4 to 5 front"));
}
