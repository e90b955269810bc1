//! Names, numbers and places that are given once, and what of the plan is changed afterwards.

use bothends::command::Want;
use bothends::domain::ids::{DeviceId, FloorId, OutletTypeId, PanelId, UnitId};
use bothends::domain::medium::{Connector, Kind, Medium};
use bothends::domain::outlet_type::PlannedCable;
use bothends::journal::{PanelMake, PanelSize, Register};

use super::support::{Site, panel_letters};

fn text(text: &str) -> String {
    text.to_owned()
}

fn add_unit(name: &str) -> Want {
    Want::AddUnit { name: text(name) }
}

fn add_floor(name: &str, number: Option<u8>) -> Want {
    let name = text(name);
    Want::AddFloor { name, number }
}

fn add_device(name: &str) -> Want {
    let name = text(name);
    Want::AddDevice { name, room: None }
}

fn cables(count: usize) -> Vec<PlannedCable> {
    let cable = PlannedCable {
        letter: None,
        medium: Medium::indoor(Kind::Cat6Utp),
        purpose: String::new(),
    };
    vec![cable; count]
}

fn add_type(name: &str) -> Want {
    let name = text(name);
    let cables = cables(1);
    Want::AddOutletType { name, cables }
}

/// The first thing of this name.
fn called<'a, I>(mut rows: impl Iterator<Item = (I, &'a Register<String>)>, name: &str) -> I {
    let found = rows.find(|(_, own)| own.get().is_some_and(|own| own == name));
    found.expect(name).0
}

impl Site {
    fn unit(&self, name: &str) -> UnitId {
        let rows = self.registry().units.iter();
        called(rows.map(|(id, row)| (id, &row.name)), name)
    }

    fn floor(&self, name: &str) -> FloorId {
        let rows = self.registry().floors.iter();
        called(rows.map(|(id, row)| (id, &row.name)), name)
    }

    fn device(&self, name: &str) -> DeviceId {
        let rows = self.registry().devices.iter();
        called(rows.map(|(id, row)| (id, &row.name)), name)
    }

    fn outlet_type(&self, name: &str) -> OutletTypeId {
        let rows = self.registry().outlet_types.iter();
        called(rows.map(|(id, row)| (id, &row.name)), name)
    }

    fn number(&self, floor: FloorId) -> Option<u8> {
        self.registry().floors.get(floor)?.number.get().copied()
    }

    /// `1A, unit 12, for the flats`.
    fn stands(&self, panel: PanelId) -> String {
        let row = self.registry().panels.get(panel).expect("a panel");
        let rack = row
            .rack
            .get()
            .and_then(|rack| self.registry().racks.get(*rack));
        let space = rack.and_then(|rack| rack.space.get()).expect("a space");
        let unit = row.unit.get().copied().flatten();
        let unit = unit.map_or_else(|| text("no unit"), |unit| format!("unit {unit}"));
        format!(
            "{space}, {unit}, for {}",
            row.purpose.get().map_or("nothing", String::as_str)
        )
    }
}

#[test]
fn a_name_that_looks_the_same_is_given_once() {
    let mut site = Site::mill();
    site.does(add_unit("Flat A"));
    let second = site.does(add_unit("Flat B"));
    let words = "There is a building or unit called Flat A already. Choose another name.";
    site.refuses(add_unit(" flat\u{200B} a"), words);
    let unit = site.unit("Flat B");
    let rename = |name: &str| Want::RenameUnit {
        unit,
        name: text(name),
    };
    site.refuses(rename("FLAT A"), words);
    // Its own name may be written in another way, and what was taken back takes no name.
    site.does(rename("Flat b"));
    site.undoes(second);
    site.does(add_unit("Flat B"));

    site.does(add_floor("Ground floor", Some(1)));
    site.does(add_floor("Roof", None));
    let words = "There is a floor called Roof already. Choose another name.";
    site.refuses(add_floor("roof ", Some(4)), words);
    let floor = site.floor("Ground floor");
    let rename = |name: &str, number: u8| Want::RenameFloor {
        floor,
        name: text(name),
        number: Some(number),
    };
    site.refuses(rename("ROOF", 1), words);
    site.does(rename("Ground floor", 2));
    site.does(rename("ground floor", 2));

    site.does(add_device("Amplifier 1"));
    site.does(add_device("Amplifier 2"));
    let words = "There is a device called Amplifier 1 already";
    site.refuses(add_device("amplifier 1"), words);
    let device = site.device("Amplifier 2");
    let rename = |name: &str| Want::RenameDevice {
        device,
        name: text(name),
    };
    site.refuses(rename("Amplifier  1"), words);
    site.does(rename("Amplifier 3"));
}

