//! Headings as people spell them. The spellings are common practice, no source.

use bothends::exchange::schedule::{Column, Header, Schedule, Use};

fn schedule(text: &str) -> Schedule {
    Schedule::read(text.as_bytes()).expect("the text holds rows")
}

/// The proposed uses of a header over a code in the first column, in words: a column's heading of
/// ours, `-` or `?`.
fn proposed(header: &str) -> Vec<&'static str> {
    proposed_over(header, "KIT1-A")
}

/// The proposed uses of a header over some rows.
fn proposed_over(header: &str, rows: &str) -> Vec<&'static str> {
    let schedule = schedule(&format!("{header}\n{rows}\n"));
    let uses = schedule.mapping().uses().iter();
    let word = |held: &Use| match held {
        Use::Holds(column) => column.heading(),
        Use::Ignored => "-",
        Use::Unknown => "?",
    };
    uses.map(word).collect()
}

#[test]
fn usual_spellings_are_known() {
    for (column, spellings) in [
        (
            Column::Code,
            &[
                "Label",
                "LABEL CODE",
                "Cable ID",
                "cable_id",
                "CableID",
                "Cable No.",
                "Cable #",
                "Cable Number",
                "cable-numbers",
                "Wire no",
                "Cable N°",
                "Cable nº",
                "Tag",
                "Run",
                "Cable\nID",
                "  Cable   ID ",
                "ID",
                "Identifier:",
            ][..],
        ),
        (Column::Floor, &["Floor", "Level", "Storey", "FLOORS"]),
        (
            Column::Unit,
            &["Unit", "Flat", "Apartment", "Apt.", "Building"],
        ),
        (
            Column::Room,
            &["Room", "Rooms", "Room name", "Location", "Area"],
        ),
        (
            Column::RoomCode,
            &["Room code", "Room abbr.", "RoomCode", "Room No."],
        ),
        (
            Column::Outlet,
            &[
                "Outlet",
                "Outlet #",
                "Outlet number",
                "Plate no.",
                "Wall plate",
            ],
        ),
        (
            Column::OutletType,
            &["Outlet type", "Type of outlet", "Plate type"],
        ),
        (
            Column::Spot,
            &[
                "Place on the wall",
                "Position on wall",
                "Wall",
                "Exact spot",
            ],
        ),
        (Column::Letter, &["Letter", "Cable letter", "Suffix"]),
        (
            Column::Medium,
            &[
                "Cable type",
                "Type",
                "Wire",
                "CABLE TYPES",
                "Medium",
                "Type of cable",
                "Category",
            ],
        ),
        (
            Column::Purpose,
            &["Purpose", "Used for", "Function", "Description", "Device"],
        ),
        (
            Column::From,
            &["From", "Leaves from", "Source", "From room"],
        ),
        (
            Column::Rack,
            &["Rack", "Cabinet", "Rack name", "Head end", "Head-end"],
        ),
        (Column::Panel, &["Panel", "Patch panel", "Patch Panel No."]),
        (
            Column::Position,
            &[
                "Position",
                "Port",
                "Patch panel port",
                "Port #",
                "Termination",
                "Terminates at",
            ],
        ),
        (
            Column::OldName,
            &["Old name", "Previous label", "Existing label", "Alias"],
        ),
        (
            Column::Length,
            &[
                "Length",
                "Length (ft)",
                "Length [m]",
                "Est. length",
                "Cable length, m",
            ],
        ),
        (
            Column::Notes,
            &["Notes", "Note", "Remarks", "Notes/Remarks", "Comments"],
        ),
    ] {
        for spelling in spellings {
            let quoted = format!("\"{spelling}\",\"Nobody knows\"");
            assert_eq!(proposed(&quoted), [column.heading(), "?"], "{spelling:?}");
        }
    }
}

#[test]
fn headings_that_may_mean_two_things_yield_to_surer_ones() {
    for (header, uses) in [
        ("Cable,Type,Room", &["Label code", "Cable type", "Room"][..]),
        ("Cable ID,Cable,Room", &["Label code", "Cable type", "Room"]),
        (
            "Type,Cable type,Room",
            &["Outlet type", "Cable type", "Room"],
        ),
        (
            "No.,Outlet type,Wire",
            &["Label code", "Outlet type", "Cable type"],
        ),
        (
            "Description,Purpose,Label",
            &["Notes", "Purpose", "Label code"],
        ),
        // Where a run goes "to" differs between schedules: somebody has to say.
        ("Label,From,To", &["Label code", "Leaves from", "?"]),
        // The second of two alike stays open; nothing is overwritten.
        ("Label,Notes,Remarks", &["Label code", "Notes", "?"]),
        ("Label,,Room", &["Label code", "?", "Room"]),
    ] {
        assert_eq!(proposed(header), uses, "{header}");
    }
}

