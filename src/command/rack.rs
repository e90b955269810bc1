//! Racks, panels, positions, devices and joints.

use super::{Desk, Done, Fault, Refusal, Want, words};
use crate::domain::ids::{DeviceId, JointId, PanelId, RackId, RoomId};
use crate::domain::label::{PanelLetters, SpaceCode};
use crate::domain::place::Place;
use crate::domain::work::Availability;
use crate::journal::{DeviceFact, Draft, Fact, JointFact, PanelFact, PanelMake, RackFact};
use crate::names;

impl Desk<'_> {
    pub(super) fn rack(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::AddRack { space, name, room } => self.add_rack(draft, *space, name, *room),
            Want::RenameRack { rack, name } => words(name, "The name of the rack")
                .and_then(|name| self.free_rack_name(name, Some(*rack)))
                .map(|()| draft.push(Fact::Rack(*rack, RackFact::Named(name.clone())))),
            Want::RespaceRack { rack, space } => self
                .free_space(*space, Some(*rack))
                .and_then(|()| self.refuse_double_ties(*rack, *space))
                .map(|()| draft.push(Fact::Rack(*rack, RackFact::InSpace(*space)))),
            Want::AddPanel {
                rack,
                make,
                letters,
                unit,
            } => self
                .free_letters(*letters, None)
                .and_then(|()| self.free_seat_of(draft, want))
                .map(|()| add_panel(draft, *rack, *make, *letters, *unit)),
            Want::LetterPanel { panel, letters } => self
                .free_letters(*letters, Some(*panel))
                .map(|()| draft.push(Fact::Panel(*panel, PanelFact::Lettered(*letters)))),
            Want::SwapLetters { one, other } => self.swap_letters(draft, *one, *other),
            Want::KeepPosition { position, kept } => self
                .refuse_nowhere(&Place::rear(*position))
                .and_then(|()| match kept {
                    Availability::Open => Ok(""),
                    Availability::Reserved { reason } => {
                        words(reason, "What this position is kept for")
                    }
                    Availability::Bad { reason } => {
                        words(reason, "The reason why this position is bad")
                    }
                })
                .map(|_| draft.push(Fact::PositionKept(*position, kept.clone()))),
            Want::PlacePanel {
                panel,
                rack,
                unit,
                purpose,
            } => self.place_panel(draft, want, *panel, *rack, *unit, purpose),
            Want::AddDevice { name, room } => {
                let device: DeviceId = draft.mint();
                draft.push(Fact::Device(device, DeviceFact::Added));
                self.name_device(draft, device, name).map(|()| {
                    draft
                        .facts
                        .extend(room.map(|room| Fact::Device(device, DeviceFact::InRoom(room))));
                })
            }
            Want::RenameDevice { device, name } => self.name_device(draft, *device, name),
            Want::AddJoint { kind, name, room } => {
                let name = words(name, "The name of the joint");
                let free = |name| self.free_joint_name(name, None).map(|()| name);
                name.and_then(free).map(|name| {
                    let joint: JointId = draft.mint();
                    draft.push(Fact::Joint(joint, JointFact::Added(*kind)));
                    draft.push(Fact::Joint(joint, JointFact::Named(name.to_owned())));
                    draft
                        .facts
                        .extend(room.map(|room| Fact::Joint(joint, JointFact::InRoom(room))));
                })
            }
            Want::RenameJoint { joint, name } => words(name, "The name of the joint")
                .and_then(|name| self.free_joint_name(name, Some(*joint)).map(|()| name))
                .map(|name| draft.push(Fact::Joint(*joint, JointFact::Named(name.to_owned())))),
            _ => return None,
        })
    }

    fn free_space(&self, space: SpaceCode, except: Option<RackId>) -> Done {
        let holder = self
            .registry
            .index
            .racks_by_space
            .get(&space)
            .iter()
            .find(|rack| Some(**rack) != except);
        match holder {
            None => Ok(()),
            Some(rack) => {
                let holder = names::rack(self.registry, *rack);
                let words =
                    format!("{space} is {holder} already. Choose another letter for this floor.");
                Err(Refusal::of(Fault::Code, words))
            }
        }
    }

    fn add_rack(
        &self,
        draft: &mut Draft,
        space: SpaceCode,
        name: &str,
        room: Option<RoomId>,
    ) -> Done {
        let name = words(name, "The name of the rack")?;
        self.free_rack_name(name, None)?;
        self.free_space(space, None)?;
        let rack: RackId = draft.mint();
        draft.push(Fact::Rack(rack, RackFact::Added));
        draft.push(Fact::Rack(rack, RackFact::InSpace(space)));
        draft.push(Fact::Rack(rack, RackFact::Named(name.to_owned())));
        draft
            .facts
            .extend(room.map(|room| Fact::Rack(rack, RackFact::InRoom(room))));
        Ok(())
    }

    fn free_letters(&self, letters: PanelLetters, except: Option<PanelId>) -> Done {
        let holders = self.registry.index.panels_by_letters.get(&letters).iter();
        let holders: Vec<PanelId> = holders
            .copied()
            .filter(|panel| Some(*panel) != except)
            .collect();
        if holders.is_empty() {
            return Ok(());
        }
        let words =
            format!("Panel {letters} exists already. Panels are lettered through the whole job.");
        let refusal = Refusal::of(Fault::Code, words);
        let (Some(one), [other]) = (except, holders.as_slice()) else {
            return Err(refusal);
        };
        let other = *other;
        let swap = Want::SwapLetters { one, other };
        let mut refusal = refusal.or("Swap the letters", swap);
        refusal.words.push_str(
            " Swapped, the printed strips and letter tags of both are out of date. The tags on cables stay right.",
        );
        Err(refusal)
    }

    fn swap_letters(&self, draft: &mut Draft, one: PanelId, other: PanelId) -> Done {
        let letters = |panel: PanelId| self.registry.panels.get(panel)?.letters.known().copied();
        let (Some(first), Some(second)) = (letters(one), letters(other)) else {
            return Err(Refusal::new(
                "One of the two has no letter that people agree on. Give it one first.",
            ));
        };
        draft.push(Fact::Panel(one, PanelFact::Lettered(second)));
        draft.push(Fact::Panel(other, PanelFact::Lettered(first)));
        Ok(())
    }

    fn place_panel(
        &self,
        draft: &mut Draft,
        want: &Want,
        panel: PanelId,
        rack: RackId,
        unit: Option<u8>,
        purpose: &str,
    ) -> Done {
        let before = draft.facts.len();
        self.change(draft, Fact::Panel(panel, PanelFact::InRack(rack)));
        self.change(draft, Fact::Panel(panel, PanelFact::AtUnit(unit)));
        if draft.facts.len() > before {
            self.free_seat_of(draft, want)?;
        }
        let purpose = PanelFact::Purposed(purpose.to_owned());
        self.change(draft, Fact::Panel(panel, purpose));
        Ok(())
    }

    fn name_device(&self, draft: &mut Draft, device: DeviceId, name: &str) -> Done {
        let name = words(name, "The name of the device")?;
        self.free_device_name(name, device)?;
        draft.push(Fact::Device(device, DeviceFact::Named(name.to_owned())));
        Ok(())
    }
}

fn add_panel(
    draft: &mut Draft,
    rack: RackId,
    make: PanelMake,
    letters: PanelLetters,
    unit: Option<u8>,
) {
    let panel: PanelId = draft.mint();
    draft.push(Fact::Panel(panel, PanelFact::Added(make)));
    draft.push(Fact::Panel(panel, PanelFact::InRack(rack)));
    draft.push(Fact::Panel(panel, PanelFact::Lettered(letters)));
    draft.push(Fact::Panel(panel, PanelFact::AtUnit(unit)));
}
