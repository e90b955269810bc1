//! The golden sample of the first stored form: every kind of fact and every word that it knows.
//!
//! `tests/corpus/journals/v1/every-kind.jsonl` was written once by `wire::write` from the acts
//! of `sample` and is kept: files like it lie on phones, so it must be read for ever. When a kind is
//! added, `the_sample` gets an act more and the new line is added at the end of the file; lines
//! that are there never change.

use std::collections::BTreeSet;

use bothends::domain::place::{Leaves, Placement, RunName};
use bothends::domain::work::{Availability, Standing};
use bothends::journal::{
    BlockFact, CableFact, ConduitFact, Cover, DeviceFact, EndFact, Fact, FloorFact, JobFact,
    JointFact, LooseEndFact, OutletFact, OutletTypeFact, PanelFact, PictureFact, PullFact,
    RackFact, RoomFact, UnitFact, wire,
};

use super::support::{Picture, merged, taken};

mod sample;

use sample::the_sample;

const SAMPLE: &str = include_str!("../corpus/journals/v1/every-kind.jsonl");

/// The kind of a fact as the sample must hold it. A new variant does not compile until it is named
/// here, and its kind is then missing from the sample until it is added there.
fn kind(fact: &Fact) -> &'static str {
    match fact {
        Fact::Job(JobFact::Named(_)) => "JobNamed",
        Fact::Job(JobFact::PinoutChosen(_)) => "PinoutChosen",
        Fact::Job(JobFact::TagAddressSet(_)) => "TagAddressSet",
        Fact::Job(JobFact::BoxHolds { .. }) => "BoxHolds",
        Fact::Job(JobFact::TagsPrinted(_)) => "TagsPrinted",
        Fact::Job(JobFact::BoxTagged { .. }) => "BoxTagged",
        Fact::Unit(_, UnitFact::Added) => "UnitAdded",
        Fact::Unit(_, UnitFact::Named(_)) => "UnitNamed",
        Fact::Floor(_, FloorFact::Added) => "FloorAdded",
        Fact::Floor(_, FloorFact::Named(_)) => "FloorNamed",
        Fact::Floor(_, FloorFact::Numbered(_)) => "FloorNumbered",
        Fact::Floor(_, FloorFact::OnSheet(_)) => "FloorOnSheet",
        Fact::Room(_, RoomFact::Added) => "RoomAdded",
        Fact::Room(_, RoomFact::Named(_)) => "RoomNamed",
        Fact::Room(_, RoomFact::Coded(_)) => "RoomCoded",
        Fact::Room(_, RoomFact::OnFloor(_)) => "RoomOnFloor",
        Fact::Room(_, RoomFact::InUnit(_)) => "RoomInUnit",
        Fact::Room(_, RoomFact::Ordered(_)) => "RoomOrdered",
        Fact::Room(_, RoomFact::Covering(Cover::NotYet { .. })) => "RoomNotToCover",
        Fact::Room(_, RoomFact::Covering(Cover::Ok(_))) => "RoomOkToCover",
        Fact::Room(_, RoomFact::Covering(Cover::Closed)) => "RoomClosed",
        Fact::OutletType(_, OutletTypeFact::Added) => "OutletTypeAdded",
        Fact::OutletType(_, OutletTypeFact::Named(_)) => "OutletTypeNamed",
        Fact::OutletType(_, OutletTypeFact::Holds(_)) => "OutletTypeHolds",
        Fact::Outlet(_, OutletFact::Added) => "OutletAdded",
        Fact::Outlet(_, OutletFact::Numbered { .. }) => "OutletNumbered",
        Fact::Outlet(_, OutletFact::Typed(_)) => "OutletTyped",
        Fact::Outlet(_, OutletFact::Purposed(_)) => "OutletPurposed",
        Fact::Outlet(_, OutletFact::Placed(_)) => "OutletPlaced",
        Fact::Outlet(_, OutletFact::Boxed(_)) => "OutletBoxed",
        Fact::Outlet(_, OutletFact::Stands(Standing::Wanted)) => "OutletWanted",
        Fact::Outlet(_, OutletFact::Stands(Standing::Cancelled { .. })) => "OutletCancelled",
        Fact::Outlet(_, OutletFact::Noted(_)) => "OutletNoted",
        Fact::Outlet(_, OutletFact::Slack(_)) => "OutletSlack",
        Fact::Outlet(_, OutletFact::Waits(_)) => "OutletWaits",
        Fact::Outlet(_, OutletFact::ChangeOrdered(_)) => "OutletChangeOrdered",
        Fact::Outlet(_, OutletFact::Tagged(_)) => "OutletTagged",
        Fact::Cable(_, CableFact::Added) => "CableAdded",
        Fact::Cable(_, CableFact::Named(RunName::Feeds { .. })) => "CableFeeds",
        Fact::Cable(_, CableFact::Named(RunName::Ties { .. })) => "CableTies",
        Fact::Cable(_, CableFact::Leaves(Leaves::Rack(_))) => "CableToRack",
        Fact::Cable(_, CableFact::Leaves(Leaves::Outlet(_))) => "CableFromOutlet",
        Fact::Cable(_, CableFact::MadeOf(_)) => "CableMadeOf",
        Fact::Cable(_, CableFact::Purposed(_)) => "CablePurposed",
        Fact::Cable(_, CableFact::InJacket(_)) => "CableInJacket",
        Fact::Cable(_, CableFact::Stands(Standing::Wanted)) => "CableWanted",
        Fact::Cable(_, CableFact::Stands(Standing::Cancelled { .. })) => "CableCancelled",
        Fact::Cable(_, CableFact::Cancelled { .. }) => "CableCancelled",
        Fact::Cable(_, CableFact::KnownAs(_)) => "CableKnownAs",
        Fact::Cable(_, CableFact::TagKept { .. }) => "CableTagKept",
        Fact::Cable(_, CableFact::Noted(_)) => "CableNoted",
        Fact::Cable(_, CableFact::Repulled { .. }) => "CableRepulled",
        Fact::Cable(_, CableFact::ChangeOrdered(_)) => "CableChangeOrdered",
        Fact::Cable(_, CableFact::PassesThrough { .. }) => "CablePasses",
        Fact::Pull(_, PullFact::Reported(_)) => "PullReported",
        Fact::Pull(_, PullFact::DrawnFrom(_)) => "DrawnFromBox",
        Fact::Pull(_, PullFact::Tested(_)) => "CopperTested",
        Fact::End(_, EndFact::Planned(_)) => "EndPlanned",
        Fact::End(_, EndFact::Placed(Placement::Landed { .. })) => "EndLanded",
        Fact::End(_, EndFact::Placed(Placement::Lifted)) => "EndLifted",
        Fact::End(_, EndFact::Placed(Placement::Spare { .. })) => "EndSpared",
        Fact::End(_, EndFact::Placed(Placement::Dead { .. })) => "EndDead",
        Fact::End(_, EndFact::Split(_)) => "EndSplit",
        Fact::End(_, EndFact::Marked(_)) => "EndMarked",
        Fact::End(_, EndFact::TagLost) => "TagLost",
        Fact::End(_, EndFact::Seen { .. }) => "EndSeen",
        Fact::End(_, EndFact::Footage(_)) => "FootageRead",
        Fact::JacketAdded(_) => "JacketAdded",
        Fact::Rack(_, RackFact::Added) => "RackAdded",
        Fact::Rack(_, RackFact::InSpace(_)) => "RackInSpace",
        Fact::Rack(_, RackFact::Named(_)) => "RackNamed",
        Fact::Rack(_, RackFact::InRoom(_)) => "RackInRoom",
        Fact::Rack(_, RackFact::Tagged(_)) => "RackTagged",
        Fact::Panel(_, PanelFact::Added(_)) => "PanelAdded",
        Fact::Panel(_, PanelFact::InRack(_)) => "PanelInRack",
        Fact::Panel(_, PanelFact::Lettered(_)) => "PanelLettered",
        Fact::Panel(_, PanelFact::AtUnit(_)) => "PanelAtUnit",
        Fact::Panel(_, PanelFact::Purposed(_)) => "PanelPurposed",
        Fact::Panel(_, PanelFact::Tagged(_)) => "PanelTagged",
        Fact::Panel(_, PanelFact::StripPrinted(_)) => "PanelStripPrinted",
        Fact::PositionKept(_, Availability::Open) => "PositionOpen",
        Fact::PositionKept(_, Availability::Reserved { .. }) => "PositionReserved",
        Fact::PositionKept(_, Availability::Bad { .. }) => "PositionBad",
        Fact::PositionPatched(..) => "PositionPatched",
        Fact::Device(_, DeviceFact::Model(_)) => "DeviceModel",
        Fact::Device(_, DeviceFact::Serial(_)) => "DeviceSerial",
        Fact::Device(_, DeviceFact::Added) => "DeviceAdded",
        Fact::Device(_, DeviceFact::Named(_)) => "DeviceNamed",
        Fact::Device(_, DeviceFact::InRoom(_)) => "DeviceInRoom",
        Fact::Joint(_, JointFact::Added(_)) => "JointAdded",
        Fact::Joint(_, JointFact::Named(_)) => "JointNamed",
        Fact::Joint(_, JointFact::InRoom(_)) => "JointInRoom",
        Fact::LooseEnd(_, LooseEndFact::Added { .. }) => "LooseEndAdded",
        Fact::LooseEnd(_, LooseEndFact::Found(_)) => "LooseEndFound",
        Fact::LooseEnd(_, LooseEndFact::Joined(_)) => "LooseEndJoined",
        Fact::LooseEnd(_, LooseEndFact::Parted) => "LooseEndParted",
        Fact::Picture(_, PictureFact::Added(_)) => "PictureAdded",
        Fact::Picture(_, PictureFact::Shows(_)) => "PictureShows",
        Fact::Picture(_, PictureFact::Noted(_)) => "PictureNoted",
        Fact::Picture(_, PictureFact::Points(_)) => "PicturePoints",
        Fact::Picture(_, PictureFact::Stands(Standing::Wanted)) => "PictureWanted",
        Fact::Picture(_, PictureFact::Stands(Standing::Cancelled { .. })) => "PictureDropped",
        Fact::Conduit(_, ConduitFact::Added { .. }) => "ConduitAdded",
        Fact::Conduit(_, ConduitFact::Reaches { .. }) => "ConduitReaches",
        Fact::Conduit(_, ConduitFact::Sized(_)) => "ConduitSized",
        Fact::Conduit(_, ConduitFact::PullString(_)) => "ConduitString",
        Fact::Conduit(_, ConduitFact::Noted(_)) => "ConduitNoted",
        Fact::Conduit(_, ConduitFact::Stands(Standing::Wanted)) => "ConduitWanted",
        Fact::Conduit(_, ConduitFact::Stands(Standing::Cancelled { .. })) => "ConduitCancelled",
        Fact::Conduit(_, ConduitFact::Tagged(_)) => "ConduitTagged",
        Fact::Rack(_, RackFact::Built(_)) => "RackBuilt",
        Fact::Panel(_, PanelFact::High(_)) => "PanelHigh",
        Fact::Device(_, DeviceFact::Mounted(_)) => "DeviceMounted",
        Fact::Block(_, BlockFact::Added(_)) => "BlockAdded",
        Fact::Block(_, BlockFact::Named(_)) => "BlockNamed",
        Fact::Block(_, BlockFact::Mounted(_)) => "BlockMounted",
        Fact::Block(_, BlockFact::Stands(Standing::Wanted)) => "BlockWanted",
        Fact::Block(_, BlockFact::Stands(Standing::Cancelled { .. })) => "BlockTakenOut",
        // What is not known cannot be drafted, so the sample holds none.
        Fact::Unknown { .. } => "",
    }
}

