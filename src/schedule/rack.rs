//! Racks and panels of a schedule: those of the job, and those that it would add.

use crate::domain::sorted::SortedMap;

use super::Reason;
use super::rooms::space;
use crate::domain::ids::{PanelId, RackId};
use crate::domain::label::{PanelLetters, PositionCode, SpaceCode};
use crate::domain::medium::{Connector, Fit, Medium, Sharing, fit};
use crate::domain::place::{Place, Position};
use crate::domain::text::folded;
use crate::journal::{Fact, PanelFact, PanelMake, PanelSize, RackFact, Registry};
use crate::names;

/// What is known of racks while the rows are gone through.
pub(super) struct Racks {
    racks: SortedMap<SpaceCode, RackId>,
    by_name: SortedMap<String, RackId>,
    panels: SortedMap<PanelLetters, Known>,
    /// Positions that rows of this file ask for, with the line.
    claims: SortedMap<PositionCode, u32>,
    /// The highest position of each panel that any row asks for.
    most: SortedMap<PanelLetters, u16>,
}

/// A panel that is there, or would be.
struct Known {
    id: PanelId,
    rack: Option<RackId>,
    connector: Connector,
    size: u16,
    new: bool,
}

impl Racks {
    pub(super) fn of(registry: &Registry) -> Self {
        let live = || {
            registry
                .racks
                .iter()
                .filter(|(_, rack)| !rack.added.is_empty())
        };
        let racks = live()
            .filter_map(|(id, rack)| Some((*rack.space.get()?, id)))
            .collect();
        let by_name = live()
            .filter_map(|(id, rack)| Some((folded(rack.name.get()?), id)))
            .collect();
        let panels = registry.panels.iter().filter_map(|(id, panel)| {
            let make = panel.make.get()?;
            let known = Known {
                id,
                rack: panel.rack.get().copied(),
                connector: make.connector,
                size: make.positions.get(),
                new: false,
            };
            Some((*panel.letters.get()?, known))
        });
        Self {
            racks,
            by_name,
            panels: panels.collect(),
            claims: SortedMap::new(),
            most: SortedMap::new(),
        }
    }

    /// The rack with this name or space.
    pub(super) fn named(&self, words: &str) -> Option<RackId> {
        let by_space = space(words).and_then(|space| self.racks.get(&space));
        self.by_name.get(&folded(words)).or(by_space).copied()
    }

    /// The rack, when there is just one.
    pub(super) fn only(&self) -> Option<RackId> {
        let mut racks = self.racks.values();
        racks.next().copied().filter(|_| racks.next().is_none())
    }

    /// The rack that a panel is in.
    pub(super) fn rack_of(&self, panel: PanelLetters) -> Option<RackId> {
        self.panels.get(&panel)?.rack
    }

    /// Whether a panel is there, or was added by an earlier row.
    pub(super) fn knows(&self, panel: PanelLetters) -> bool {
        self.panels.contains_key(&panel)
    }

    /// The next free space on the first floor.
    pub(super) fn next_space(&self) -> Option<SpaceCode> {
        let spaces = (b'A'..=b'Z')
            .filter_map(|letter| SpaceCode::new(1, &char::from(letter).to_string()).ok());
        spaces
            .into_iter()
            .find(|space| !self.racks.contains_key(space))
    }

    pub(super) fn rack_in(
        &mut self,
        space: SpaceCode,
        name: &str,
        id: RackId,
    ) -> (RackId, Vec<Fact>, Vec<String>) {
        if let Some(rack) = self.racks.get(&space) {
            return (*rack, Vec::new(), Vec::new());
        }
        let name = if name.is_empty() {
            format!("Rack {space}")
        } else {
            name.to_owned()
        };
        let facts = vec![
            Fact::Rack(id, RackFact::Added),
            Fact::Rack(id, RackFact::InSpace(space)),
            Fact::Rack(id, RackFact::Named(name.clone())),
        ];
        self.racks.insert(space, id);
        self.by_name.insert(folded(&name), id);
        (id, facts, vec![format!("Rack {space}, {name}")])
    }