#[test]
fn what_stands_in_a_column_speaks_against_its_heading() {
    for (header, rows, uses) in [
        // Numbers that are no codes are the names so far, wherever the codes stand.
        (
            "Wire No,Area,Kind",
            "W001,Lobby,Cat 6\nW002,Lobby,Cat 6",
            &["Old name", "Room", "Cable type"][..],
        ),
        (
            "Tag no,Label code,Room",
            "W001,KIT1-A,Kitchen",
            &["Old name", "Label code", "Room"],
        ),
        (
            "No.,Room,Type",
            "1,Hall,Cat 6",
            &["Old name", "Room", "Cable type"],
        ),
        ("Cable,Room", "Cat 6,Hall", &["Cable type", "Room"]),
        // One code among them, as pens write it too, and they are codes.
        (
            "Wire No,Room",
            "W001,Hall\nhal1 a,Hall",
            &["Label code", "Room"],
        ),
        // A digit is not taken for a letter of a code.
        ("Wire No,Room", "W0018,Hall", &["Old name", "Room"]),
        // The names so far stand in a column of their own.
        (
            "Wire No,Old name,Outlet",
            "W001,door 1,1",
            &["Label code", "Old name", "Outlet number"],
        ),
        // Numbers under a heading with a unit are lengths.
        (
            "Label,Run ft",
            "KIT1-A,31\nKIT1-B,32.5",
            &["Label code", "Length"],
        ),
        ("Run ft,Room", "31,Hall\n32 ft,Hall", &["Length", "Room"]),
        ("Label,Length est", "KIT1-A,31", &["Label code", "Length"]),
        (
            "Label,Length est,Run m",
            "KIT1-A,31,7",
            &["Label code", "Length", "?"],
        ),
        ("Run m,Room", "W31,Hall", &["Old name", "Room"]),
        ("Run,Room", "31,Hall", &["Old name", "Room"]),
        // An empty column is what its heading says.
        ("Label,Room", ",Hall", &["Label code", "Room"]),
        (
            "Area,Location",
            "Lobby,desk",
            &["Room", "Place on the wall"],
        ),
        (
            "From (closet),Area,Position on wall",
            "MDF,Lobby,desk",
            &["Rack", "Room", "Place on the wall"],
        ),
    ] {
        assert_eq!(proposed_over(header, rows), uses, "{header}: {rows}");
    }
}

#[test]
fn our_own_headings_are_all_known() {
    let header: Vec<&str> = Column::ALL.iter().map(|column| column.heading()).collect();
    assert_eq!(proposed(&header.join(",")), header);
    assert_eq!(proposed("Label code,Apostrophe guard"), ["Label code", "-"]);
}

#[test]
fn the_header_is_found_below_a_title_and_may_be_absent() {
    for (text, header) in [
        ("Label,Room\nK1,Hall\n", Header::Record(0)),
        (
            "Marrowby Mill\nAs of May\n\nLabel,Room,Notes\nK1,Hall,\n",
            Header::Record(2),
        ),
        // A word that happens to be a heading does not make a title the header.
        (
            "Room list,,\nLabel,Room,Notes\nK1,Hall,\n",
            Header::Record(1),
        ),
        ("K1,Hall,Cat 6\nK2,Hall,Cat 6\n", Header::Absent),
        ("Foo,Bar,Baz\nK1,Hall,Cat 6\n", Header::Record(0)),
    ] {
        assert_eq!(schedule(text).header(), header, "{text:?}");
    }
}

#[test]
fn the_person_may_amend_the_mapping() {
    let mut schedule = schedule("Ref.,Wohin,Art\nK1,Hall,Cat 6\nK2,Hall,Cat 6\nK3,Loft,Cat 6\n");
    assert_eq!(schedule.header(), Header::Record(0));
    let unknown: Vec<usize> = schedule.mapping().unknown().collect();
    assert_eq!(unknown, [1, 2]);
    assert_eq!(schedule.mapping().headings(), ["Ref.", "Wohin", "Art"]);
    assert_eq!(schedule.samples(1, 3), ["Hall", "Loft"]);
    assert_eq!(schedule.samples(0, 2), ["K1", "K2"]);
    assert!(schedule.samples(9, 2).is_empty());

    let mapping = schedule.mapping_mut();
    assert_eq!(mapping.assign(1, Use::Holds(Column::Room)), None);
    assert_eq!(mapping.assign(2, Use::Ignored), None);
    assert_eq!(mapping.unknown().count(), 0);
    assert_eq!(mapping.place_of(Column::Room), Some(1));
    assert_eq!(mapping.heading_of(Column::Room), Some("Wohin"));
    // Giving a column to another place takes it from the first, which is then open again.
    assert_eq!(mapping.assign(2, Use::Holds(Column::Room)), Some(1));
    assert_eq!(mapping.uses()[1], Use::Unknown);
    // The same once more changes nothing; a place outside the sheet neither.
    assert_eq!(mapping.assign(2, Use::Holds(Column::Room)), None);
    let before = mapping.clone();
    assert_eq!(mapping.assign(3, Use::Holds(Column::Code)), None);
    assert_eq!(*mapping, before);
    assert_eq!(schedule.reading().rows[0].cell(Column::Room), Some("Cat 6"));
}

#[test]
fn a_sheet_without_header_is_mapped_by_place() {
    let mut schedule = schedule("K1,Hall,Cat 6\nK2,Loft\n");
    assert_eq!(schedule.mapping().headings(), ["", "", ""]);
    for (place, column) in [(0, Column::Code), (1, Column::Room), (2, Column::Medium)] {
        schedule.mapping_mut().assign(place, Use::Holds(column));
    }
    let reading = schedule.reading();
    assert_eq!(reading.rows.len(), 2);
    assert_eq!(reading.rows[0].cell(Column::Medium), Some("Cat 6"));
    assert_eq!(reading.rows[1].cell(Column::Medium), None);
    // A header that the person points at is used, and its own mapping proposed.
    schedule.set_header(Header::Record(0));
    assert_eq!(schedule.reading().rows.len(), 0);
    schedule.set_header(Header::Record(7));
    assert_eq!(schedule.header(), Header::Absent);
}

#[test]
fn letters_under_what_is_headed_as_cables_tell_the_cables_of_an_outlet_apart() {
    let rows = "Kitchen,1,A,Cat 6 U/UTP\nKitchen,1,B,RG-6";
    for heading in ["Cable", "Cable no", "Cable ID"] {
        let header = format!("Room,Outlet,{heading},Type");
        assert_eq!(
            proposed_over(&header, rows),
            ["Room", "Outlet number", "Letter", "Cable type"]
        );
    }
}
