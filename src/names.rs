//! How things are called: one wording for refusals, lists and screens alike.

use crate::domain::ids::{BlockId, CableId, ConduitId, OutletId, PanelId, RackId, RoomId};
use crate::domain::label::{LabelCode, LinkCode, OutletCode, PositionCode, conduit_code};
use crate::domain::length::{FootageMark, Millimetres};
use crate::domain::mount::{Mount, Mountable, RackBuild, Units};
use crate::domain::outlet_type::{OutletKind, UsualType};
use crate::domain::place::{
    ConduitEnd, End, Face, Leaves, Place, Position, RunKind, RunName, Side,
};
use crate::domain::work::{Lying, Standing};
use crate::journal::{PanelMake, Registry, WallTime};

/// The code of a run, or what stands in its place. What was taken back is called what it was called
/// before, here as in the rest of this module.
#[must_use]
pub fn cable(registry: &Registry, id: CableId) -> String {
    if let Some(code) = registry.cable_code(id) {
        return code.text;
    }
    let row = registry.cables.get(id);
    let before = match row.and_then(|row| row.name.known()) {
        Some(RunName::Feeds { outlet, letter }) => {
            outlet_code(registry, *outlet).map(|outlet| LabelCode::Run {
                outlet,
                letter: *letter,
            })
        }
        Some(RunName::Ties { .. }) | None => None,
    };
    before.map_or_else(
        || "a cable without a code".to_owned(),
        |code| code.to_string(),
    )
}

/// What stands in the place of a rack that nobody chose.
pub const NO_RACK: &str = "a rack not chosen";

/// A sentence with its stop, whatever somebody typed at its end.
#[must_use]
pub fn stopped(mut words: String) -> String {
    if !words.ends_with(['.', '?', '!']) {
        words.push('.');
    }
    words
}

/// What is doubtful about two length marks, and what to do.
#[must_use]
pub fn doubt(near: FootageMark, far: FootageMark) -> String {
    let what = match near.span(far) {
        None => "one mark in feet and one in metres".to_owned(),
        Some(Millimetres(0)) => between(near, far),
        Some(_) => between(near, far) + ", more than a box holds",
    };
    what + ": read one again"
}

/// How long a category cable is by its marks, where that is more than it may be.
#[must_use]
pub fn excess(near: FootageMark, far: FootageMark) -> String {
    between(near, far) + ", more than the 90 m (295 ft) of a link of category cable"
}

fn between(near: FootageMark, far: FootageMark) -> String {
    let value = near.value.abs_diff(far.value);
    FootageMark { value, ..near }.to_string() + " between the two marks"
}

fn outlet_code(registry: &Registry, id: OutletId) -> Option<OutletCode> {
    let numbering = registry.outlets.get(id)?.number.known()?;
    Some(OutletCode {
        room: *registry.rooms.get(numbering.room)?.code.known()?,
        number: numbering.number,
    })
}

/// The code of an outlet, or what stands in its place.
#[must_use]
pub fn outlet(registry: &Registry, id: OutletId) -> String {
    if let Some(code) = outlet_code(registry, id) {
        return code.to_string();
    }
    let numbering = registry
        .outlets
        .get(id)
        .and_then(|outlet| outlet.number.known());
    numbering.map_or_else(
        || "an outlet without a number".to_owned(),
        |numbering| {
            format!(
                "{} {}",
                room(registry, numbering.room),
                numbering.number.get()
            )
        },
    )
}

/// The name of a room, or what stands in its place.
#[must_use]
pub fn room(registry: &Registry, id: RoomId) -> String {
    let room = registry.rooms.get(id);
    let name = room
        .and_then(|room| room.name.known())
        .filter(|name| !name.trim().is_empty())
        .cloned();
    name.or_else(|| room?.code.known().map(ToString::to_string))
        .unwrap_or_else(|| "a room without a name".to_owned())
}

/// What stands behind the code of a cable that was cancelled; empty of any other.
#[must_use]
pub fn cancelled(registry: &Registry, id: CableId) -> &'static str {
    let row = registry.cables.get(id);
    standing(row.and_then(|row| row.standing.get()))
}

/// The same of whatever has a standing.
#[must_use]
pub fn standing(standing: Option<&Standing>) -> &'static str {
    match standing {
        Some(Standing::Cancelled { .. }) => ", cancelled",
        Some(Standing::Wanted) | None => "",
    }
}