    /// A panel is in one rack: a position in another rack than that of its panel is refused. The
    /// whole code of a position says its rack before a column of the racks does.
    pub(super) fn refuse_elsewhere(
        &self,
        position: PositionCode,
        space: Option<SpaceCode>,
        rack: Option<&str>,
    ) -> Result<(), Reason> {
        let said = space.map(|space| space.to_string());
        let (Some(said), Some(is)) = (said.as_deref().or(rack), self.rack_of(position.panel))
        else {
            return Ok(());
        };
        if self.named(said) == Some(is) {
            return Ok(());
        }
        let mut racks = self.racks.iter();
        let space = racks.find(|(_, rack)| **rack == is);
        let space = space.map_or_else(String::new, |(space, _)| format!(" {space}"));
        Err(format!(
            "Panel {} is in rack{space}, not in {said}, and two racks cannot share one panel letter. Write the letter of a panel in {said}, or the rack that panel {} is in.",
            position.panel, position.panel
        ))
    }

    /// Checks that a position can be meant for one more cable.
    pub(super) fn claim(
        &mut self,
        registry: &Registry,
        position: PositionCode,
        line: u32,
    ) -> Result<(), Reason> {
        if position.number.get() > 96 {
            return Err(format!(
                "{position} is beyond the largest panel, which has 96 positions."
            ));
        }
        let known = self.panels.get(&position.panel);
        if let Some(known) = known.filter(|known| !known.new) {
            if position.number.get() > known.size {
                return Err(format!(
                    "Panel {} has {} positions; there is no {position}.",
                    position.panel, known.size
                ));
            }
            let place = Place::rear(Position {
                panel: known.id,
                number: position.number,
            });
            let landed = registry.index.landed.get(&place).first();
            let holder = landed.or_else(|| registry.index.planned.get(&place).first());
            if let Some(holder) = holder.filter(|_| known.connector.sharing() == Sharing::Single) {
                let is = landed.map_or("meant for", |_| "taken by");
                return Err(format!(
                    "{position} is {is} {} already. Choose another position.",
                    names::cable(registry, holder.cable)
                ));
            }
        }
        let shared = known.is_some_and(|known| known.connector.sharing() == Sharing::Shared);
        match self.claims.get(&position) {
            Some(first) if !shared => Err(format!(
                "{position} stands on line {first} already. Choose another position for one of the two."
            )),
            _ => {
                self.claims.insert(position, line);
                Ok(())
            }
        }
    }

    /// Why a cable does not go straight onto a panel; none where it does, or there is no panel yet.
    pub(super) fn misfit(&self, panel: PanelLetters, medium: &Medium) -> Option<&'static str> {
        match fit(medium, self.panels.get(&panel)?.connector) {
            Fit::Fits => None,
            Fit::Misfit(reason) => Some(reason),
        }
    }

    /// Notes that some row asks for a position.
    pub(super) fn ask(&mut self, position: PositionCode) {
        let most = self.most.or_default(position.panel);
        *most = position.number.get().max(*most);
    }

    /// The panel with these letters, added where there is none: with the connector that suits the
    /// first cable on it, and the next usual size that has room for the highest position asked for.
    pub(super) fn panel(
        &mut self,
        letters: PanelLetters,
        id: PanelId,
        rack: Option<RackId>,
        medium: &Medium,
    ) -> (PanelId, Vec<Fact>, Vec<String>) {
        let most = self.most.get(&letters).copied().unwrap_or(1);
        let size = [24, 48, 96]
            .into_iter()
            .find(|size| *size >= most)
            .unwrap_or(96);
        if let Some(known) = self.panels.get(&letters) {
            return (known.id, Vec::new(), Vec::new());
        }
        let connector = Connector::all().find(|connector| fit(medium, *connector) == Fit::Fits);
        let connector = connector.unwrap_or(Connector::Modular);
        let Some(positions) = PanelSize::new(size) else {
            unreachable!("24, 48 and 96 are sizes of panels")
        };
        let mut facts = vec![
            Fact::Panel(
                id,
                PanelFact::Added(PanelMake {
                    connector,
                    positions,
                }),
            ),
            Fact::Panel(id, PanelFact::Lettered(letters)),
        ];
        facts.extend(rack.map(|rack| Fact::Panel(id, PanelFact::InRack(rack))));
        let known = Known {
            id,
            rack,
            connector,
            size,
            new: true,
        };
        self.panels.insert(letters, known);
        (
            id,
            facts,
            vec![format!(
                "Panel {letters}, {} with {size} positions",
                connector.words()
            )],
        )
    }
}
