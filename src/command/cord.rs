//! Patch cords from the fronts of positions, devices, and panels that are exchanged.

use super::{Desk, Done, Refusal, Want};
use crate::domain::ids::PanelId;
use crate::domain::label::PositionNumber;
use crate::domain::medium::Sharing;
use crate::domain::order::Order;
use crate::domain::place::{End, Face, Fitting, Place, Placement, Position};
use crate::journal::{DeviceFact, Draft, EndFact, Fact, PanelFact, PanelMake};
use crate::names;

/// What is plugged in somewhere.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Plug {
    /// The cord of a position's front.
    Cord(Position),
    /// A cable.
    Cable(End),
}

/// So many positions are named in a refusal.
const NAMED: usize = 12;

impl Desk<'_> {
    pub(super) fn cord(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::Patch { position, to: None } => self.unpatch(draft, *position),
            Want::Patch {
                position,
                to: Some(to),
            } => self
                .refuse_no_front(*position, to)
                .and_then(|()| self.refuse_plugged(*position, to))
                .map(|()| draft.push(Fact::PositionPatched(*position, Some(to.clone())))),
            Want::PatchInstead { position, to } => self.patch_instead(draft, *position, to),
            Want::ReplacePanel {
                panel,
                make,
                fitting,
            } => self
                .free_seat_of(draft, want)
                .and_then(|()| self.replace_panel(draft, *panel, *make))
                .and_then(|()| self.refit_landed(draft, *panel, *make, *fitting)),
            Want::DescribeDevice {
                device,
                model,
                serial,
            } => {
                if let Err(refusal) = refuse_secret(&[model, serial], "model and serial number") {
                    return Some(Err(refusal));
                }
                let model = DeviceFact::Model(model.trim().to_owned());
                let serial = DeviceFact::Serial(serial.trim().to_owned());
                self.change(draft, Fact::Device(*device, model));
                self.change(draft, Fact::Device(*device, serial));
                Ok(())
            }
            _ => return None,
        })
    }

    /// A cord joins a front to a port of a device or to another front.
    fn refuse_no_front(&self, position: Position, to: &Place) -> Done {
        let own = Place::front(position);
        self.refuse_nowhere(&own)?;
        self.refuse_nowhere(to)?;
        match to {
            Place::Position {
                face: Face::Front, ..
            }
            | Place::Device { .. }
                if *to != own =>
            {
                Ok(())
            }
            _ => Err(Refusal::new(
                "A patch cord goes from one front to a port of a device, or to the front of another position.",
            )),
        }
    }

    /// The positions whose cords are plugged in at a front or port.
    pub(super) fn cords_in(&self, place: &Place) -> Vec<Position> {
        let mut cords = self.registry.index.patched.get(place).to_vec();
        if let Place::Position {
            position,
            face: Face::Front,
        } = place
        {
            let own = self.registry.cord_goes_to(*position);
            if !own.is_empty() && !cords.contains(position) {
                cords.push(*position);
            }
        }
        cords
    }

    /// A cable does not land where a patch cord is.
    pub(super) fn refuse_corded(&self, end: End, place: &Place, fitting: Fitting) -> Done {
        let cords = self.cords_in(place);
        let Some(cord) = cords.first() else {
            return Ok(());
        };
        let here = names::place(self.registry, place);
        let cord = names::position(self.registry, *cord);
        let mine = names::end_code(self.registry, end);
        Err(
            Refusal::new(format!("The patch cord of {cord} is at {here} already.")).or(
                format!(
                    "{mine} is here, I see it{}. The cord is not.",
                    self.adapter_words(end, place, fitting)
                ),
                Want::LandInstead {
                    end,
                    place: place.clone(),
                    fitting,
                },
            ),
        )
    }

    /// What else than the cord of a position is plugged in at a place.
    fn plugs(&self, place: &Place, but: Position) -> Vec<Plug> {
        let mut plugs: Vec<Plug> = Vec::new();
        let back = Place::front(but);
        for other in self.cords_in(place) {
            // The own cord of a front that only goes back is this very cord.
            let is_own = Place::front(other) == *place;
            let to = self.registry.cord_goes_to(other);
            let goes_back = to.into_iter().all(|to| *to == back);
            if other != but && !(is_own && goes_back) {
                plugs.push(Plug::Cord(other));
            }
        }
        for end in self.registry.index.landed.get(place) {
            plugs.push(Plug::Cable(*end));
        }
        plugs
    }

    /// What else is plugged in at either end of a cord, with the place.
    fn others(&self, position: Position, to: &Place) -> Vec<(Place, Plug)> {
        let own = Place::front(position);
        let mut others: Vec<(Place, Plug)> = Vec::new();
        for plug in self.plugs(to, position) {
            others.push((to.clone(), plug));
        }
        for plug in self.plugs(&own, position) {
            // The other end of this very cord, noted from there.
            let is_same = matches!(plug, Plug::Cord(other) if Place::front(other) == *to);
            if !is_same {
                others.push((own.clone(), plug));
            }
        }
        others
    }

    fn refuse_plugged(&self, position: Position, to: &Place) -> Done {
        let others = self.others(position, to);
        let Some((place, plug)) = others.first() else {
            return Ok(());
        };
        let holder = match plug {
            Plug::Cord(other) => format!("The cord of {}", names::position(self.registry, *other)),
            Plug::Cable(end) => names::end_code(self.registry, *end),
        };
        Err(Refusal::new(format!(
            "{holder} is at {} already. Look which one is there.",
            names::place(self.registry, place)
        ))
        .or(
            format!(
                "The cord of {} is here, I see it",
                names::position(self.registry, position)
            ),
            Want::PatchInstead {
                position,
                to: to.clone(),
            },
        ))
    }

    fn patch_instead(&self, draft: &mut Draft, position: Position, to: &Place) -> Done {
        self.refuse_no_front(position, to)?;
        for (place, plug) in self.others(position, to) {
            match plug {
                Plug::Cord(other) => draft.push(Fact::PositionPatched(other, None)),
                Plug::Cable(end) => self.let_go(draft, end, &place),
            }
        }
        draft.push(Fact::PositionPatched(position, Some(to.clone())));
        Ok(())
    }

    /// A cord may have been noted from its other end.
    fn unpatch(&self, draft: &mut Draft, position: Position) -> Done {
        self.refuse_nowhere(&Place::front(position))?;
        self.change(draft, Fact::PositionPatched(position, None));
        for other in self.registry.index.patched.get(&Place::front(position)) {
            draft.push(Fact::PositionPatched(*other, None));
        }
        Ok(())
    }

    /// Whatever is landed, listed, kept or patched stays at its number.
    fn replace_panel(&self, draft: &mut Draft, panel: PanelId, make: PanelMake) -> Done {
        let name = names::panel(self.registry, panel);
        if self.make_of(panel).is_none() {
            return Err(Refusal::new("This panel is no longer in the job."));
        }
        let index = &self.registry.index;
        let beyond = |place: &&Place| match place {
            Place::Position { position, .. } => {
                position.panel == panel && position.number.get() > make.positions.get()
            }
            Place::Jack { .. } | Place::Device { .. } | Place::Joint { .. } => false,
        };
        let mut lost: Vec<Place> = index.landed.keys().filter(beyond).cloned().collect();
        lost.extend(index.planned.keys().filter(beyond).cloned());
        let row = self.registry.panels.get(panel);
        for (number, cord) in row.into_iter().flat_map(|row| row.patched.iter()) {
            let number = *number;
            let is_patched = cord.get().is_some_and(Option::is_some);
            let place = Place::rear(Position { panel, number });
            lost.extend(Some(place).filter(|place| is_patched && beyond(&place)));
        }
        lost.put_in_order();
        lost.dedup();
        if !lost.is_empty() {
            let names = |place| names::place(self.registry, place);
            let mut refusal = Refusal::new(format!(
                "{name} has {} in use beyond {}: {}. Give their cables and cords other positions first.",
                if lost.len() == 1 {
                    "a position"
                } else {
                    "positions"
                },
                make.positions.get(),
                some_of(lost.iter().map(names).collect())
            ));
            refusal.see = Some(panel);
            return Err(refusal);
        }
        draft.push(Fact::Panel(panel, PanelFact::Added(make)));
        Ok(())
    }

    /// A cable that is landed stays landed, so it must fit the new connector or have an adapter.
    fn refit_landed(
        &self,
        draft: &mut Draft,
        panel: PanelId,
        make: PanelMake,
        fitting: Fitting,
    ) -> Done {
        if self.make_of(panel).map(|was| was.connector) == Some(make.connector) {
            return Ok(());
        }
        let numbers = (1..=make.positions.get()).filter_map(PositionNumber::new);
        let places = numbers.map(|number| Place::rear(Position { panel, number }));
        let mut named: Vec<String> = Vec::new();
        let mut listed: Vec<String> = Vec::new();
        let mut why = "";
        let is_single = make.connector.sharing() == Sharing::Single;
        for place in places {
            let here = self.registry.index.landed.get(&place);
            if is_single && here.len() > 1 {
                let mut refusal = Refusal::new(format!(
                    "{} is landed on by more than one cable, and {} takes one. Give the others other positions first.",
                    names::place(self.registry, &place),
                    make.connector.words()
                ));
                refusal.see = Some(panel);
                return Err(refusal);
            }
            for end in here {
                let record = self.end_record(end.cable, end.side);
                let here = record.and_then(|record| record.placement.get(end.leg)?.get());
                let is_direct = matches!(here, Some(Placement::Landed { fitting: Fitting::Direct, place: at }) if *at == place);
                let (true, Some(reason)) = (is_direct, self.misfit(*end, make.connector)) else {
                    continue;
                };
                let Ok(of) = self.end_of(*end) else {
                    continue;
                };
                let (code, at) = (
                    names::end_code(self.registry, *end),
                    names::place(self.registry, &place),
                );
                named.push([&code, " on ", &at].concat());
                why = reason;
                let place = place.clone();
                let landed = Placement::Landed { place, fitting };
                draft.push(Fact::End(of, EndFact::Placed(landed)));
            }
            let to_come = self.meant_for(&place).filter(|end| !here.contains(end));
            for end in to_come {
                if let Some(reason) = self.misfit(end, make.connector) {
                    let code = names::end_code(self.registry, end);
                    let at = names::place(self.registry, &place);
                    listed.push([&code, " listed for ", &at].concat());
                    why = reason;
                }
            }
        }
        named.append(&mut listed);
        if named.is_empty() || fitting != Fitting::Direct {
            return Ok(());
        }
        let fitting = Fitting::Adapter;
        let mut refusal = Refusal::new(
            [
                &names::panel(self.registry, panel),
                " is to be ",
                make.connector.words(),
                ", and what is landed or listed there does not fit: ",
                &some_of(named),
                "; ",
                why,
                ". Lift them or give them other positions first.",
            ]
            .concat(),
        )
        .or(
            "Exchange it: they have adapters",
            Want::ReplacePanel {
                panel,
                make,
                fitting,
            },
        );
        refusal.see = Some(panel);
        Err(refusal)
    }
}

/// The first of many, and how many more there are.
fn some_of(mut named: Vec<String>) -> String {
    let more = named.len().saturating_sub(NAMED);
    if more > 0 {
        named.truncate(NAMED);
        named.push([&more.to_string(), " more"].concat());
    }
    names::listed(&named)
}

/// Refuses texts of which one says of itself that it holds a secret.
pub(super) fn refuse_secret(texts: &[&String], what: &str) -> Done {
    let words = ["password", "passwd", "passcode", "passphrase", "pwd"];
    let is_secret = |text: &&String| {
        let text = text.to_lowercase();
        words.iter().any(|word| text.contains(word))
    };
    if texts.iter().any(is_secret) {
        return Err(Refusal::new([
            "This looks like a password. Whoever holds this file can read it; keep the password elsewhere, and write ",
            what,
            " alone.",
        ].concat()));
    }
    Ok(())
}
