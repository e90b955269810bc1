//! A job of which no cable has a position yet, for the proposal to be measured on.

use bothends::command::Want;
use bothends::domain::ids::RackId;
use bothends::domain::label::{PanelLetters, SpaceCode};
use bothends::domain::medium::Connector;
use bothends::journal::{Journal, PanelMake, PanelSize};

use super::large::{PER_ROOM, Site, letters};

/// A job of at least so many cables of which none has a position yet: TV outlets with four cables of
/// three kinds, to four racks, whose panels hold all but a few.
pub(crate) fn open_job(cables: usize) -> Journal {
    let mut site = Site::new(1);
    let outlets = cables.div_ceil(4);
    let racks: Vec<RackId> = (1..=4)
        .map(|floor| {
            site.add(&Want::AddRack {
                space: SpaceCode::new(floor, "A").expect("a space code"),
                name: format!("Rack {floor}"),
                room: None,
            })
        })
        .collect();
    for room in 0..outlets.div_ceil(PER_ROOM) {
        let in_room = PER_ROOM.min(outlets - room * PER_ROOM);
        site.add_room_of("tv", room, in_room, racks[room % racks.len()]);
    }
    // Two unshielded, one shielded, one coax to an outlet; a panel of each kind too few.
    let kinds = [
        (Connector::Modular, 2),
        (Connector::ShieldedModular, 1),
        (Connector::F, 1),
    ];
    let mut panel = 0;
    for (connector, each) in kinds {
        for count in 0..(outlets * each).div_ceil(24) - 1 {
            add_empty_panel(&mut site, panel, connector, racks[count % racks.len()]);
            panel += 1;
        }
    }
    site.journal
}

fn add_empty_panel(site: &mut Site, number: usize, connector: Connector, rack: RackId) {
    let positions = PanelSize::new(24).expect("a size");
    let letters = PanelLetters::new(&letters(number, 2)).expect("panel letters");
    site.act(&Want::AddPanel {
        rack,
        make: PanelMake {
            connector,
            positions,
        },
        letters,
        unit: None,
    });
}