/// All kinds that [`kind`] names, as they stand in this file.
fn all_kinds() -> BTreeSet<&'static str> {
    let source = include_str!("golden.rs");
    let body = source.split("fn kind(").nth(1).expect("the match above");
    let body = body.split("\n}\n").next().expect("its end");
    let arms = body.split("=> \"").skip(1);
    arms.filter_map(|arm| arm.split('"').next())
        .filter(|kind| !kind.is_empty())
        .collect()
}

#[test]
fn the_sample_is_read_as_what_was_written_and_written_as_it_is() {
    if std::env::var_os("BOTHENDS_WRITE_FIXTURES").is_some() {
        write_the_sample();
    }
    let lines: Vec<&str> = SAMPLE.lines().collect();
    let acts = the_sample();
    assert_eq!(lines.len(), acts.len());
    for (line, act) in lines.iter().zip(&acts) {
        assert_eq!(wire::read(line).as_ref(), Ok(act), "{line}");
        assert_eq!(wire::write(act), *line);
    }
    assert!(SAMPLE.ends_with("}\n"), "each line is ended");
}

#[test]
fn the_sample_holds_every_kind_of_fact() {
    let mut held = BTreeSet::new();
    for act in SAMPLE.lines().map(wire::read) {
        let act = act.expect("the sample is readable");
        held.extend(act.facts.iter().map(kind));
    }
    let kinds = all_kinds();
    assert!(kinds.len() >= 75, "the arms above are found: {kinds:?}");
    assert_eq!(held, kinds);
    for kind in kinds {
        assert!(SAMPLE.contains(&format!("{{\"k\":\"{kind}\"")), "{kind}");
    }
}

#[test]
fn the_sample_gives_a_job_in_which_nothing_waits() {
    let lines: Vec<&str> = SAMPLE.lines().collect();
    let journal = merged(std::slice::from_ref(&lines));
    assert_eq!(journal.len(), lines.len());
    assert_eq!(journal.health(), bothends::journal::Health::default());
    assert_eq!(Picture::of(&journal), Picture::of(&taken(&lines)));
    let name = journal.registry().job.name.get();
    assert_eq!(name.map(String::as_str), Some("Marrowby Mill"));
}

/// Writes the sample anew, for whoever adds a kind: look at what changed before it is kept. The test
/// still compares with what was there when it was compiled.
fn write_the_sample() {
    let acts = the_sample();
    let lines = acts.iter().map(|act| wire::write(act) + "\n");
    let path = "tests/corpus/journals/v1/every-kind.jsonl";
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    std::fs::write(path, lines.collect::<String>()).expect("the sample can be written");
}
