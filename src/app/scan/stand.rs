//! Where whoever scans stands: what he said, the tag of a place, or the screen that he came from.

use crate::app::racks::key;
use crate::app::{Field, Model, Screen};
use crate::domain::ids::{PanelId, ThingId};
use crate::domain::label::RoomCode;
use crate::journal::Registry;
use crate::query::find::Target;
use crate::query::room_of;
use crate::query::scan::{Scanned, Stand};
use crate::walk;

/// How a stand is kept in its field.
#[must_use]
pub fn stand_key(stand: Stand) -> String {
    match stand {
        Stand::Unknown => String::new(),
        Stand::Wall => "wall".to_owned(),
        Stand::Room(id) => format!("room {}", id.0),
        Stand::Outlet(id) => format!("outlet {}", id.0),
        Stand::Rack(id) => format!("rack {}", id.0),
    }
}

/// Where whoever scans stands, from the field that holds it.
#[must_use]
pub fn stand(model: &Model) -> Stand {
    let key = model.fields.get(Field::ScanStand);
    let (word, id) = key.split_once(' ').unwrap_or((key, ""));
    let thing = || id.parse::<ThingId>().ok();
    match (word, thing()) {
        ("wall", _) => Stand::Wall,
        ("room", Some(id)) => Stand::Room(id.into()),
        ("outlet", Some(id)) => Stand::Outlet(id.into()),
        ("rack", Some(id)) => Stand::Rack(id.into()),
        _ => Stand::Unknown,
    }
}

/// Keeps where whoever scans stands.
pub(super) fn say(model: &mut Model, stand: Stand) {
    model.fields.set(Field::ScanStand, stand_key(stand));
}

/// Where whoever comes from the screen of a place stands; none where it says nothing of that.
pub(super) fn at_screen(model: &Model, from: Screen) -> Option<Stand> {
    let registry = model.registry()?;
    match from {
        Screen::Outlet(outlet) | Screen::Pen { outlet, .. } => Some(Stand::Outlet(outlet)),
        Screen::Room(room) | Screen::Cover(room) => Some(Stand::Room(room)),
        // The list of rooms is where the app opens: it says no more than that the rack was left.
        Screen::Wall if matches!(stand(model), Stand::Rack(_)) => Some(Stand::Unknown),
        Screen::Panel { panel, .. } => at_panel(registry, panel),
        Screen::Position { position, .. } => at_panel(registry, position.panel),
        Screen::Rack | Screen::Proposal | Screen::Hand | Screen::HandCable(_) | Screen::Remotes => {
            let racks = walk::racks(registry);
            let only = racks.first().filter(|_| racks.len() == 1);
            // Of several racks it is the one that he looks into, or where he stood before, if he did.
            let open = model.fields.get(Field::OpenRack);
            let open = racks.iter().find(|rack| key(Some(**rack)) == open);
            Some(match (only.or(open), stand(model)) {
                (Some(rack), _) => Stand::Rack(*rack),
                (None, rack @ Stand::Rack(_)) => rack,
                (None, _) => Stand::Unknown,
            })
        }
        _ => None,
    }
}

/// Whether whoever goes from a screen to another walks on with it. A plate or a panel counts where he came to
/// it through its wall or its rack; what was looked up is not where he is.
pub(super) fn is_walk(walked_to: Option<Screen>, from: Option<Screen>, to: Screen) -> bool {
    let is_place = |screen: Screen| {
        matches!(
            screen,
            Screen::Outlet(_)
                | Screen::Pen { .. }
                | Screen::Elevation { .. }
                | Screen::Panel { .. }
                | Screen::Position { .. }
                | Screen::HandCable(_)
        )
    };
    match (from, to) {
        (_, to) if looks_up(to) => false,
        (from, to) if is_place(to) => {
            from.is_some_and(|from| Some(from) == walked_to || !(is_place(from) || looks_up(from)))
        }
        (from, to) => (from, to) != (Some(Screen::Find), Screen::Rack),
    }
}

/// Whether a screen is for looking things up, wherever one is.
fn looks_up(screen: Screen) -> bool {
    matches!(
        screen,
        Screen::Find
            | Screen::Scan
            | Screen::Cable(_)
            | Screen::Feeds(_)
            | Screen::Punch
            | Screen::History
    )
}

/// Whoever is at a panel stands at its rack.
fn at_panel(registry: &Registry, panel: PanelId) -> Option<Stand> {
    let rack = registry.panels.get(panel)?.rack.get().copied();
    rack.map(Stand::Rack)
}

/// A tag of a place says where one stands.
pub(super) fn stand_at_place(model: &mut Model, scanned: &Scanned, holds: bool) {
    if !holds {
        return;
    }
    let stand = model
        .registry()
        .and_then(|registry| match scanned.targets.first()? {
            Target::Outlet(id) => Some(Stand::Outlet(*id)),
            Target::Rack(id) => Some(Stand::Rack(*id)),
            Target::Panel(panel) => at_panel(registry, *panel),
            _ => None,
        });
    if let Some(stand) = stand {
        say(model, stand);
    }
}

pub(super) fn room_code(registry: &Registry, stand: Stand) -> Option<RoomCode> {
    let room = match stand {
        Stand::Room(room) => room,
        Stand::Outlet(outlet) => room_of(registry, outlet)?,
        Stand::Unknown | Stand::Wall | Stand::Rack(_) => return None,
    };
    let room = registry.rooms.get(room)?;
    room.code.get().copied()
}
