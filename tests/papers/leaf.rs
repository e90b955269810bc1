//! Papers of a rack: what stands on them, read back from the file by poppler.

use std::fs;
use std::path::Path;
use std::process::Command;

use bothends::command::Want;
use bothends::domain::medium::Connector;
use bothends::domain::mount::{BlockKind, Mount, RackBuild, Units};
use bothends::domain::place::{Face, Fitting, Place};
use bothends::names;
use bothends::papers::Making;
use bothends::tags::{
    Booklet, Leaf, LeafKind, Microns, Readers, door_card, elevations, panel_map, panel_maps,
};

use super::proof::readers::run;
use crate::mill::Mill;

/// ISO 216: A4 in micrometres.
const A4: (i32, i32) = (210_000, 297_000);

fn booklet(leaves: Vec<Leaf>) -> Booklet {
    Booklet {
        title: "Main rack".to_owned(),
        width: Microns(A4.0),
        height: Microns(A4.1),
        leaves,
    }
}

/// The mill with a rack of 42 units, two outlets landed on panel B, and a shelf behind.
fn mill() -> Mill {
    let mut mill = Mill::new();
    let rack = mill.rack_id("1A");
    let units = |count| Units::new(count).expect("a count");
    let build = RackBuild::Units(units(42));
    mill.does(&Want::BuildRack { rack, build });
    mill.does(&Want::AddBlock {
        kind: BlockKind::Shelf,
        name: "Router shelf".to_owned(),
        mount: Mount {
            rack,
            unit: Some(2),
            height: units(2),
            face: Face::Rear,
        },
    });
    mill.outlets("KIT", "data", 1);
    mill.outlets("KITS", "camera", 1);
    mill.fill("B");
    mill.land("KIT1-A", "B01");
    mill
}

/// A file on the disk, and the text of each of its pages in the order of the lines.
fn pages(name: &str, booklet: &Booklet) -> Vec<String> {
    let again = Booklet::read(&booklet.to_string());
    assert_eq!(again.as_ref(), Some(booklet));
    let count = Making::pages_of(booklet);
    let mut making = Making::of_booklet(booklet.clone());
    let mut made = 0;
    while making.step() {
        made += 1;
    }
    assert_eq!(made, count);
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("leaf-{name}.pdf"));
    fs::write(&path, making.finish()).expect("it is written");
    let output = run(
        "pdftotext",
        Command::new("pdftotext").arg("-layout").arg(&path).arg("-"),
    );
    assert!(output.status.success());
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    fs::remove_file(&path).expect("it is removed");
    // A form feed ends a page.
    text.split('\u{C}')
        .filter(|page| !page.trim().is_empty())
        .map(str::to_owned)
        .collect()
}

/// The words of the line that begins with a word.
fn line(page: &str, first: &str) -> String {
    let mut lines = page.lines().map(str::split_whitespace);
    let found = lines.find(|words| words.clone().next() == Some(first));
    found.map_or_else(String::new, |words| words.collect::<Vec<_>>().join(" "))
}

#[test]
fn the_map_of_a_panel_is_one_page_with_every_position() {
    let mill = mill();
    let rack = mill.rack_id("1A");
    let maps = panel_maps(mill.registry(), rack);
    assert_eq!(maps.len(), 3);
    let pages = pages("maps", &booklet(maps));
    assert_eq!(pages.len(), 3);
    assert!(pages[0].contains("Panel B"), "{}", pages[0]);
    assert_eq!(
        line(&pages[0], "B01"),
        "B01 KIT1-A Kitchen KIT1 Cat 6 U/UTP"
    );
    assert!(line(&pages[0], "B02").starts_with("B02 KIT1-B, listed Kitchen"));
    assert_eq!(line(&pages[0], "B24"), "B24");
}

#[test]
fn what_a_position_is_patched_to_stands_below_it() {
    let mut mill = mill();
    mill.does(&Want::AddDevice {
        name: "Switch beside the kiln stair".to_owned(),
        room: None,
    });
    let device = mill.registry().devices.iter().next().expect("one").0;
    let panel = mill.panel_id("B");
    // Every position is patched: the map stays one page, and nothing is cut.
    for number in 1..=24 {
        mill.does(&Want::Patch {
            position: mill.position(&format!("B{number:02}")),
            to: Some(Place::Device {
                device,
                port: format!("LAN {number}"),
            }),
        });
    }
    let map = panel_map(mill.registry(), panel).expect("a map");
    assert_eq!(map.rows.len(), 48);
    let pages = pages("cords", &booklet(vec![map]));
    assert_eq!(pages.len(), 1);
    let lines: Vec<&str> = pages[0].lines().map(str::trim).collect();
    for number in 1..=24 {
        let code = format!("B{number:02}");
        let at = lines.iter().position(|line| line.starts_with(&code));
        let below = lines[at.expect("its row") + 1..]
            .iter()
            .find(|line| !line.is_empty());
        let to = format!("patched to LAN {number} of Switch beside the kiln stair");
        assert_eq!(below, Some(&&*to), "{code}");
    }
}

