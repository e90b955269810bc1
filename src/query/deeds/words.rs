//! What each kind of fact says, in words. The matches have no catch-all arm, so that the compiler
//! asks for the words of a new fact.

use super::{mark_words, outcome_words, placement_words};
use crate::domain::label::conduit_code;
use crate::domain::picture::Shows;
use crate::domain::place::{Leaves, RunName, Side};
use crate::domain::work::{Availability, CoverCheck, Lying, MarkKind, Spot, Standing, TestOutcome};
use crate::journal::{
    BlockFact, CableFact, ConduitFact, Cover, CoverOk, DeviceFact, EndFact, Fact, FloorFact,
    JobFact, JointFact, LooseEndFact, Mark, OutletFact, OutletTypeFact, PanelFact, PictureFact,
    PullFact, RackFact, Register, Registry, RoomFact, UnitFact,
};
use crate::names;
use crate::query::Thing;

/// What a fact says, without a capital and a full stop.
pub(super) fn fact_words(registry: &Registry, fact: &Fact) -> String {
    let inside = |thing| format!("in {}", thing_name(registry, thing));
    let says = match fact {
        Fact::Unit(_, UnitFact::Added)
        | Fact::Floor(_, FloorFact::Added)
        | Fact::Room(_, RoomFact::Added)
        | Fact::OutletType(_, OutletTypeFact::Added)
        | Fact::Outlet(_, OutletFact::Added)
        | Fact::Cable(_, CableFact::Added)
        | Fact::JacketAdded(_)
        | Fact::Rack(_, RackFact::Added)
        | Fact::Device(_, DeviceFact::Added)
        | Fact::Block(_, BlockFact::Added(_))
        | Fact::Joint(_, JointFact::Added(_)) => "added".to_owned(),
        Fact::Conduit(_, ConduitFact::Added { number }) => {
            format!("numbered {}", conduit_code(*number))
        }
        Fact::Job(JobFact::Named(name))
        | Fact::Unit(_, UnitFact::Named(name))
        | Fact::Floor(_, FloorFact::Named(name))
        | Fact::Room(_, RoomFact::Named(name))
        | Fact::OutletType(_, OutletTypeFact::Named(name))
        | Fact::Rack(_, RackFact::Named(name))
        | Fact::Device(_, DeviceFact::Named(name))
        | Fact::Block(_, BlockFact::Named(name))
        | Fact::Joint(_, JointFact::Named(name)) => format!("called {name}"),
        Fact::Rack(_, RackFact::Built(build)) => names::built(*build),
        Fact::Panel(_, PanelFact::Added(make)) => names::make(*make),
        Fact::Panel(_, PanelFact::High(height)) => names::units_high(*height),
        Fact::Device(_, DeviceFact::Mounted(None)) => "in no rack".to_owned(),
        Fact::Device(_, DeviceFact::Mounted(Some(mount)))
        | Fact::Block(_, BlockFact::Mounted(mount)) => names::mount(registry, *mount),
        Fact::Block(_, BlockFact::Stands(Standing::Wanted)) => "back in its rack".to_owned(),
        Fact::Block(_, BlockFact::Stands(Standing::Cancelled { .. })) => {
            "taken out of its rack".to_owned()
        }
        Fact::Rack(_, RackFact::InRoom(room))
        | Fact::Device(_, DeviceFact::InRoom(room))
        | Fact::Joint(_, JointFact::InRoom(room)) => inside(Thing::Room(*room)),
        Fact::Outlet(_, OutletFact::Purposed(purpose))
        | Fact::Cable(_, CableFact::Purposed(purpose))
        | Fact::Panel(_, PanelFact::Purposed(purpose)) => purpose_words(purpose),
        Fact::Outlet(_, OutletFact::Noted(note))
        | Fact::Cable(_, CableFact::Noted(note))
        | Fact::Conduit(_, ConduitFact::Noted(note))
        | Fact::Picture(_, PictureFact::Noted(note)) => format!("note: {note}"),
        Fact::Outlet(_, OutletFact::Stands(standing))
        | Fact::Cable(_, CableFact::Stands(standing))
        | Fact::Conduit(_, ConduitFact::Stands(standing))
        | Fact::Picture(_, PictureFact::Stands(standing)) => standing_words(standing),
        Fact::Cable(_, CableFact::Cancelled { reason, .. }) => cancelled_words(reason),
        Fact::Job(JobFact::PinoutChosen(pinout)) => ["jacks are wired ", pinout.words()].concat(),
        Fact::Job(JobFact::TagAddressSet(_)) => "the address on tags was set".to_owned(),
        Fact::Job(JobFact::BoxHolds { number, medium }) => match medium {
            Some(medium) => format!("box {number} holds {medium}"),
            None => format!("box {number} is not on site"),
        },
        Fact::Job(JobFact::TagsPrinted(sheet)) => {
            let many = if sheet.tags == 1 { "" } else { "s" };
            format!(
                "sheet {} was printed, {} tag{many} on {}",
                sheet.number, sheet.tags, sheet.stock
            )
        }
        Fact::Job(JobFact::BoxTagged { number, kind, text }) => {
            format!("box {number}: {} as {text}", mark_words(*kind))
        }
        Fact::Floor(_, FloorFact::OnSheet(sheet)) => format!("on sheet {sheet} of the plans"),
        Fact::Floor(_, FloorFact::Numbered(number)) => format!("floor number {number}"),
        Fact::Room(_, RoomFact::Coded(code)) => format!("its code is {code}"),
        Fact::Room(_, RoomFact::OnFloor(floor)) => inside(Thing::Floor(*floor)),
        Fact::Room(_, RoomFact::InUnit(unit)) => inside(Thing::Unit(*unit)),
        Fact::Room(_, RoomFact::Ordered(order)) => format!("number {order} on the walk"),
        Fact::Room(_, RoomFact::Covering(cover)) => cover_words(cover),
        Fact::OutletType(_, OutletTypeFact::Holds(_)) => "its cables were chosen".to_owned(),
        Fact::Outlet(_, OutletFact::Numbered { room, number }) => {
            format!(
                "outlet {} of {}",
                number.get(),
                names::room(registry, *room)
            )
        }
        Fact::Outlet(_, OutletFact::Typed(kind)) => {
            format!("its type is {}", names::outlet_kind(registry, *kind))
        }
        Fact::Outlet(_, OutletFact::Placed(spot)) if *spot == Spot::default() => {
            "its exact place is to be noted anew".to_owned()
        }
        Fact::Outlet(_, OutletFact::Placed(_)) => "its exact place was noted".to_owned(),
        Fact::Outlet(_, OutletFact::Boxed(_)) => "its box was noted".to_owned(),
        Fact::Outlet(_, OutletFact::Slack(_)) => "its slack was noted".to_owned(),
        Fact::Outlet(_, OutletFact::Waits(waiting)) => waiting.to_string(),
        Fact::Outlet(_, OutletFact::ChangeOrdered(order))
        | Fact::Cable(_, CableFact::ChangeOrdered(order)) => match order.trim() {
            "" => "with no change order".to_owned(),
            order => format!("change order {order}"),
        },
        Fact::Cable(_, CableFact::Named(RunName::Feeds { outlet, letter })) => {
            format!("letter {letter} at {}", names::outlet(registry, *outlet))
        }
        Fact::Cable(_, CableFact::Named(RunName::Ties { near, far, number })) => format!(
            "tie {number} between {} and {}",
            names::rack(registry, *near),
            names::rack(registry, *far)
        ),
        Fact::Cable(_, CableFact::Leaves(leaves)) => leaves_words(registry, *leaves),
        Fact::Cable(_, CableFact::MadeOf(medium)) => medium.to_string(),
        Fact::Cable(_, CableFact::InJacket(_)) => "in a shared jacket".to_owned(),
        Fact::Cable(_, CableFact::KnownAs(name)) => format!("also called “{name}”"),
        Fact::Cable(_, CableFact::TagKept { tag, called }) => {
            format!("called {called}, its tag stays {tag}")
        }
        Fact::Cable(_, CableFact::PassesThrough { conduit, lying }) => {
            names::lying(registry, *lying, *conduit)
        }
        Fact::Conduit(_, ConduitFact::Reaches { side, at }) => {
            let end = match side {
                Side::Near => "from",
                Side::Far => "to",
            };
            match names::conduit_end(registry, at).as_str() {
                "" => format!("{end} a place not said"),
                at => format!("{end} {at}"),
            }
        }
        Fact::Conduit(_, ConduitFact::Sized(size)) => format!("its size is {size}"),
        Fact::Conduit(_, ConduitFact::PullString(lying)) => match lying {
            Lying::In => "a pull string lies in it",
            Lying::Out => "no pull string lies in it",
        }
        .to_owned(),
        Fact::Cable(_, CableFact::Repulled { reason, .. }) => {
            format!("to be pulled anew, its old tags are void: {reason}")
        }
        Fact::Pull(_, PullFact::Reported(outcome)) => outcome_words(*outcome).to_owned(),
        Fact::Pull(_, PullFact::DrawnFrom(number)) => format!("drawn from box {number}"),
        Fact::Pull(_, PullFact::Tested(test)) => match test.outcome {
            TestOutcome::Passed => "test passed".to_owned(),
            TestOutcome::Failed => "test failed".to_owned(),
        },
        Fact::End(_, fact) => end_words(registry, fact),
        Fact::Rack(_, RackFact::InSpace(space)) => format!("its space is {space}"),
        Fact::Outlet(_, OutletFact::Tagged(mark))
        | Fact::Rack(_, RackFact::Tagged(mark))
        | Fact::Conduit(_, ConduitFact::Tagged(mark))
        | Fact::Panel(_, PanelFact::Tagged(mark)) => marked_as(mark),
        Fact::Panel(_, PanelFact::StripPrinted(_)) => "its strip was printed".to_owned(),
        Fact::Panel(_, PanelFact::InRack(rack)) => inside(Thing::Rack(*rack)),
        Fact::Panel(_, PanelFact::Lettered(letters)) => format!("its letter is {letters}"),
        Fact::Panel(_, PanelFact::AtUnit(Some(unit))) => format!("at rack unit {unit}"),
        Fact::Panel(_, PanelFact::AtUnit(None)) => "at no rack unit".to_owned(),
        Fact::PositionKept(_, kept) => kept_words(kept),
        Fact::PositionPatched(_, Some(to)) => format!("patched to {}", names::place(registry, to)),
        Fact::PositionPatched(_, None) => "not patched".to_owned(),
        Fact::Device(_, DeviceFact::Model(model)) => format!("its model is {model}"),
        Fact::Device(_, DeviceFact::Serial(serial)) => format!("its serial number is {serial}"),
        Fact::LooseEnd(_, LooseEndFact::Added { .. }) => "numbered".to_owned(),
        Fact::LooseEnd(_, LooseEndFact::Found(found)) => match found.room {
            Some(room) if found.place.trim().is_empty() => inside(Thing::Room(room)),
            _ => format!("at {}", found.place),
        },
        Fact::LooseEnd(_, LooseEndFact::Joined(end)) => {
            format!("it is {}", names::end(registry, *end))
        }
        Fact::Picture(_, PictureFact::Added(_)) => "taken".to_owned(),
        Fact::Picture(_, PictureFact::Shows(shows)) => {
            format!("shows {}", shows_words(registry, *shows))
        }
        Fact::Picture(_, PictureFact::Points(points)) => match points.len() {
            1 => "1 place is marked on it".to_owned(),
            count => format!("{count} places are marked on it"),
        },
        Fact::LooseEnd(_, LooseEndFact::Parted) => "parted from its cable".to_owned(),
        Fact::Unknown { .. } => {
            return "something that only a newer version of this app knows".to_owned();
        }
    };
    // An end goes on as a sentence: it is landed, it was marked.
    let sign = if matches!(fact, Fact::End(..)) {
        ""
    } else {
        ":"
    };
    format!("{}{sign} {says}", subject(registry, fact))
}

