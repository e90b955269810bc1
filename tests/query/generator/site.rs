//! What there is on a generated site, and how it comes to be there.

use bothends::domain::ids::{
    BlockId, CableId, ConduitId, DeviceId, FloorId, JacketId, JointId, LooseEndId, OutletId,
    OutletTypeId, PanelId, PictureId, PullId, RackId, RoomId, UnitId,
};
use bothends::domain::label::{Letter, OutletNumber, RoomCode};
use bothends::domain::medium::{Connector, Medium};
use bothends::domain::mount::BlockKind;
use bothends::domain::picture::Digest;
use bothends::domain::place::{Leaves, RunName};
use bothends::journal::{
    BlockFact, CableFact, ConduitFact, DeviceFact, Draft, Fact, FloorFact, JointFact, LooseEndFact,
    OutletFact, OutletTypeFact, PanelFact, PanelMake, PanelSize, PictureFact, RackFact, RoomFact,
    UnitFact,
};

use super::{Dice, facts};

/// A cable of the site.
#[derive(Clone)]
pub(super) struct CableOnSite {
    pub(super) id: CableId,
    /// What people write on it.
    pub(super) code: String,
    /// Its pulls, the first one included.
    pub(super) pulls: Vec<PullId>,
}

/// Everything that facts can be about.
#[derive(Clone, Default)]
pub(super) struct Site {
    pub(super) units: Vec<UnitId>,
    pub(super) floors: Vec<FloorId>,
    pub(super) rooms: Vec<RoomId>,
    pub(super) codes: Vec<String>,
    pub(super) types: Vec<OutletTypeId>,
    pub(super) outlets: Vec<OutletId>,
    pub(super) cables: Vec<CableOnSite>,
    pub(super) jackets: Vec<JacketId>,
    pub(super) racks: Vec<RackId>,
    pub(super) panels: Vec<PanelId>,
    pub(super) devices: Vec<DeviceId>,
    pub(super) joints: Vec<JointId>,
    pub(super) loose: Vec<LooseEndId>,
    pub(super) pictures: Vec<PictureId>,
    pub(super) conduits: Vec<ConduitId>,
    pub(super) blocks: Vec<BlockId>,
}

/// A room, most often with its code. One code is there twice.
pub(super) fn room(site: &mut Site, draft: &mut Draft, dice: &mut Dice) {
    let codes = ["KIT", "BAR", "LOFT", "HALL", "POT", "MILL", "DEN"];
    let code = codes[site.rooms.len() % codes.len()];
    let room = draft.mint();
    draft.push(Fact::Room(room, RoomFact::Added));
    if dice.percent(80) {
        let code = RoomCode::new(code).expect("a code");
        draft.push(Fact::Room(room, RoomFact::Coded(code)));
    }
    site.rooms.push(room);
    site.codes.push(code.to_owned());
}

/// A rack, most often with its space.
pub(super) fn rack(site: &mut Site, draft: &mut Draft, dice: &mut Dice) {
    let rack: RackId = draft.mint();
    draft.push(Fact::Rack(rack, RackFact::Added));
    if dice.percent(85) {
        let space = facts::space(dice);
        draft.push(Fact::Rack(rack, RackFact::InSpace(space)));
    }
    site.racks.push(rack);
}

/// A panel with its letters.
pub(super) fn panel(site: &mut Site, draft: &mut Draft, dice: &mut Dice) {
    let connectors = [
        Connector::Modular,
        Connector::Modular,
        Connector::ShieldedModular,
        Connector::F,
        Connector::SpeakerTerminal,
        Connector::AlarmTerminal,
        Connector::PunchBlock,
        Connector::Lc,
    ];
    let panel: PanelId = draft.mint();
    let make = PanelMake {
        connector: connectors[site.panels.len() % connectors.len()],
        positions: PanelSize::new(12).expect("a size"),
    };
    draft.push(Fact::Panel(panel, PanelFact::Added(make)));
    let letters = facts::letters(dice);
    draft.push(Fact::Panel(panel, PanelFact::Lettered(letters)));
    site.panels.push(panel);
}