#[test]
fn a_panel_of_96_stays_on_one_page() {
    let mut mill = mill();
    mill.panel("1A", "Z", Connector::Modular, 96, None);
    let map = panel_map(mill.registry(), mill.panel_id("Z")).expect("a map");
    let pages = pages("wide", &booklet(vec![map]));
    assert_eq!(pages.len(), 1);
    for position in ["Z01", "Z48", "Z49", "Z96"] {
        assert!(pages[0].contains(position), "{position}: {}", pages[0]);
    }
}

#[test]
fn every_claim_of_a_position_stands_on_the_map_and_on_the_card() {
    let mut mill = mill();
    mill.outlets("KIT", "data", 2);
    mill.outlets("KITS", "keypad", 2);
    mill.fill("B");
    let mut other = mill.phone(2);
    other.land("KIT2-A", "B15");
    mill.land("KIT1-B", "B15");
    mill.land("KIT2-A", "B20");
    // Shared terminals take several, which nobody disputes.
    for code in ["KITS2-A", "KITS3-A"] {
        let end = mill.far(code);
        let place = Place::rear(mill.position("T01"));
        let fitting = Fitting::Adapter;
        mill.does(&Want::Land {
            end,
            place,
            fitting,
        });
    }
    mill.hears(&other);
    let map = panel_map(mill.registry(), mill.panel_id("B")).expect("a map");
    let card = door_card(
        mill.registry(),
        mill.rack_id("1A"),
        "",
        ["", ""],
        Readers::Trade,
    );
    let at = |leaf: &Leaf, position: &str| {
        let rows = leaf.rows.iter().filter(|row| row[0] == position);
        rows.map(|row| row[1].clone()).collect::<Vec<_>>()
    };
    let planned = mill
        .registry()
        .cables
        .get(mill.cable("KIT2-A"))
        .expect("it");
    let planned = planned.planned[1].whole.get().cloned().flatten();
    let Some(Place::Position { position, .. }) = planned else {
        panic!("it is listed somewhere");
    };
    let listed_at = names::position(mill.registry(), position);
    let notes = |leaf: &Leaf| {
        let rows = leaf.rows.iter().filter(|row| row[0].is_empty());
        rows.map(|row| row[1].clone()).collect::<Vec<_>>()
    };
    for leaf in [&map, &card] {
        assert_eq!(at(leaf, "B15"), ["KIT1-B, disputed", "KIT2-A, disputed"]);
        assert_eq!(at(leaf, "B20"), ["KIT2-A, disputed"]);
        assert_eq!(at(leaf, &listed_at), ["KIT2-A, listed"]);
        let notes = notes(leaf);
        for note in [
            "KIT2-A is landed at B20 too",
            "KIT2-A is landed at B15 too",
            "KIT2-A is landed elsewhere: B15 and B20",
        ] {
            assert!(notes.iter().any(|words| words == note), "{note}: {notes:?}");
        }
    }
    assert_eq!(at(&card, "T01"), ["KITS2-A", "KITS3-A"]);
    // One that belongs where another is landed is on the papers too.
    mill.land("KIT1-A", &listed_at);
    let map = panel_map(mill.registry(), mill.panel_id("B")).expect("a map");
    assert_eq!(at(&map, &listed_at), ["KIT1-A", "KIT2-A, listed"]);
    // Nothing is cut or shrunk: every word is on the page.
    let pages = pages("claims", &booklet(vec![map, card]));
    let words = |page: &str| page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words(&pages[0]).contains("KIT2-A is landed elsewhere: B15 and B20"));
    assert!(words(&pages[1]).contains("KIT2-A is landed at B15 too"));
}

#[test]
fn what_hangs_at_no_rack_unit_is_drawn_below_the_rack() {
    let mut mill = mill();
    let rack = mill.rack_id("1A");
    mill.panel("1A", "Z", Connector::Bnc, 12, None);
    let leaves = elevations(mill.registry(), rack);
    let pages = pages("outside", &booklet(leaves));
    let at = |text: &str| {
        let found = pages[0].find(text);
        found.unwrap_or_else(|| panic!("{text}: {}", pages[0]))
    };
    assert!(at("Panel B") < at("At no rack unit"));
    assert!(at("At no rack unit") < at("Panel Z, 0 of 12 landed"));
}