/// What a fact is about, as it is called now.
fn subject(registry: &Registry, fact: &Fact) -> String {
    let thing = match fact {
        Fact::Job(_) | Fact::Unknown { .. } => Thing::Job,
        Fact::Unit(id, _) => Thing::Unit(*id),
        Fact::Floor(id, _) => Thing::Floor(*id),
        Fact::Room(id, _) => Thing::Room(*id),
        Fact::OutletType(id, _) => Thing::OutletType(*id),
        Fact::Outlet(id, _) => Thing::Outlet(*id),
        Fact::Cable(id, _) => Thing::Cable(*id),
        Fact::Pull(pull, _) => Thing::Cable(pull.cable),
        Fact::End(of, _) => Thing::End(of.end),
        Fact::JacketAdded(_) => return "a shared jacket".to_owned(),
        Fact::Rack(id, _) => Thing::Rack(*id),
        Fact::Panel(id, _) => Thing::Panel(*id),
        Fact::PositionKept(position, _) | Fact::PositionPatched(position, _) => {
            Thing::Position(*position)
        }
        Fact::Device(id, _) => Thing::Device(*id),
        Fact::Joint(id, _) => Thing::Joint(*id),
        Fact::LooseEnd(id, _) => Thing::LooseEnd(*id),
        Fact::Picture(..) => return "a picture".to_owned(),
        Fact::Conduit(id, _) => Thing::Conduit(*id),
        Fact::Block(id, _) => Thing::Block(*id),
    };
    thing_name(registry, thing)
}