/// The code of a conduit, or what stands in its place.
#[must_use]
pub fn conduit(registry: &Registry, id: ConduitId) -> String {
    let row = registry.conduits.get(id);
    let number = row.and_then(|row| row.number.known());
    number.map_or_else(
        || "a conduit without a number".to_owned(),
        |number| conduit_code(*number),
    )
}

/// From where to where a conduit runs; empty where nobody said.
#[must_use]
pub fn conduit_ends(registry: &Registry, id: ConduitId) -> String {
    let Some(row) = registry.conduits.get(id) else {
        return String::new();
    };
    let mut words = String::new();
    for (at, end) in ["from ", "to "].into_iter().zip(&row.ends) {
        let place = end.get().map(|end| conduit_end(registry, end));
        if let Some(place) = place.filter(|place| !place.trim().is_empty()) {
            if !words.is_empty() {
                words.push(' ');
            }
            words.push_str(at);
            words.push_str(&place);
        }
    }
    words
}

/// Whether a cable lies in a conduit, as the rest of a sentence about it.
#[must_use]
pub fn lying(registry: &Registry, lying: Lying, conduit: ConduitId) -> String {
    let lies = match lying {
        Lying::In => "lies in ",
        Lying::Out => "does not lie in ",
    };
    lies.to_owned() + &self::conduit(registry, conduit)
}

/// What a blank, a shelf or a cable guide is called, or its kind.
#[must_use]
pub fn block(registry: &Registry, id: BlockId) -> String {
    let row = registry.blocks.get(id);
    let name = row.and_then(|row| row.name.known());
    let name = name.filter(|name| !name.trim().is_empty()).cloned();
    let kind = || row.and_then(|row| row.kind.known());
    name.or_else(|| kind().map(|kind| kind.words().to_owned()))
        .unwrap_or_else(|| "a block without a name".to_owned())
}

/// What something that hangs in a rack is called.
#[must_use]
pub fn mountable(registry: &Registry, what: Mountable) -> String {
    match what {
        Mountable::Panel(id) => panel(registry, id),
        Mountable::Device(id) => {
            let name = registry.devices.get(id).and_then(|row| row.name.known());
            name.map_or("a device", String::as_str).to_owned()
        }
        Mountable::Block(id) => block(registry, id),
    }
}

/// How a rack is built, as the rest of a sentence about it.
#[must_use]
pub fn built(build: RackBuild) -> String {
    match build {
        RackBuild::Units(units) => format!("it has {}", units_of(units)),
        RackBuild::Enclosure => "it is a structured enclosure".to_owned(),
        RackBuild::Board => "it is a board".to_owned(),
        RackBuild::Rail => "it is a terminal rail".to_owned(),
    }
}

fn units_of(units: Units) -> String {
    let many = if units.get() == 1 { "" } else { "s" };
    format!("{} rack unit{many}", units.get())
}

/// How high something is.
#[must_use]
pub fn units_high(height: Units) -> String {
    units_of(height) + " high"
}

/// The rack units from a lower edge up: `unit 5`, `units 5 to 6`.
#[must_use]
pub fn units_from(unit: u8, height: Units) -> String {
    match height.get() {
        1 => format!("unit {unit}"),
        height => format!("units {unit} to {}", unit.saturating_add(height - 1)),
    }
}

/// The front or the rear of a rack.
#[must_use]
pub fn face(face: Face) -> &'static str {
    match face {
        Face::Front => "front",
        Face::Rear => "rear",
    }
}

/// Where something hangs, as the rest of a sentence about it.
#[must_use]
pub fn mount(registry: &Registry, mount: Mount) -> String {
    let rack = rack(registry, mount.rack);
    let Some(unit) = mount.unit else {
        return format!("in {rack}");
    };
    let units = units_from(unit, mount.height);
    format!("at {units} of {rack}, {}", face(mount.face))
}

/// Where a conduit begins or ends, in words; empty where nobody said.
#[must_use]
pub fn conduit_end(registry: &Registry, at: &ConduitEnd) -> String {
    match at {
        ConduitEnd::Outlet(id) => outlet(registry, *id),
        ConduitEnd::Rack(id) => rack(registry, *id),
        ConduitEnd::Room(id) => room(registry, *id),
        ConduitEnd::Words(words) => words.clone(),
    }
}