/// Everything else that stands about on a site.
pub(super) fn gear(site: &mut Site, draft: &mut Draft, dice: &mut Dice) {
    let (unit, floor) = (draft.mint(), draft.mint());
    draft.push(Fact::Unit(unit, UnitFact::Added));
    draft.push(Fact::Floor(floor, FloorFact::Added));
    site.units.push(unit);
    site.floors.push(floor);
    let (kind, jacket): (OutletTypeId, JacketId) = (draft.mint(), draft.mint());
    draft.push(Fact::OutletType(kind, OutletTypeFact::Added));
    draft.push(Fact::JacketAdded(jacket));
    site.types.push(kind);
    site.jackets.push(jacket);
    let (device, joint): (DeviceId, JointId) = (draft.mint(), draft.mint());
    draft.push(Fact::Device(device, DeviceFact::Added));
    draft.push(Fact::Joint(
        joint,
        JointFact::Added(facts::joint_kind(dice)),
    ));
    site.devices.push(device);
    site.joints.push(joint);
    for number in 1..4 {
        let loose = draft.mint();
        draft.push(Fact::LooseEnd(loose, LooseEndFact::Added { number }));
        site.loose.push(loose);
    }
    for number in 1..3 {
        let conduit = draft.mint();
        draft.push(Fact::Conduit(conduit, ConduitFact::Added { number }));
        site.conduits.push(conduit);
    }
    for kind in BlockKind::ALL {
        let block = draft.mint();
        draft.push(Fact::Block(block, BlockFact::Added(kind)));
        site.blocks.push(block);
    }
    let picture: PictureId = draft.mint();
    let bytes = u8::try_from(site.pictures.len()).expect("few pictures");
    let digest = Digest([bytes; 32]);
    draft.push(Fact::Picture(picture, PictureFact::Added(digest)));
    site.pictures.push(picture);
}

/// An outlet with its cables, most of them as they should be.
pub(super) fn outlet(site: &mut Site, draft: &mut Draft, dice: &mut Dice) {
    let outlet = draft.mint();
    draft.push(Fact::Outlet(outlet, OutletFact::Added));
    let at = dice.below(site.rooms.len());
    let number = OutletNumber::new(u8::try_from(1 + dice.below(9)).expect("small"));
    let number = number.expect("a number");
    if dice.percent(95) {
        let room = site.rooms[at];
        draft.push(Fact::Outlet(outlet, OutletFact::Numbered { room, number }));
    }
    site.outlets.push(outlet);
    for letter in Letter::all().take(dice.below(5)) {
        let id: CableId = draft.mint();
        draft.push(Fact::Cable(id, CableFact::Added));
        if dice.percent(95) {
            let name = RunName::Feeds { outlet, letter };
            draft.push(Fact::Cable(id, CableFact::Named(name)));
        }
        if dice.percent(90) {
            let medium = facts::medium(dice);
            draft.push(Fact::Cable(id, CableFact::MadeOf(medium)));
        }
        if dice.percent(90) {
            let leaves = match dice.below(5) {
                0 => Leaves::Outlet(dice.of(&site.outlets)),
                1 => Leaves::Rack(None),
                _ => Leaves::Rack(Some(dice.of(&site.racks))),
            };
            draft.push(Fact::Cable(id, CableFact::Leaves(leaves)));
        }
        site.cables.push(CableOnSite {
            id,
            code: format!("{}{}-{letter}", site.codes[at], number.get()),
            pulls: vec![PullId(id.0)],
        });
    }
}

/// A tie line between two racks.
pub(super) fn tie(site: &mut Site, draft: &mut Draft, dice: &mut Dice) {
    let id: CableId = draft.mint();
    let name = RunName::Ties {
        near: dice.of(&site.racks),
        far: dice.of(&site.racks),
        number: u16::try_from(1 + dice.below(3)).expect("small"),
    };
    draft.push(Fact::Cable(id, CableFact::Added));
    draft.push(Fact::Cable(id, CableFact::Named(name)));
    let medium = Medium::from_key("cat6a-ftp").expect("a medium");
    draft.push(Fact::Cable(id, CableFact::MadeOf(medium)));
    site.cables.push(CableOnSite {
        id,
        code: "1A/2A-1".to_owned(),
        pulls: vec![PullId(id.0)],
    });
}