/// What a thing is called in the middle of a sentence.
#[must_use]
pub fn thing_name(registry: &Registry, thing: Thing) -> String {
    let named = |name: Option<&Register<String>>, or: &str| {
        let name = name.and_then(Register::known);
        name.map_or(or, String::as_str).to_owned()
    };
    match thing {
        Thing::Job => "the job".to_owned(),
        Thing::Unit(id) => {
            let row = registry.units.get(id);
            named(row.map(|row| &row.name), "a building or unit")
        }
        Thing::Floor(id) => named(registry.floors.get(id).map(|row| &row.name), "a floor"),
        Thing::Room(id) => names::room(registry, id),
        Thing::OutletType(id) => {
            let row = registry.outlet_types.get(id);
            named(row.map(|row| &row.name), "an outlet type")
        }
        Thing::Outlet(id) => names::outlet(registry, id),
        Thing::Cable(id) => names::cable(registry, id),
        Thing::End(end) => names::end(registry, end),
        Thing::Rack(id) => names::rack(registry, id),
        Thing::Panel(id) => names::panel(registry, id),
        Thing::Position(at) => names::position(registry, at),
        Thing::Device(id) => named(registry.devices.get(id).map(|row| &row.name), "a device"),
        Thing::Joint(id) => named(registry.joints.get(id).map(|row| &row.name), "a joint"),
        Thing::LooseEnd(id) => {
            let row = registry.loose_ends.get(id);
            let number = row.and_then(|row| row.number.known()).copied();
            format!("loose end {}", number.unwrap_or_default())
        }
        Thing::Picture(id) => {
            let row = registry.pictures.get(id);
            let shows = row.and_then(|row| row.shows.known()).copied();
            let of = shows.map(|shows| format!(" of {}", shows_words(registry, shows)));
            format!("a picture{}", of.unwrap_or_default())
        }
        Thing::Box(number) => format!("box {number}"),
        Thing::Conduit(id) => names::conduit(registry, id),
        Thing::Block(id) => names::block(registry, id),
        Thing::Passage(cable, conduit) => {
            let conduit = names::conduit(registry, conduit);
            format!("{} in {conduit}", names::cable(registry, cable))
        }
    }
}

