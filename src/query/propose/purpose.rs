//! Which panels are there for what a cable is for: the words of a panel's purpose, found among those of
//! the cable, its outlet, its room and its floor.

use rustc_hash::FxHashMap;

use super::{Panel, Slot, place_of};
use crate::domain::ids::PanelId;
use crate::domain::outlet_type::OutletKind;
use crate::domain::place::RunName;
use crate::journal::{Cable, Registry};
use crate::names;

/// What a panel is for, each purpose in words that must all occur.
pub(super) fn stated(purpose: &str) -> Vec<Vec<String>> {
    let purposes = purpose.split([',', ';', '/', '&', '+']);
    let purposes = purposes.flat_map(|purpose| purpose.split(" and "));
    purposes
        .map(words)
        .filter(|words| !words.is_empty())
        .collect()
}

/// The words of a text in small letters, one or more of a thing alike.
fn words(text: &str) -> Vec<String> {
    let words = text.split(|letter: char| !letter.is_alphanumeric());
    let words = words.filter(|word| !word.is_empty());
    words
        .map(|word| word.to_lowercase().trim_end_matches('s').to_owned())
        .collect()
}

/// Which panels are there for what a cable is for.
pub(super) struct Purposes<'a> {
    panels: &'a [Panel],
    /// Those of which somebody said what they are for.
    stated: Vec<&'a Panel>,
    /// By the words of a cable: the place among the ranks.
    known: FxHashMap<String, usize>,
    /// For each purpose that occurs: the panels that serve it.
    served: Vec<Vec<PanelId>>,
}

impl<'a> Purposes<'a> {
    pub(super) fn new(panels: &'a [Panel]) -> Self {
        Self {
            panels,
            stated: panels
                .iter()
                .filter(|panel| !panel.purposes.is_empty())
                .collect(),
            known: FxHashMap::default(),
            served: vec![Vec::new()],
        }
    }

    pub(super) fn rank(&mut self, registry: &Registry, cable: &Cable) -> usize {
        if self.stated.is_empty() {
            return 0;
        }
        let text = what_for(registry, cable);
        if let Some(known) = self.known.get(&text) {
            return *known;
        }
        let has = words(&text);
        let serves = |panel: &&&Panel| {
            let mut purposes = panel.purposes.iter();
            purposes.any(|purpose| purpose.iter().all(|word| has.contains(word)))
        };
        let stated = self.stated.iter();
        let served: Vec<PanelId> = stated.filter(serves).map(|panel| panel.id).collect();
        let at = place_of(&mut self.served, served);
        self.known.insert(text, at);
        at
    }

    /// For each purpose and each board: whether it serves it, anything, or something else.
    pub(super) fn ranks(&self, boards: usize) -> Vec<Vec<u8>> {
        let rank = |served: &[PanelId], board: usize| {
            // The boards of shared terminals come after those of the panels, and serve anything.
            match self.panels.get(board) {
                Some(panel) if served.contains(&panel.id) => 0,
                Some(panel) if !panel.purposes.is_empty() => 2,
                Some(_) | None => 1,
            }
        };
        self.served
            .iter()
            .map(|served| (0..boards).map(|board| rank(served, board)).collect())
            .collect()
    }
}

/// What cables are for by the kind of their outlet, each kind by a number from 1.
#[derive(Default)]
pub(super) struct Said(Vec<OutletKind>);

impl Said {
    /// The number of what a cable is for; 0 where nobody said.
    pub(super) fn number(&mut self, registry: &Registry, cable: &Cable) -> usize {
        let Some(RunName::Feeds { outlet, .. }) = cable.name.get() else {
            return 0;
        };
        let outlet = registry.outlets.get(*outlet);
        let kind = outlet.and_then(|outlet| outlet.kind.get());
        kind.map_or(0, |kind| 1 + place_of(&mut self.0, *kind))
    }

    /// What the cables at these positions are for, each once.
    pub(super) fn there(&mut self, registry: &Registry, slots: &[Slot]) -> Vec<usize> {
        let mut there = Vec::new();
        for slot in slots {
            for end in slot.landed.iter().chain(&slot.planned) {
                let number = registry.cables.get(end.cable);
                let number = number.map_or(0, |cable| self.number(registry, cable));
                if number > 0 && !there.contains(&number) {
                    there.push(number);
                }
            }
        }
        there
    }
}

/// What a cable is for, in all the words that say so: of its outlet, its room and its floor too.
fn what_for(registry: &Registry, cable: &Cable) -> String {
    let mut text = cable.purpose.get().cloned().unwrap_or_default();
    let mut add = |words: &str| {
        text.push(' ');
        text.push_str(words);
    };
    if let Some(RunName::Feeds { outlet, .. }) = cable.name.get()
        && let Some(outlet) = registry.outlets.get(*outlet)
    {
        if let Some(kind) = outlet.kind.get() {
            add(&names::outlet_kind(registry, *kind));
        }
        add(outlet.purpose.get().map_or("", String::as_str));
        if let Some(room) = outlet.number.get().map(|numbering| numbering.room) {
            add(&names::room(registry, room));
            let floor = registry.rooms.get(room).and_then(|room| room.floor.get());
            let floor = floor.and_then(|floor| registry.floors.get(*floor));
            add(floor
                .and_then(|floor| floor.name.get())
                .map_or("", |name| name));
        }
    }
    text
}
