//! What was done, in a few words for the bar with the undo button.

use super::{Correction, Want};
use crate::domain::ids::{LooseEndId, PanelId, RoomId};
use crate::domain::label::{PositionNumber, conduit_code};
use crate::domain::medium::Medium;
use crate::domain::mount::Mountable;
use crate::domain::place::{End, Fitting, Place, Placement, Position};
use crate::domain::text::folded;
use crate::domain::work::{Availability, MarkKind, PullOutcome, Spot, TestOutcome};
use crate::journal::{Registry, Room};
use crate::{names, walk};

/// What is said of the adapter through which an end is landed.
fn adapter_words(registry: &Registry, at: End) -> &'static str {
    let row = registry.cables.get(at.cable);
    let record = row.and_then(|row| row.end(at.cable, at.side));
    let placement = record.and_then(|record| record.placement.get(at.leg)?.get());
    match placement {
        Some(Placement::Landed {
            fitting: Fitting::Adapter,
            ..
        }) => " with an adapter",
        _ => "",
    }
}

/// Names another room of the same name on the same floor, where there is one.
fn twin(registry: &Registry, room: RoomId) -> String {
    let Some(own) = registry.rooms.get(room) else {
        return String::new();
    };
    let name = |row: &Room| row.name.get().map(|name| folded(name));
    let mut others = registry.rooms.iter().filter(|(id, _)| *id != room);
    let twin = others.find(|(_, row)| {
        let is_here = row.floor.get() == own.floor.get() && row.unit.get() == own.unit.get();
        is_here && !row.added.is_empty() && name(row) == name(own)
    });
    match twin.and_then(|(_, row)| row.code.get()) {
        None => String::new(),
        Some(code) => [
            " There is another room of this name here: ",
            code.as_str(),
            ".",
        ]
        .concat(),
    }
}

