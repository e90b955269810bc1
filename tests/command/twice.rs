//! Names, numbers and places that are given once, and what of the plan is changed afterwards.

use bothends::command::Want;
use bothends::domain::ids::PanelId;
use bothends::domain::medium::Connector;
use bothends::journal::{PanelMake, PanelSize};

use super::support::{Site, panel_letters};

fn text(text: &str) -> String {
    text.to_owned()
}

impl Site {
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