/// Whether the adding of a thing says enough in an act that also says this fact of it. What has
/// changed since is told, or the history would name the thing by what it is called now alone.
pub(super) fn goes_without_saying(registry: &Registry, fact: &Fact) -> bool {
    match fact {
        Fact::Unit(_, UnitFact::Named(name))
        | Fact::Floor(_, FloorFact::Named(name))
        | Fact::Room(_, RoomFact::Named(name))
        | Fact::OutletType(_, OutletTypeFact::Named(name))
        | Fact::Rack(_, RackFact::Named(name))
        | Fact::Device(_, DeviceFact::Named(name))
        | Fact::Block(_, BlockFact::Named(name))
        | Fact::Joint(_, JointFact::Named(name)) => subject(registry, fact) == *name,
        Fact::Outlet(id, OutletFact::Numbered { room, number }) => {
            let now = registry.outlets.get(*id).and_then(|row| row.number.get());
            now.is_some_and(|now| (now.room, now.number) == (*room, *number))
        }
        Fact::Cable(id, CableFact::Named(name)) => {
            let now = registry.cables.get(*id).and_then(|row| row.name.get());
            now == Some(name)
        }
        Fact::Panel(id, PanelFact::Lettered(letters)) => {
            let now = registry.panels.get(*id).and_then(|row| row.letters.get());
            now == Some(letters)
        }
        Fact::Room(_, RoomFact::Ordered(_))
        | Fact::OutletType(_, OutletTypeFact::Holds(_))
        | Fact::Outlet(_, OutletFact::Typed(_))
        | Fact::Cable(_, CableFact::MadeOf(_) | CableFact::Leaves(_) | CableFact::Purposed(_))
        | Fact::Panel(_, PanelFact::InRack(_) | PanelFact::AtUnit(_))
        | Fact::Conduit(_, ConduitFact::Sized(_)) => true,
        // What is not known to be said by the adding is told.
        _ => false,
    }
}