/// Says what was done.
#[must_use]
pub fn done_words(want: &Want, registry: &Registry) -> String {
    let cable = |id| names::cable(registry, id);
    let outlet = |id| names::outlet(registry, id);
    let end = |end: &End| names::end(registry, *end);
    let loose_number = |id| {
        let row = registry.loose_ends.get(id);
        row.and_then(|row| row.number.get())
    };
    let loose = |id| {
        let number = loose_number(id).copied().unwrap_or_default();
        format!("Loose end {number}")
    };
    match want {
        Want::NameJob { name } => format!("The job is called {name}."),
        Want::AddUnit { name } | Want::AddFloor { name, .. } | Want::AddOutletType { name, .. } => {
            format!("{name} is added.")
        }
        Want::AddRoom { name, code, .. } => {
            let mut rooms = registry.rooms.iter();
            let own = rooms.find(|(_, row)| row.code.get() == Some(code));
            let twin = own.map_or_else(String::new, |(id, _)| twin(registry, id));
            [name, " is added as ", code.as_str(), ".", &twin].concat()
        }
        Want::SwapRooms { one, other } => format!(
            "{} and {} changed places.",
            names::room(registry, *one),
            names::room(registry, *other)
        ),
        Want::AddOutlet { room, .. } => {
            // It got the next number of its room.
            let last = walk::outlets(registry, *room).last().copied();
            let called = last.map_or_else(|| "An outlet".to_owned(), outlet);
            format!("{called} is added in {}.", names::room(registry, *room))
        }
        Want::AddCable { outlet: at, .. } => format!("A cable is added at {}.", outlet(*at)),
        Want::AddTie { .. } => "A tie line is added.".to_owned(),
        Want::AddRack { name, .. } | Want::AddDevice { name, .. } | Want::AddJoint { name, .. } => {
            format!("{name} is added.")
        }
        Want::AddPanel { letters, .. } => format!("Panel {letters} is added."),
        Want::CancelOutlet { outlet: at, .. } => {
            format!("{} is cancelled with its cables.", outlet(*at))
        }
        Want::MoveOutlet { outlet: at, .. } => {
            let spot = registry.outlets.get(*at).and_then(|row| row.spot.get());
            let anew = match spot {
                Some(spot) if *spot == Spot::default() => " Note its exact place anew.",
                _ => "",
            };
            format!("The outlet is {} now.{anew}", outlet(*at))
        }
        Want::PlaceOutlet { outlet: at, .. }
        | Want::BoxOutlet { outlet: at, .. }
        | Want::SetOutletPurpose { outlet: at, .. }
        | Want::NoteOutlet { outlet: at, .. } => format!("Kept for {}.", outlet(*at)),
        Want::SetMedium { cable: id, .. }
        | Want::SetPurpose { cable: id, .. }
        | Want::KnowCableAs { cable: id, .. }
        | Want::NoteCable { cable: id, .. } => format!("Kept for {}.", cable(*id)),
        Want::RouteHome { cables, .. } => match cables.as_slice() {
            [id] => format!("{} is a home run.", cable(*id)),
            several => format!("{} cables are home runs.", several.len()),
        },
        Want::RouteLocal { cable: id, from } => {
            format!("{} is a local run from {}.", cable(*id), outlet(*from))
        }
        Want::CancelCable { cable: id, .. } => format!("{} is cancelled.", cable(*id)),
        Want::RestoreCable { cable: id } => format!("{} is wanted again.", cable(*id)),
        Want::MarkEnds { ends, kind, .. } => {
            let how = match kind {
                MarkKind::Pen => "marked",
                MarkKind::Printed => "printed",
                MarkKind::Fixed => "tagged",
            };
            counted(ends.len(), "end", how)
        }
        Want::PrintTags { tags, .. } => {
            let sheet = registry.job.sheets.last().map_or(0, |sheet| sheet.number);
            let are = if *tags == 1 { "tag is" } else { "tags are" };
            format!("Sheet {sheet}: {tags} {are} noted as printed.")
        }
        Want::FixPlaceTags { places } => counted(places.len(), "place", "tagged"),
        Want::LoseTag { end: at } => format!("{} has no tag.", end(at)),
        Want::ReportPull { cables, outcome } => {
            let how = match outcome {
                PullOutcome::Pulled => "pulled",
                PullOutcome::Short => "short",
                PullOutcome::Stuck => "stuck",
                PullOutcome::Damaged => "damaged",
            };
            match cables[..] {
                [id] => format!("{} is {how}.", cable(id)),
                _ => counted(cables.len(), "cable", how),
            }
        }
        Want::ReadFootage { end: at, mark } => format!("{}: {mark}.", end(at)),
        Want::Land {
            end: at,
            place,
            fitting: Fitting::Plug,
        } => {
            let code = names::end_code(registry, *at);
            let place = names::place(registry, place);
            format!("{code} has a plug of its own, in place of {place}.")
        }
        Want::Land { end: at, place, .. } | Want::LandInstead { end: at, place, .. } => {
            format!(
                "{} is landed on {}{}.{}",
                names::end_code(registry, *at),
                names::place(registry, place),
                adapter_words(registry, *at),
                kept_words(registry, place)
            )
        }
        Want::LandAsPlanned { ends } => counted(ends.len(), "end", "landed"),
        Want::LandInPlate { outlet: at, jacks } => {
            format!(
                "{}: {}",
                outlet(*at),
                counted(jacks.len(), "jack", "terminated")
            )
        }
        Want::PlanEnd {
            end: at,
            place: Some(place),
        } => {
            format!(
                "{} belongs on {}.",
                cable(at.cable),
                names::place(registry, place)
            )
        }
        Want::PlanEnd {
            end: at,
            place: None,
        } => format!("{} has no place planned.", end(at)),
        Want::HoldBox {
            number,
            medium: Some(medium),
        } => format!("Box {number} holds {medium}."),
        Want::HoldBox {
            number,
            medium: None,
        } => format!("Box {number} is not on site any more."),
        Want::DealBoxes { deals } => format!(
            "{} Length marks next.",
            counted(deals.len(), "cable", "dealt to boxes")
        ),
        Want::PutFloorOnSheet { sheet, .. } if sheet.is_empty() => {
            "No sheet shows this floor.".to_owned()
        }
        Want::PutFloorOnSheet { sheet, .. } => format!("Sheet {sheet} is kept."),
        Want::LeaveSlack { outlet: at, .. } => format!("The slack at {} is kept.", outlet(*at)),
        Want::LetOutletWait {
            outlet: at,
            waiting,
        } => {
            names::stopped(format!("{}: {waiting}", outlet(*at)))
        }
        Want::OrderOutlet { outlet: at, order } => ordered(&outlet(*at), order),
        Want::OrderCable { cable: id, order } => ordered(&cable(*id), order),
        Want::RestoreOutlet { outlet: at } => {
            format!("{} is wanted again with its cables.", outlet(*at))
        }
        Want::MergeOutlets { into, .. } => format!("The cables belong to {} now.", outlet(*into)),
        Want::SplitOutlet { cables, .. } => {
            format!(
                "{} Its number is on the list of the room.",
                counted(cables.len(), "cable", "given an outlet of its own")
            )
        }
        Want::OkToCover { room, .. } => format!("{} is OK to cover.", names::room(registry, *room)),
        Want::NotToCover { room, .. } => {
            format!("{} must not be covered yet.", names::room(registry, *room))
        }
        Want::CloseWalls { room } => {
            format!("The walls of {} are closed.", names::room(registry, *room))
        }
        Want::AddPicture { .. } => "The picture is kept.".to_owned(),
        Want::NotePicture { .. } | Want::PointOut { .. } => "Kept on the picture.".to_owned(),
        Want::DropPicture { .. } => "The picture is put away.".to_owned(),
        Want::PlanEnds { places } => counted(places.len(), "cable", "given a position"),
        Want::FillPanel { panel } => filled(registry, *panel),
        Want::Patch {
            position: at,
            to: None,
        } => format!("{} has no patch cord.", names::position(registry, *at)),
        Want::Patch {
            position: at,
            to: Some(to),
        }
        | Want::PatchInstead { position: at, to } => format!(
            "{} is patched to {}.",
            names::position(registry, *at),
            names::place(registry, to)
        ),
        Want::ReplacePanel { panel, make, .. } => format!(
            "{} is {} now.",
            names::panel(registry, *panel),
            names::make(*make)
        ),
        Want::DescribeDevice { .. } => "Kept with the device.".to_owned(),
        Want::Lift { end: at } => format!("{} is not landed.", end(at)),
        Want::Spare { end: at, .. } => format!("{} is spare.", end(at)),
        Want::Dead { end: at, .. } => format!("{} is dead.", end(at)),
        Want::SplitEnd { end: at, legs } => format!("{} has {} legs.", end(at), legs.get()),
        Want::JoinLegs { end: at } => format!(
            "{} is one end again. Its marks and tests stay, what was said of its legs does not.",
            end(&End { leg: None, ..*at })
        ),
        Want::TestCable { cable: id, test } => {
            let how = match test.outcome {
                TestOutcome::Passed => "passed",
                TestOutcome::Failed => "failed",
            };
            format!("{} {how}.", cable(*id))
        }
        Want::SameCable { stays, .. } => format!(
            "{} is one cable, and has what only the other one knew.",
            cable(*stays)
        ),
        Want::SameOutlet { stays, .. } => format!(
            "{} is one outlet, and has what only the other one knew.",
            names::outlet(registry, *stays)
        ),
        Want::SameRoom { stays, .. } => format!(
            "{} is one room, and has what stood in the other one.",
            names::room(registry, *stays)
        ),
        Want::WorkGone { cable: id } => format!("{} is out of the job, with its work.", cable(*id)),
        Want::ThereAllTheSame { cable: id, .. } => format!("{} is in the job again.", cable(*id)),
        Want::WorkPast { cable: id } => format!("{}: that work is past.", cable(*id)),
        Want::WorkHere { cable: id } => format!("{}: that work counts for what lies there now.", cable(*id)),
        Want::WriteAgain { .. } => "Written down anew. What waited for it counts now.".to_owned(),
        Want::Uncross { ends, how } => {
            let what = match how {
                Correction::TagsMove => "tags are changed over",
                Correction::RecordChanges => "record is changed over; see that each tag there is right",
            };
            let codes = ends.iter().map(|end| names::end_code(registry, *end));
            let codes: Vec<String> = codes.collect();
            let media = ends.iter();
            let media = media.filter_map(|end| registry.cables.get(end.cable)?.medium.get());
            let media: Vec<_> = media.collect();
            let differ = media.windows(2).find(|two| two[0] != two[1]);
            let doubt = differ.map_or_else(String::new, |two| {
                format!(" Look again: one is {}, the other {}.", two[0], two[1])
            });
            format!("{}: the {what}.{doubt}", names::listed(&codes))
        }
        Want::CameOutAt {
            cable: id,
            outlet: at,
            ..
        } => format!("{} is at {}.", cable(*id), outlet(*at)),
        Want::Repull { cable: id, .. } => {
            let mut codes = vec![cable(*id)];
            codes.extend(walk::jacket_mates(registry, *id).map(cable));
            match codes.as_slice() {
                [one] => format!("{one} is to be pulled anew; its old tags are void."),
                all => format!(
                    "{} share a jacket and are to be pulled anew; their old tags are void.",
                    names::listed(all)
                ),
            }
        }
        Want::Undo { .. } => "Taken back.".to_owned(),
        Want::KeepSaid { .. } => "Settled.".to_owned(),
        Want::WithNewTags { change } => {
            let done = done_words(change, registry);
            format!("{done} The tags of its cables come off: mark them anew.")
        }
        Want::WithOldTags { change } => done_words(change, registry),
        Want::MakeRoom { change } => done_words(change, registry) + " The others made room.",
        Want::BuildRack { rack, build } => {
            let rack = names::rack(registry, *rack);
            format!("{rack}: {}.", names::built(*build))
        }
        Want::SizePanel { panel, height } => {
            let panel = names::panel(registry, *panel);
            format!("{panel} is {}.", names::units_high(*height))
        }
        Want::AddBlock { kind, name, .. } => match name.trim() {
            "" => format!("{} is added.", kind.words()),
            name => format!("{name} is added."),
        },
        Want::RenameBlock {
            block, mount: None, ..
        } => {
            format!("It is called {} now.", names::block(registry, *block))
        }
        Want::RenameBlock {
            block,
            mount: Some(mount),
            ..
        } => {
            let block = names::block(registry, *block);
            format!("{block} is {}.", names::mount(registry, *mount))
        }
        Want::Hang { what, mount } => {
            let what = names::mountable(registry, *what);
            format!("{what} is {}.", names::mount(registry, *mount))
        }
        Want::TakeOut { what } => match what {
            Mountable::Panel(id) => format!("{} is at no rack unit.", names::panel(registry, *id)),
            other => format!("{} is taken out.", names::mountable(registry, *other)),
        },
        Want::KeepTag { cable: id } => format!("{} keeps its tags.", cable(*id)),
        Want::TagsAnew { cable: id } => {
            format!(
                "{} is to be marked anew; its old marks are void, the tags come off.",
                cable(*id)
            )
        }
        Want::SetTagAddress { address } if address.is_empty() => {
            "Tags have no address before their text.".to_owned()
        }
        Want::SetTagAddress { address } => format!("Tags begin with {address}."),
        Want::ChoosePinout { pinout } => ["Jacks are wired ", pinout.words(), "."].concat(),
        Want::RenameUnit { name, .. }
        | Want::RenameFloor { name, .. }
        | Want::RenameRack { name, .. }
        | Want::RenameDevice { name, .. }
        | Want::RenameJoint { name, .. } => format!("It is called {name} now."),
        Want::RenameRoom { room, name } => {
            ["It is called ", name, " now.", &twin(registry, *room)].concat()
        }
        Want::RecodeRoom { room, code } => {
            format!("{} has the code {code}.", names::room(registry, *room))
        }
        Want::PutRoomOnFloor { room, .. }
        | Want::PutRoomInUnit { room, .. }
        | Want::OrderRoom { room, .. } => {
            format!("{} has another place.", names::room(registry, *room))
        }
        Want::ChangeOutletType { .. } => "Outlets added from now on get these cables.".to_owned(),
        Want::ShareJacket { cables, .. } => {
            let mut all = Vec::new();
            if let Some(first) = cables.first() {
                all.push(cable(*first));
                all.extend(walk::jacket_mates(registry, *first).map(cable));
            }
            format!("{} lie in one jacket.", names::listed(&all))
        }
        Want::Reletter { cable: id, .. } => format!("The cable is {} now.", cable(*id)),
        Want::DrawFrom { cable: id, number } => {
            format!("{} is drawn from box {number}.", cable(*id))
        }
        Want::SeeEnd { end: at, at: place } => {
            // On one line above the answer, which it covers as long as it stands there.
            let is_home = names::side(registry, at.cable, at.side) == *place;
            let of = if is_home { names::end_code(registry, *at) } else { end(at) };
            format!("{of} seen at {place}.")
        }
        Want::RespaceRack { rack, space } => {
            format!("{} is space {space}.", names::rack(registry, *rack))
        }
        Want::LetterPanel { letters, .. } => format!("It is panel {letters} now."),
        Want::SwapLetters { one, other } => format!(
            "{} and {} have changed letters.",
            names::panel(registry, *one),
            names::panel(registry, *other)
        ),
        Want::PlacePanel { panel, .. } => format!("Kept for {}.", names::panel(registry, *panel)),
        Want::KeepPosition { position, kept } => {
            let how = match kept {
                Availability::Open => "free for use",
                Availability::Reserved { .. } => "reserved",
                Availability::Bad { .. } => "bad",
            };
            format!("{} is {how}.", names::position(registry, *position))
        }
        Want::LayConduit {
            conduit: None,
            number,
            ..
        } => {
            let last = || registry.next_conduit().map_or(0, |next| next - 1);
            format!("{} is kept.", conduit_code(number.unwrap_or_else(last)))
        }
        Want::CancelConduit { conduit: id, .. } => {
            format!("{} is cancelled.", names::conduit(registry, *id))
        }
        Want::RenumberConduit { conduit: id }
        | Want::LayConduit {
            conduit: Some(id), ..
        }
        | Want::StringConduit { conduit: id, .. }
        | Want::RestoreConduit { conduit: id } => {
            format!("{} is kept.", names::conduit(registry, *id))
        }
        Want::PassConduit {
            cable: id,
            conduit,
            lying,
        } => format!("{} {}.", cable(*id), names::lying(registry, *lying, *conduit)),
        Want::AddLooseEnd { .. } => {
            let numbers = registry.loose_ends.iter();
            let last = numbers.filter_map(|(_, row)| row.number.get()).max();
            tagged(last)
        }
        Want::NumberTails { .. } => {
            "The tails there have numbers now. Put each number on a tag of its own; tone them from the list of loose ends.".to_owned()
        }
        Want::RenumberLooseEnd { loose } => tagged(loose_number(*loose)),
        Want::DescribeLooseEnd { loose: id, .. } => format!("{}: kept.", loose(*id)),
        Want::JoinLooseEnd { loose: id, end: at } => {
            let row = registry.cables.get(at.cable);
            let medium = row.and_then(|row| row.medium.get());
            format!(
                "{} is {}.{}{}",
                loose(*id),
                end(at),
                unlike(registry, *id, medium),
                misfit(registry, *id)
            )
        }
        Want::JoinLooseEnds {
            near,
            far,
            outlet: at,
            medium,
        } => {
            let far_end = *far;
            let [near, far] = [near, far].map(|id| unlike(registry, *id, Some(medium)));
            let misfit = misfit(registry, far_end);
            format!(
                "Both ends are one cable at {}.{near}{far}{misfit}",
                outlet(*at)
            )
        }
        Want::Toned { join } => format!("{} Toned.", done_words(join, registry)),
        Want::PartLooseEnd { loose: id } => {
            format!("{} is of no known cable again.", loose(*id))
        }
    }
}