#[test]
fn two_phones_may_give_one_name_twice_and_either_may_be_changed() {
    let mut site = Site::mill();
    let mut other = Site::phone(2);
    site.meets(&mut other);
    for phone in [&mut site, &mut other] {
        phone.does(add_unit("Flat A"));
        phone.does(add_floor("First floor", Some(1)));
    }
    site.meets(&mut other);
    // The number that both have keeps nobody from a better name.
    let floor = site.floor("First floor");
    let rename = |name: &str, number| Want::RenameFloor {
        floor,
        name: text(name),
        number,
    };
    site.does(rename("First floor, mill", Some(1)));
    site.refuses(add_floor("Loft", Some(1)), "Floor number 1 is First floor");
    site.does(rename("First floor, mill", Some(2)));
    site.does(Want::RenameUnit {
        unit: site.unit("Flat A"),
        name: text("Flat B"),
    });
    site.refuses(add_unit("Flat A"), "already");
}

#[test]
fn a_floor_gets_its_number_later_and_no_two_have_one() {
    let mut site = Site::mill();
    site.does(add_floor("Ground floor", Some(0)));
    site.does(add_floor("First floor", None));
    let words = "Floor number 0 is Ground floor already. Choose another, or change that one first.";
    site.refuses(add_floor("Cellar", Some(0)), words);
    let (ground, first) = (site.floor("Ground floor"), site.floor("First floor"));
    let rename = |floor, name: &str, number| Want::RenameFloor {
        floor,
        name: text(name),
        number,
    };
    site.refuses(rename(first, "First floor", Some(0)), words);
    site.refuses(
        rename(first, " ", Some(1)),
        "The name of the floor is empty",
    );
    site.refuses(rename(first, "First floor", None), "it is so already");
    let act = site.does(rename(first, "First floor", Some(1)));
    // What stays as it is was not said again.
    assert_eq!(site.journal.act(act).map(|act| act.facts.len()), Some(1));
    assert_eq!(site.number(first), Some(1));
    let emptied = site.does(rename(ground, "Ground floor", None));
    assert_eq!(site.number(ground), None);
    site.undo_restores(&rename(first, "Upper floor", None));
    site.does(rename(first, "First floor", Some(0)));
    site.undoes(emptied);
    assert_eq!(
        site.number(ground),
        Some(0),
        "taking back is always possible"
    );
}

#[test]
fn a_room_is_taken_off_its_floor_and_out_of_its_unit() {
    let mut site = Site::mill();
    site.does(add_unit("Flat A"));
    site.does(add_floor("Ground floor", Some(0)));
    let (unit, floor) = (site.unit("Flat A"), site.floor("Ground floor"));
    let room = site.room("KIT");
    let on = |floor| Want::PutRoomOnFloor { room, floor };
    let within = |unit| Want::PutRoomInUnit { room, unit };
    site.refuses(on(None), "it is so already");
    site.refuses(within(None), "it is so already");
    site.does(on(Some(floor)));
    site.does(within(Some(unit)));
    let at = |site: &Site| {
        let row = site.registry().rooms.get(room).expect("a room");
        (row.floor.get().copied(), row.unit.get().copied())
    };
    let off = site.does(on(None));
    assert_eq!(at(&site), (None, Some(unit)));
    site.undoes(off);
    assert_eq!(at(&site), (Some(floor), Some(unit)));
    site.undo_restores(&within(None));
    site.does(within(None));
    assert_eq!(at(&site), (Some(floor), None));
}

#[test]
fn a_room_that_is_gone_is_not_taken_off_its_floor_and_a_gone_floor_keeps_none() {
    let mut site = Site::mill();
    let added = site.does(add_floor("Ground floor", Some(0)));
    let floor = Some(site.floor("Ground floor"));
    let room = site.adds_room("Hall", "HAL");
    let hall = site.journal.history().last().map(|act| act.id);
    site.does(Want::PutRoomOnFloor { room, floor });
    site.undoes(added);
    let off = Want::PutRoomOnFloor { room, floor: None };
    let act = site.does(off.clone());
    site.undoes(act);
    site.undoes(hall.expect("an act"));
    site.refuses(off, "This room is no longer in the job");
}