/// What a picture shows, in the middle of a sentence.
#[must_use]
pub fn shows_words(registry: &Registry, shows: Shows) -> String {
    let thing = match shows {
        Shows::Outlet(id) => Thing::Outlet(id),
        Shows::Room(id) => Thing::Room(id),
        Shows::LooseEnd(id) => Thing::LooseEnd(id),
        Shows::Plan(id) => Thing::Floor(id),
    };
    thing_name(registry, thing)
}

/// Whether the walls of a room may be closed, in words.
#[must_use]
pub fn cover_words(cover: &Cover) -> String {
    match cover {
        Cover::Ok(ok) => ok_words(ok, Vec::new()),
        Cover::NotYet { reason } => format!("not to be covered yet: {reason}"),
        Cover::Closed => "its walls are closed".to_owned(),
    }
}

fn purpose_words(purpose: &str) -> String {
    match purpose.trim() {
        "" => "its purpose was emptied".to_owned(),
        purpose => format!("for {purpose}"),
    }
}

/// What is not ticked on the list of a room, in words.
#[must_use]
pub fn unticked(checks: &[CoverCheck]) -> Vec<String> {
    let open = CoverCheck::ALL.into_iter();
    let open = open.filter(|check| !checks.contains(check));
    let lacks = open.map(|check| match check {
        CoverCheck::Counted => "cables not counted",
        CoverCheck::Marked => "codes not looked at",
        CoverCheck::Photographed => "no photographs",
        CoverCheck::Boxes => "boxes not seen in place",
        CoverCheck::NailPlates => "nail plates not on",
        CoverCheck::Slack => "slack not noted",
    });
    lacks.map(str::to_owned).collect()
}

/// What was signed for a room, in words: what was not ticked, and what is open beside it, stands there
/// with the reason.
#[must_use]
pub fn ok_words(ok: &CoverOk, mut open: Vec<String>) -> String {
    let mut words = "OK to cover".to_owned();
    if ok.checks.contains(&CoverCheck::Counted) {
        words.push_str(&format!(", {} counted", ok.counted));
    }
    open.extend(unticked(&ok.checks));
    if !open.is_empty() {
        words.push_str(" in spite of: ");
        words.push_str(&open.join(", "));
    }
    if !ok.note.is_empty() {
        words.push_str(&format!(" ({})", ok.note));
    }
    words
}

/// Whether something is still wanted, in words.
#[must_use]
pub fn standing_words(standing: &Standing) -> String {
    match standing {
        Standing::Wanted => "wanted".to_owned(),
        Standing::Cancelled { reason } => cancelled_words(reason),
    }
}

fn cancelled_words(reason: &str) -> String {
    format!("cancelled: {reason}")
}

/// Where the far end of a run goes, in words.
#[must_use]
pub fn leaves_words(registry: &Registry, leaves: Leaves) -> String {
    match leaves {
        Leaves::Rack(Some(rack)) => format!("home to {}", names::rack(registry, rack)),
        Leaves::Rack(None) => "home to a rack not chosen".to_owned(),
        Leaves::Outlet(from) => format!("out of {}", names::outlet(registry, from)),
    }
}

/// What a position is kept for, in words.
#[must_use]
pub fn kept_words(kept: &Availability) -> String {
    match kept {
        Availability::Open => "free for use".to_owned(),
        Availability::Reserved { reason } => format!("reserved: {reason}"),
        Availability::Bad { reason } => format!("bad: {reason}"),
    }
}

fn marked_as(mark: &Mark) -> String {
    format!("{} as {}", mark_words(mark.kind), mark.text)
}

fn end_words(registry: &Registry, fact: &EndFact) -> String {
    match fact {
        EndFact::Planned(Some(place)) => format!("belongs on {}", names::place(registry, place)),
        EndFact::Planned(None) => "has no place planned".to_owned(),
        EndFact::Placed(placement) => placement_words(registry, placement),
        EndFact::Split(legs) => format!("was split into {} legs", legs.get()),
        EndFact::Marked(mark) => {
            let had = match mark.kind {
                MarkKind::Pen => "was",
                MarkKind::Printed | MarkKind::Fixed => "had its",
            };
            format!("{had} {}", marked_as(mark))
        }
        EndFact::TagLost => "lost its tag".to_owned(),
        EndFact::Seen { at } => format!("was seen at {at}"),
        EndFact::Footage(mark) => format!("reads {mark}"),
    }
}