#[test]
fn the_rack_is_drawn_from_both_sides_and_says_its_scale() {
    let mill = mill();
    let leaves = elevations(mill.registry(), mill.rack_id("1A"));
    assert_eq!(leaves.len(), 2);
    let names = |leaf: &Leaf| {
        leaf.rows
            .iter()
            .map(|row| row[2].clone())
            .collect::<Vec<_>>()
    };
    // What hangs behind takes its units on this side too.
    assert_eq!(
        names(&leaves[0]),
        ["Panel B", "Panel C", "Panel T", "Behind: Router shelf"]
    );
    assert_eq!(
        names(&leaves[1]),
        ["Panel B", "Panel C", "Panel T", "Router shelf"]
    );
    let pages = pages("rack", &booklet(leaves));
    // Arithmetic: 42 units of 44.45 mm (IEC 60297) are 1866.9 mm; a page of A4 takes a tenth of it, and
    // not a fifth.
    assert!(pages[0].contains("Scale 1 : 10"), "{}", pages[0]);
    assert!(pages[1].contains("Router shelf"), "{}", pages[1]);
    assert!(pages[0].contains("1 of 24 landed"), "{}", pages[0]);
}

#[test]
fn what_hangs_behind_a_panel_in_its_units_is_readable_beside_it() {
    let mut mill = mill();
    let rack = mill.rack_id("1A");
    // Panel B hangs at unit 20.
    mill.does(&Want::AddBlock {
        kind: BlockKind::Shelf,
        name: "Clock shelf".to_owned(),
        mount: Mount {
            rack,
            unit: Some(20),
            height: Units::ONE,
            face: Face::Rear,
        },
    });
    let leaves = elevations(mill.registry(), rack);
    let pages = pages("behind", &booklet(leaves));
    let lines = |page: &str| -> Vec<String> {
        let lines = page.lines().filter(|line| line.contains("Panel B"));
        let words = |line: &str| line.split_whitespace().collect::<Vec<_>>().join(" ");
        lines.map(words).collect()
    };
    assert!(!pages[0].contains("Clock shelf"), "{}", pages[0]);
    // On one line: the unit, the shelf within the drawing, then the words beside it, once.
    assert_eq!(
        lines(&pages[1]),
        ["20 Clock shelf 20 Panel B, 1 of 24 landed, Clock shelf"],
        "{}",
        pages[1]
    );
}

#[test]
fn the_card_for_everybody_leaves_alarms_and_cameras_out_and_says_so() {
    let mut mill = mill();
    let name = "Marrowby Mill".to_owned();
    mill.does(&Want::NameJob { name });
    let rack = mill.rack_id("1A");
    let card = |readers| {
        door_card(
            mill.registry(),
            rack,
            "2026-03-02",
            ["Low Water Wiring", "01632 960123"],
            readers,
        )
    };
    let trade = card(Readers::Trade);
    let public = card(Readers::Everybody);
    assert_eq!(trade.kind, LeafKind::Card);
    assert_eq!(trade.title, "Rack: Main rack");
    assert_eq!(
        trade.under,
        "Marrowby Mill, 2026-03-02, Low Water Wiring, 01632 960123"
    );
    let has_camera = |leaf: &Leaf| leaf.rows.iter().any(|row| row[1].starts_with("KITS1"));
    assert!(has_camera(&trade), "{trade:?}");
    assert!(!has_camera(&public), "{public:?}");
    assert_eq!(trade.foot, "Listed: it belongs there and is not landed.");
    assert_eq!(public.rows.len() + 1, trade.rows.len());
    assert_eq!(
        public.foot,
        "Listed: it belongs there and is not landed. 1 row is left out of this card: alarms, cameras \
         and control cable."
    );
    let pages = pages("card", &booklet(vec![public]));
    // What is landed stands alone, what is only listed says so in words.
    assert!(line(&pages[0], "B01").starts_with("B01 KIT1-A Kitchen"));
    let words: Vec<&str> = pages[0].split_whitespace().collect();
    let words = words.join(" ");
    for text in [
        "Rack: Main rack",
        "Marrowby Mill, 2026-03-02, Low Water Wiring",
        "B02 KIT1-B, listed Kitchen",
    ] {
        assert!(words.contains(text), "{words}");
    }
    assert!(pages[0].contains("1 row is left out"), "{}", pages[0]);
}

#[test]
fn a_card_of_many_positions_goes_on_on_another_page_and_loses_none() {
    let row = |at: usize| {
        let code = format!("B{at:04}");
        [
            code,
            "KIT1-A".to_owned(),
            "Kitchen".to_owned(),
            String::new(),
            String::new(),
        ]
    };
    let leaf = Leaf {
        kind: LeafKind::Card,
        title: "Main rack".to_owned(),
        under: "Łódź".to_owned(),
        foot: String::new(),
        units: 0,
        rows: (1..=500).map(row).collect(),
    };
    let pages = pages("many", &booklet(vec![leaf]));
    assert!(pages.len() > 1);
    let all = pages.concat();
    for at in 1..=500 {
        assert!(all.contains(&format!("B{at:04}")), "{at}");
    }
    assert!(pages[0].contains("A ? stands for a sign that the typeface lacks."));
}

#[test]
fn what_is_no_booklet_is_none() {
    for text in [
        "",
        "booklet",
        "Tags\u{1E}300",
        "booklet\u{1D}a\u{1F}b\u{1F}c",
    ] {
        assert_eq!(Booklet::read(text), None, "{text}");
    }
}