/// A floor or unit in words. A number or one letter alone says nothing, so its kind goes before it.
#[must_use]
pub fn part(kind: &str, name: &str) -> String {
    let bare = name.trim();
    let is_number = |bare: &str| bare.bytes().all(|b| matches!(b, b'0'..=b'9' | b'-'));
    if bare.len() == 1 || (!bare.is_empty() && is_number(bare)) {
        format!("{kind} {bare}")
    } else {
        name.to_owned()
    }
}

/// What a rack is called, or its space.
#[must_use]
pub fn rack(registry: &Registry, id: RackId) -> String {
    let rack = registry.racks.get(id);
    let name = rack
        .and_then(|rack| rack.name.known())
        .filter(|name| !name.trim().is_empty())
        .cloned();
    name.or_else(|| rack?.space.known().map(|space| format!("Rack {space}")))
        .unwrap_or_else(|| "a rack without a name".to_owned())
}

/// The letters of a panel, or what stands in their place.
#[must_use]
pub fn panel(registry: &Registry, id: PanelId) -> String {
    let letters = registry
        .panels
        .get(id)
        .and_then(|panel| panel.letters.known());
    letters.map_or_else(
        || "a panel without a letter".to_owned(),
        |letters| format!("Panel {letters}"),
    )
}

/// What a panel is: `8 ports, RCA`, `1 alarm terminal`.
#[must_use]
pub fn make(make: PanelMake) -> String {
    let words = make.connector.words();
    let of = make.positions.get();
    let many = if of == 1 { "" } else { "s" };
    if words.ends_with("terminals") {
        let word = words.trim_end_matches('s').to_lowercase();
        return format!("{of} {word}{many}");
    }
    format!("{of} {}{many}, {words}", make.connector.position_word())
}

/// The short code of a position: `B07`.
#[must_use]
pub fn position_code(registry: &Registry, position: Position) -> Option<PositionCode> {
    let panel = *registry.panels.get(position.panel)?.letters.get()?;
    Some(PositionCode {
        panel,
        number: position.number,
    })
}

/// The full identifier of a position: `1A-B07`.
#[must_use]
pub fn link_code(registry: &Registry, position: Position) -> Option<LinkCode> {
    let rack = *registry.panels.get(position.panel)?.rack.get()?;
    let space = *registry.racks.get(rack)?.space.get()?;
    Some(LinkCode {
        space,
        position: position_code(registry, position)?,
    })
}

/// The short code of a position, or what stands in its place.
#[must_use]
pub fn position(registry: &Registry, at: Position) -> String {
    let code = position_code(registry, at).map(|code| code.to_string());
    code.unwrap_or_else(|| {
        format!(
            "position {} of {}",
            at.number.get(),
            panel(registry, at.panel)
        )
    })
}

/// A place in words.
#[must_use]
pub fn place(registry: &Registry, place: &Place) -> String {
    match place {
        Place::Jack { outlet: id, jack } => format!("jack {jack} of {}", outlet(registry, *id)),
        Place::Position {
            position: at,
            face: Face::Rear,
        } => position(registry, *at),
        Place::Position {
            position: at,
            face: Face::Front,
        } => format!("the front of {}", position(registry, *at)),
        Place::Device { device, port } => {
            let name = registry
                .devices
                .get(*device)
                .and_then(|device| device.name.known());
            format!("{port} of {}", name.map_or("a device", String::as_str))
        }
        Place::Joint { joint, way } => {
            let name = registry
                .joints
                .get(*joint)
                .and_then(|joint| joint.name.known());
            format!("way {way} of {}", name.map_or("a joint", String::as_str))
        }
    }
}

/// What kind of run a cable is: a home run unless it is declared otherwise.
#[must_use]
pub fn run_kind(registry: &Registry, id: CableId) -> RunKind {
    let Some(cable) = registry.cables.get(id) else {
        return RunKind::HomeRun;
    };
    match (cable.name.get(), cable.leaves.get()) {
        (Some(RunName::Ties { .. }), _) => RunKind::TieLine,
        (_, Some(Leaves::Outlet(_))) => RunKind::LocalRun,
        (Some(RunName::Feeds { .. }) | None, Some(Leaves::Rack(_)) | None) => RunKind::HomeRun,
    }
}