/// A caution where a loose end was noted as something else than its cable is made of: then it may
/// well be another cable.
fn unlike(registry: &Registry, loose: LooseEndId, medium: Option<&Medium>) -> String {
    let row = registry.loose_ends.get(loose);
    let noted = row.and_then(|row| row.found.get()?.medium.as_ref());
    match (noted, medium) {
        (Some(noted), Some(medium)) if noted != medium => {
            format!(" But it was noted as {noted}, and the cable is {medium}: look again.")
        }
        _ => String::new(),
    }
}

/// A caution where what a loose end turned out to be does not fit the position that it sits on.
fn misfit(registry: &Registry, loose: LooseEndId) -> &'static str {
    let row = registry.loose_ends.get(loose);
    let end = row.and_then(|row| row.joined.get().copied().flatten());
    match end.map_or("", |end| adapter_words(registry, end)) {
        "" => "",
        _ => {
            " It does not fit the position that it sits on, so an adapter is noted there: look again."
        }
    }
}

/// What to write on a loose end.
fn tagged(number: Option<&u16>) -> String {
    let number = number.copied().unwrap_or_default();
    format!("It is loose end {number}: write that on its tag.")
}

/// That a position is kept for something else or out of use, for whoever has just landed there.
fn kept_words(registry: &Registry, place: &Place) -> String {
    let Place::Position { position, .. } = place else {
        return String::new();
    };
    let panel = registry.panels.get(position.panel);
    match panel.and_then(|panel| panel.kept.get(&position.number)?.get()) {
        Some(Availability::Bad { reason }) => format!(" It is marked as bad: {reason}"),
        Some(Availability::Reserved { reason }) => format!(" It is kept for: {reason}"),
        Some(Availability::Open) | None => String::new(),
    }
}

fn ordered(name: &str, order: &str) -> String {
    if order.is_empty() {
        return format!("{name} came with no change order.");
    }
    format!("{name} came with change order {order}.")
}

fn counted(count: usize, thing: &str, how: &str) -> String {
    if count == 1 {
        format!("1 {thing} {how}.")
    } else {
        format!("{count} {thing}s {how}.")
    }
}

/// How many of the positions of a panel have a cable now that belongs there or is there already.
fn filled(registry: &Registry, panel: PanelId) -> String {
    let row = registry.panels.get(panel);
    let positions = row
        .and_then(|row| row.make.get())
        .map_or(0, |make| make.positions.get());
    let numbers = (1..=positions).filter_map(PositionNumber::new);
    let has_cable = |number: &PositionNumber| {
        let number = *number;
        let place = Place::rear(Position { panel, number });
        let index = &registry.index;
        !index.planned.get(&place).is_empty() || !index.landed.get(&place).is_empty()
    };
    format!(
        "{} is planned: {} of its {positions} positions have a cable.",
        names::panel(registry, panel),
        numbers.filter(has_cable).count()
    )
}