#[test]
fn another_phone_that_moves_a_room_meanwhile_is_not_overruled() {
    let mut site = Site::mill();
    let mut other = Site::phone(2);
    site.does(add_floor("Ground floor", Some(0)));
    site.does(add_floor("First floor", Some(1)));
    let (ground, first) = (site.floor("Ground floor"), site.floor("First floor"));
    let room = site.room("KIT");
    let on = |floor| Want::PutRoomOnFloor { room, floor };
    site.does(on(Some(ground)));
    site.meets(&mut other);
    site.does(on(None));
    other.does(on(Some(first)));
    site.meets(&mut other);
    let row = site.registry().rooms.get(room).expect("a room");
    assert_eq!(row.floor.distinct(), [&first]);
}

#[test]
fn an_outlet_type_is_renamed_and_is_called_like_no_other() {
    let mut site = Site::mill();
    site.does(add_type("Kiln"));
    site.does(add_type("Desk"));
    let words = "There is an outlet type called Kiln already. Choose another name.";
    site.refuses(add_type("KILN"), words);
    // The usual types stand on the same list.
    site.refuses(add_type("Data"), "There is an outlet type called");
    let kind = site.outlet_type("Desk");
    let change = |name: &str, count| Want::ChangeOutletType {
        kind,
        name: text(name),
        cables: cables(count),
    };
    site.refuses(change("kiln", 1), words);
    site.refuses(change("Desk", 1), "it is so already");
    site.refuses(change("", 1), "The name of the outlet type is empty");
    site.refuses(change("Desk", 0), "at least one cable");
    let act = site.does(change("Writing desk", 1));
    assert_eq!(site.journal.act(act).map(|act| act.facts.len()), Some(1));
    site.undo_restores(&change("Desk", 2));
}

#[test]
fn a_panel_is_placed_anew_where_no_other_one_is() {
    let mut site = Site::mill();
    site.adds_rack(2, "A", "Studio rack");
    let (main, studio) = (site.rack("1A"), site.rack("2A"));
    let [b, c] = ["B", "C"].map(|letters| site.panel(letters));
    let place = |panel, rack, unit, purpose: &str| Want::PlacePanel {
        panel,
        rack,
        unit,
        purpose: text(purpose),
    };
    site.refuses(place(b, main, None, ""), "it is so already");
    site.does(place(b, main, Some(12), "The flats"));
    assert_eq!(site.stands(b), "1A, unit 12, for The flats");
    let words =
        "Panel B is at rack unit 12 of Main rack already. Choose another, or move that one first.";
    site.refuses(place(c, main, Some(12), ""), words);
    let add = |letters, unit| Want::AddPanel {
        rack: main,
        make: PanelMake {
            connector: Connector::F,
            positions: PanelSize::new(8).expect("a size"),
        },
        letters: panel_letters(letters),
        unit,
    };
    site.refuses(add("E", Some(12)), words);
    site.does(add("E", None));
    site.does(place(c, studio, Some(12), ""));
    // A purpose alone asks nobody for room.
    let act = site.does(place(c, studio, Some(12), "Aerials"));
    assert_eq!(site.journal.act(act).map(|act| act.facts.len()), Some(1));
    site.refuses(place(c, main, Some(12), "Aerials"), words);
    site.undo_restores(&place(b, studio, Some(13), ""));
    site.does(place(b, main, None, ""));
    assert_eq!(site.stands(b), "1A, no unit, for ");
    site.does(place(c, main, Some(12), "Aerials"));
}

#[test]
fn the_address_on_tags_is_kept_as_it_is_printed() {
    let mut site = Site::mill();
    let set = |address: &str| Want::SetTagAddress {
        address: text(address),
    };
    site.refuses(set(""), "it is so already");
    site.refuses(set("registry.example"), "This is not a web address");
    site.refuses(
        set("https://registry.example/?t"),
        "cannot stand in the address",
    );
    let act = site.does(set(" https://registry.example "));
    let said = |site: &Site| site.registry().job.tag_address.get().cloned();
    assert_eq!(said(&site).as_deref(), Some("HTTPS://REGISTRY.EXAMPLE/"));
    site.refuses(set("https://Registry.example/"), "it is so already");
    site.does(set(""));
    assert_eq!(said(&site).as_deref(), Some(""));
    site.refuses(set(" "), "it is so already");
    site.undoes(act);
}