/// Where a side of a run is, in words: `KIT2`, `Main rack`, `out of KIT1`.
#[must_use]
pub fn side(registry: &Registry, id: CableId, side: Side) -> String {
    let Some(cable) = registry.cables.get(id) else {
        return String::new();
    };
    // Where the run was taken back, what it was is still the best that can be said.
    match (side, cable.name.known(), cable.leaves.get()) {
        (Side::Near, Some(RunName::Feeds { outlet: id, .. }), _) => outlet(registry, *id),
        (Side::Near, Some(RunName::Ties { near, .. }), _) => rack(registry, *near),
        (Side::Near, None, _) => "an outlet not named".to_owned(),
        (Side::Far, Some(RunName::Ties { far, .. }), _) => rack(registry, *far),
        (Side::Far, _, Some(Leaves::Outlet(id))) => outlet(registry, *id),
        (Side::Far, _, Some(Leaves::Rack(_)) | None) => {
            let home = registry.home_rack(id);
            home.map_or_else(|| NO_RACK.to_owned(), |id| rack(registry, id))
        }
    }
}

/// How the reason begins for which a position is kept for a tail whose cable nobody knows; its number
/// follows.
pub const LOOSE_END: &str = "Loose end ";

/// How a remark begins that says that the tags of two crossed ends were changed over.
pub const TAGS_CHANGED_OVER: &str = "Tags changed over with ";

/// The words of an outlet type; of a usual one that this version does not know, its key.
#[must_use]
pub fn outlet_kind(registry: &Registry, kind: OutletKind) -> String {
    match kind {
        OutletKind::Usual(key) => {
            UsualType::get(key).map_or_else(|| key.to_owned(), |usual| usual.words.to_owned())
        }
        OutletKind::Own(id) => {
            let own = registry.outlet_types.get(id);
            own.and_then(|own| own.name.get())
                .cloned()
                .unwrap_or_else(|| "a type without a name".to_owned())
        }
    }
}

/// The code of an end: `KIT2-C`, or `KIT2-C.1` for a leg.
#[must_use]
pub fn end_code(registry: &Registry, end: End) -> String {
    let code = cable(registry, end.cable);
    match end.leg {
        None => code,
        Some(leg) => format!("{code}.{}", leg.get()),
    }
}

/// An end in words: `KIT2-C at Main rack`; a leg as `KIT2-C.1 at Main rack`.
#[must_use]
pub fn end(registry: &Registry, end: End) -> String {
    let code = end_code(registry, end);
    format!("{code} at {}", side(registry, end.cable, end.side))
}

/// Names in a row: “A”, “A and B”, “A, B and C”.
#[must_use]
pub fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// A day by the clock of the phone that wrote, as year, month and day (ISO 8601, UTC).
#[must_use]
pub fn day(time: WallTime) -> String {
    let days = i64::try_from(time.0 / 86_400_000).unwrap_or(0);
    // Days to civil date in the proleptic Gregorian calendar, in eras of 400 years that begin in March.
    let shifted = days + 719_468;
    let era = shifted.div_euclid(146_097);
    let day_of_era = shifted.rem_euclid(146_097);
    let year_of_era =
        (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 {
        month_from_march + 3
    } else {
        month_from_march - 9
    };
    let year = year_of_era + era * 400 + i64::from(month <= 2);
    format!("{year:04}-{month:02}-{day:02}")
}

/// The time of day by the clock of the phone that wrote (UTC).
#[must_use]
pub fn hour(time: WallTime) -> String {
    let minutes = time.0 / 60_000 % 1_440;
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::medium::Connector;
    use crate::journal::PanelSize;

    #[test]
    fn one_position_is_no_several() {
        let of = |connector, count| {
            let positions = PanelSize::new(count).expect("1 to 96");
            make(PanelMake {
                connector,
                positions,
            })
        };
        assert_eq!(of(Connector::Rca, 1), "1 port, RCA");
        assert_eq!(of(Connector::Rca, 8), "8 ports, RCA");
        assert_eq!(of(Connector::AlarmTerminal, 1), "1 alarm terminal");
        assert_eq!(of(Connector::AlarmTerminal, 12), "12 alarm terminals");
    }

    #[test]
    fn days_are_those_of_the_calendar() {
        // Unix time 0 and 1234567890 (2009-02-13 23:31:30 UTC) are published widely; 951782400 is
        // the leap day of 2000.
        for (seconds, expected) in [
            (0, "1970-01-01"),
            (1_234_567_890, "2009-02-13"),
            (951_782_400, "2000-02-29"),
        ] {
            assert_eq!(day(WallTime(seconds * 1000)), expected);
        }
        assert_eq!(hour(WallTime(1_234_567_890_000)), "23:31");
    }
}
