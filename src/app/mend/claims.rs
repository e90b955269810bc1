//! Codes and places that several things claim: who, since when, and which gives way.

use crate::domain::order::Order;
use crate::domain::sorted::SortedSet;

use super::health::counted;
use super::{Desk, Mending, told_apart};
use crate::app::Screen;
use crate::codes::propose::propose_room_code;
use crate::command::{Correction, Want};
use crate::domain::ids::{CableId, ConduitId, LooseEndId, OutletId, PanelId, RackId, RoomId};
use crate::domain::label::{LabelCode, Letter, OutletNumber, PanelLetters, RoomCode, SpaceCode};
use crate::domain::place::{End, Fitting, Place, Placement, RunName, Side};
use crate::journal::{Act, FactRef, Hold, Register, Registry, Said};
use crate::names;
use crate::query::deeds::{sayer, who};
use crate::query::rack::placement;
use crate::walk;

impl Desk<'_> {
    /// The code of a cable; one that another cable has too gets more words.
    pub(super) fn name(&self, cable: CableId) -> String {
        names::cable(self.registry, cable) + &self.apart_words(cable)
    }

    /// The code of an end, in the same way.
    fn end_code(&self, end: End) -> String {
        names::end_code(self.registry, end) + &self.apart_words(end.cable)
    }

    /// An end in words, in the same way.
    pub(super) fn end(&self, end: End) -> String {
        let side = names::side(self.registry, end.cable, end.side);
        format!("{} at {side}", self.end_code(end))
    }

    /// What tells a cable from others of its code, to stand behind the code: medium, then author.
    fn apart_words(&self, cable: CableId) -> String {
        let code = names::cable(self.registry, cable);
        let same: Vec<CableId> = self.registry.index.cables_by_code.get(&code).to_vec();
        let Some(at) = same.iter().position(|other| *other == cable) else {
            return String::new();
        };
        let mut words = vec![String::new(); same.len()];
        words = told_apart(
            words,
            &[&|at| self.medium(same[at]), &|at| {
                self.cable_added(same[at])
            }],
        );
        words.swap_remove(at)
    }

    pub(super) fn medium(&self, cable: CableId) -> String {
        let row = self.registry.cables.get(cable);
        let medium = row.and_then(|row| row.medium.get());
        medium.map_or_else(String::new, ToString::to_string)
    }

    /// What is recorded of where an end is.
    pub(super) fn placement(&self, end: End) -> Option<&Register<Placement>> {
        placement(self.registry, end)
    }

    pub(super) fn double_claim(&self, place: &Place, ends: &[End]) -> Mending {
        let at = names::place(self.registry, place);
        let codes = ends.iter().map(|end| self.end_code(*end));
        let codes: Vec<String> = codes.collect();
        let mut mending = Mending::new(format!(
            "{at} has {} cables: {}.",
            ends.len(),
            names::listed(&codes)
        ));
        for (end, code) in ends.iter().zip(&codes) {
            let said = self.placement(*end).into_iter().flat_map(Register::all);
            for said in said {
                if matches!(said.value, Placement::Landed { place: at, .. } if at == place) {
                    mending = mending.because(format!(
                        "{code} was landed here by {}.",
                        sayer(self.journal, said.fact)
                    ));
                }
            }
        }
        let others = if ends.len() > 2 {
            "the others go"
        } else {
            "the other goes"
        };
        for (end, code) in ends.iter().zip(&codes) {
            mending = mending.or(
                format!("{code} is here, I see it: {others} back to not landed"),
                Want::LandInstead {
                    end: *end,
                    place: place.clone(),
                    fitting: Fitting::Direct,
                },
            );
        }
        // Whoever saw where one of them really is says that.
        for (end, code) in ends.iter().zip(&codes) {
            mending = mending.or_go(
                format!("{code} is elsewhere: say where"),
                Screen::HandCable(end.cable),
            );
        }
        // A withdrawn cable cannot be landed any more; it can always be taken off.
        for (end, code) in ends.iter().zip(&codes) {
            let row = self.registry.cables.get(end.cable);
            if row.is_none_or(|row| row.added.is_empty()) {
                mending = mending.or(format!("{code} is not here"), Want::Lift { end: *end });
            }
        }
        mending
    }

    pub(super) fn planned_twice(&self, place: &Place, ends: &[End]) -> Mending {
        let codes = ends.iter().map(|end| self.end_code(*end));
        let codes: Vec<String> = codes.collect();
        let mut mending = Mending::new(format!(
            "{} is meant for {}.",
            names::place(self.registry, place),
            names::listed(&codes)
        ))
        .because("It takes one of them. The others need another place.");
        for (end, code) in ends.iter().zip(&codes) {
            let want = Want::PlanEnd {
                end: *end,
                place: None,
            };
            mending = mending.or(format!("{code} gets another place"), want);
        }
        mending
    }

    pub(super) fn code_twice(&self, cables: &[CableId]) -> Mending {
        let codes: SortedSet<String> = cables
            .iter()
            .map(|cable| names::cable(self.registry, *cable))
            .collect();
        let codes: Vec<String> = codes.into_iter().collect();
        let mut mending = Mending::new(format!(
            "{} cables are called {}.",
            cables.len(),
            names::listed(&codes)
        ));
        let called = cables.iter().map(|cable| self.called_apart(*cable));
        let called = told_apart(called.collect(), &[&|at| self.cable_added(cables[at])]);
        for (cable, called) in cables.iter().zip(&called) {
            mending = mending.because(format!("{called}: {}.", self.marked_words(*cable)));
        }
        let mut marked_last: Vec<(&CableId, &String)> = cables.iter().zip(&called).collect();
        marked_last.order_by_key(|(cable, _)| self.hold(**cable) == Some(Hold::Frozen));
        for (cable, called) in marked_last {
            mending = self.apart(mending, *cable, called);
        }
        if let [one, other] = *cables {
            // The one that bears marks stays, so that nobody has to write anew.
            let is_marked = |cable| self.hold(cable) == Some(Hold::Frozen);
            let (stays, goes) = if is_marked(other) && !is_marked(one) {
                (other, one)
            } else {
                (one, other)
            };
            let want = Want::SameCable { stays, goes };
            mending = mending.or("These are the same cable", want);
        }
        mending
    }

    pub(super) fn cable_added(&self, id: CableId) -> String {
        let row = self.registry.cables.get(id);
        self.added_by(row.and_then(|row| row.added.iter().next()))
    }

    fn outlet_added(&self, id: OutletId) -> String {
        let row = self.registry.outlets.get(id);
        self.added_by(row.and_then(|row| row.added.iter().next()))
    }

    fn room_added(&self, id: RoomId) -> String {
        let row = self.registry.rooms.get(id);
        self.added_by(row.and_then(|row| row.added.iter().next()))
    }

    fn added_by<T>(&self, said: Option<Said<'_, T>>) -> String {
        let who = said.map(|said| who(self.journal, said.stamp.act));
        who.map_or_else(
            || "taken back since".to_owned(),
            |who| format!("added by {who}"),
        )
    }

    /// What tells a cable from another of the same code: its ends, its purpose and its room.
    fn called_apart(&self, cable: CableId) -> String {
        let row = self.registry.cables.get(cable);
        let purpose = row.and_then(|row| row.purpose.get()).map(String::as_str);
        let outlet = row.and_then(|row| match row.name.get()? {
            RunName::Feeds { outlet, .. } => self.registry.outlets.get(*outlet),
            RunName::Ties { .. } => None,
        });
        let room = outlet.and_then(|outlet| outlet.number.get());
        let room = room.map(|at| names::room(self.registry, at.room));
        let ends = crate::query::find::both_ends(self.registry, cable);
        let more = [purpose, room.as_deref()].into_iter().flatten();
        let more = more.filter(|words| !words.trim().is_empty());
        more.fold(format!("The one from {ends}"), |words, more| {
            words + ", " + more
        })
    }

    fn hold(&self, cable: CableId) -> Option<Hold> {
        self.registry.cable_code(cable).map(|code| code.held)
    }

    fn marked_words(&self, cable: CableId) -> String {
        let row = self.registry.cables.get(cable);
        match row.and_then(Registry::first_mark) {
            None => "nothing is written on it yet".to_owned(),
            Some(mark) => format!("marked by {}", who(self.journal, mark.stamp.act)),
        }
    }

    /// Offers another letter for a cable; one that is marked loses its tags by that.
    fn apart(&self, mending: Mending, cable: CableId, called: &str) -> Mending {
        let row = self.registry.cables.get(cable);
        let Some(RunName::Feeds { outlet, .. }) = row.and_then(|row| row.name.get()).copied()
        else {
            return mending;
        };
        if self.hold(cable) == Some(Hold::Frozen) {
            return mending.or(
                format!("{called} gets another letter: its marks are void, its tags come off"),
                Want::CameOutAt {
                    cable,
                    outlet,
                    how: Correction::TagsMove,
                },
            );
        }
        match self.free_letter(outlet) {
            Some(letter) => mending.or(
                format!("{called} becomes {letter}"),
                Want::Reletter { cable, letter },
            ),
            None => mending,
        }
    }

    /// The first letter that no run at the outlet ever had and that gives a free code.
    fn free_letter(&self, outlet: OutletId) -> Option<Letter> {
        let names = self.registry.cables.iter();
        let had: SortedSet<Letter> = names
            .flat_map(|(_, cable)| cable.name.ever())
            .filter_map(|name| match name {
                RunName::Feeds { outlet: of, letter } if *of == outlet => Some(*letter),
                RunName::Feeds { .. } | RunName::Ties { .. } => None,
            })
            .collect();
        let code = self.registry.outlet_code(outlet);
        let is_free = |letter: &Letter| {
            let letter = *letter;
            code.is_none_or(|outlet| {
                let code = LabelCode::Run { outlet, letter }.to_string();
                self.registry.index.cables_by_code.get(&code).is_empty()
            })
        };
        // D is the coax's letter.
        let letters = Letter::all().filter(|letter| letter.get() != 'D');
        letters.filter(|letter| !had.contains(letter)).find(is_free)
    }

    pub(super) fn outlet_code_twice(&self, outlets: &[OutletId]) -> Mending {
        let code = outlets.first().map(|id| names::outlet(self.registry, *id));
        let mut mending = Mending::new(format!(
            "{} outlets are called {}.",
            outlets.len(),
            code.unwrap_or_default()
        ));
        let called = self.outlets_apart(outlets);
        let mut rows: Vec<(usize, OutletId, &String)> = Vec::new();
        for (id, called) in outlets.iter().zip(&called) {
            let fed = self.registry.index.fed.get(id);
            let marked = fed
                .iter()
                .filter(|cable| self.hold(**cable) == Some(Hold::Frozen));
            let marked = marked.count();
            rows.push((marked, *id, called));
            let added = Some(self.outlet_added(*id)).filter(|added| !called.contains(added));
            let added = added.map_or_else(String::new, |added| added + "; ");
            let tags = match marked {
                0 => "none of its cables is marked".to_owned(),
                1 => "1 of its cables is marked".to_owned(),
                count => format!("{count} of its cables are marked"),
            };
            mending = mending.because(format!("{called}: {added}{tags}."));
        }
        mending = mending.because(
            "Cables of one letter have one code too, until one outlet has another number.",
        );
        // The one with the fewest tags moves most cheaply.
        rows.put_in_order();
        if let [(_, goes, _), (_, stays, _)] = rows[..] {
            let want = Want::SameOutlet { stays, goes };
            mending = mending.or("These are the same outlet", want);
        }
        for (_, outlet, called) in rows {
            let numbering = self.registry.outlets.get(outlet);
            let numbering = numbering.and_then(|row| row.number.get());
            if let Some((room, number)) =
                numbering.and_then(|at| Some((at.room, self.next_number(at.room)?)))
            {
                mending = mending.or(
                    format!("{called} becomes number {}", number.get()),
                    Want::MoveOutlet {
                        outlet,
                        room,
                        number,
                    },
                );
            }
        }
        mending
    }

    /// What tells outlets of one code apart: purpose, type, who added them.
    fn outlets_apart(&self, outlets: &[OutletId]) -> Vec<String> {
        let purposes = outlets.iter().map(|id| self.outlet_purpose(*id));
        let kind = |at: usize| {
            let row = self.registry.outlets.get(outlets[at]);
            let kind = row.and_then(|row| row.kind.get());
            kind.map_or_else(String::new, |kind| names::outlet_kind(self.registry, *kind))
        };
        let added = |at: usize| self.outlet_added(outlets[at]);
        told_apart(purposes.collect(), &[&kind, &added])
    }

    /// An outlet as a heading: its code, and what tells it from another one of that code.
    pub(super) fn heading(&self, id: OutletId) -> String {
        let code = names::outlet(self.registry, id);
        let index = &self.registry.index.outlets_by_code;
        let same = self.registry.outlet_code(id).map(|code| index.get(&code));
        let outlets = &self.registry.outlets;
        let is_wanted = |id: &OutletId| outlets.get(*id).is_some_and(walk::is_wanted_outlet);
        let same = same.unwrap_or_default().iter().copied();
        let same: Vec<OutletId> = same.filter(is_wanted).collect();
        let called = same.iter().zip(self.outlets_apart(&same));
        let called = called
            .filter(|_| same.len() > 1)
            .find(|(other, _)| **other == id);
        called.map_or(code.clone(), |(_, called)| format!("{code}: {called}"))
    }

    fn outlet_purpose(&self, id: OutletId) -> String {
        let row = self.registry.outlets.get(id);
        let purpose = row.and_then(|row| row.purpose.get());
        let purpose = purpose.filter(|purpose| !purpose.trim().is_empty());
        purpose.map_or_else(
            || "The one without a purpose".to_owned(),
            |purpose| format!("“{purpose}”"),
        )
    }

    pub(super) fn next_number(&self, room: RoomId) -> Option<OutletNumber> {
        let outlets = self.registry.outlets.iter();
        let had = outlets.flat_map(|(_, outlet)| outlet.number.ever());
        let had = had.filter(|at| at.room == room).map(|at| at.number.get());
        OutletNumber::new(had.max().unwrap_or(0).checked_add(1)?)
    }

    fn room_codes(&self) -> SortedSet<RoomCode> {
        let rooms = self.registry.rooms.iter();
        rooms
            .flat_map(|(_, room)| room.code.ever().copied())
            .collect()
    }

    pub(super) fn room_code_twice(&self, rooms: &[RoomId]) -> Mending {
        let names: Vec<String> = rooms
            .iter()
            .map(|id| names::room(self.registry, *id))
            .collect();
        let code = rooms
            .first()
            .and_then(|id| self.registry.rooms.get(*id)?.code.get());
        let code = code.map_or_else(String::new, ToString::to_string);
        let mut mending = Mending::new(format!("{} have one code, {code}.", names::listed(&names)))
            .because("Two cables could come to one code. Give one room another.");
        let taken = self.room_codes();
        let outlets = |at: usize| {
            let count = self.registry.index.outlets_in.get(&rooms[at]).len();
            counted(count, "outlet", "outlets")
        };
        let added = |at: usize| self.room_added(rooms[at]);
        let called = told_apart(names.clone(), &[&added]);
        for (at, called) in called.iter().enumerate() {
            let by = Some(added(at)).filter(|added| !called.contains(added));
            let by = by.map_or_else(String::new, |by| format!(", {by}"));
            mending = mending.because(format!("{called}: {}{by}.", outlets(at)));
        }
        if let [one, other] = *rooms {
            let (stays, goes) = (one.min(other), one.max(other));
            let want = Want::SameRoom { stays, goes };
            mending = mending.or("These are the same room", want);
        }
        for ((room, name), called) in rooms.iter().zip(&names).zip(&called) {
            let code = propose_room_code(name, None, &taken);
            mending = mending.or(
                format!("{called} becomes {code}"),
                Want::RecodeRoom { room: *room, code },
            );
        }
        mending.or_go("Rooms and floors", Screen::Rooms)
    }

    pub(super) fn room_without_code(&self, room: RoomId) -> Mending {
        let name = names::room(self.registry, room);
        let code = propose_room_code(&name, None, &self.room_codes());
        Mending::new(format!("{name} has no code."))
            .because("None of its cables has one before that.")
            .or(format!("Call it {code}"), Want::RecodeRoom { room, code })
            .or_go("Rooms and floors", Screen::Rooms)
    }

    pub(super) fn panel_letters_twice(&self, panels: &[PanelId]) -> Mending {
        let letters = panels.first().map(|id| names::panel(self.registry, *id));
        let letters = letters.unwrap_or_default();
        let mut mending = Mending::new(format!(
            "{letters} stands in the job {} times.",
            panels.len()
        ))
        .because("A position such as B07 would be two places. Letter one panel anew.");
        let used = &self.registry.index.panels_by_letters;
        let alphabet = ('A'..='Z').filter(|letter| !"IOQSZ".contains(*letter));
        let free = alphabet
            .filter_map(|letter| PanelLetters::new(&letter.to_string()).ok())
            .find(|letters| used.get(letters).is_empty());
        let called = panels.iter().map(|panel| {
            let row = self.registry.panels.get(*panel);
            let rack = row.and_then(|row| row.rack.get());
            let rack = rack.map(|rack| names::rack(self.registry, *rack));
            format!("The one in {}", rack.as_deref().unwrap_or("the rack"))
        });
        let make = |at: usize| {
            let row = self.registry.panels.get(panels[at]);
            row.and_then(|row| row.make.said())
        };
        let kind = |at| make(at).map_or_else(String::new, |said| names::make(*said.value));
        let called = told_apart(called.collect(), &[&kind, &|at| self.added_by(make(at))]);
        for (panel, called) in panels.iter().zip(called) {
            if let Some(free) = free {
                mending = mending.or(
                    format!("{called} becomes {free}"),
                    Want::LetterPanel {
                        panel: *panel,
                        letters: free,
                    },
                );
            }
        }
        mending.or_go("Racks and panels", Screen::Racks)
    }

    pub(super) fn space_twice(&self, racks: &[RackId]) -> Mending {
        let names: Vec<String> = racks
            .iter()
            .map(|id| names::rack(self.registry, *id))
            .collect();
        let space = racks
            .first()
            .and_then(|id| self.registry.racks.get(*id)?.space.get());
        let shown = space.map_or_else(String::new, ToString::to_string);
        let mut mending =
            Mending::new(format!("{} are both space {shown}.", names::listed(&names)))
                .because("Each rack is a space of its own, floor and letter.");
        let floor = space.map_or(0, |space| space.floor());
        let used = &self.registry.index.racks_by_space;
        let free = ('A'..='Z')
            .filter_map(|letter| SpaceCode::new(floor, &letter.to_string()).ok())
            .find(|space| used.get(space).is_empty());
        for (rack, name) in racks.iter().zip(told_apart(names, &[])) {
            if let Some(space) = free {
                mending = mending.or(
                    format!("{name} becomes {space}"),
                    Want::RespaceRack { rack: *rack, space },
                );
            }
        }
        mending.or_go("Racks and panels", Screen::Racks)
    }

    pub(super) fn loose_name(&self, loose: LooseEndId) -> String {
        let row = self.registry.loose_ends.get(loose);
        let number = row.and_then(|row| row.number.get()).copied();
        format!("Loose end {}", number.unwrap_or_default())
    }

    pub(super) fn loose_number_twice(&self, loose: &[LooseEndId]) -> Mending {
        let name = loose.first().map(|id| self.loose_name(*id));
        let mut mending = Mending::new(format!(
            "{} stands on {} ends whose cable is not known.",
            name.unwrap_or_default(),
            loose.len()
        ));
        let called = loose.iter().map(|id| {
            let row = self.registry.loose_ends.get(*id);
            let found = row.and_then(|row| row.found.get());
            let room = found.and_then(|found| found.room);
            let room = room.map(|room| names::room(self.registry, room));
            let place = found.map(|found| found.place.trim());
            let place = place.filter(|place| !place.is_empty());
            format!(
                "The one at {}",
                place.or(room.as_deref()).unwrap_or("a place not named")
            )
        });
        for (loose, called) in loose.iter().zip(told_apart(called.collect(), &[])) {
            let row = self.registry.loose_ends.get(*loose);
            for said in row.into_iter().flat_map(|row| row.number.all()) {
                let who = who(self.journal, said.stamp.act);
                mending = mending.because(format!("{called}: numbered by {who}."));
            }
            let want = Want::RenumberLooseEnd { loose: *loose };
            mending = mending.or(format!("{called} gets the next free number"), want);
        }
        mending.or_go("Loose ends", Screen::Loose)
    }

    pub(super) fn conduit_number_twice(&self, conduits: &[ConduitId]) -> Mending {
        let code = conduits
            .first()
            .map(|id| names::conduit(self.registry, *id));
        let mut mending =
            Mending::new(["Several conduits are ", &code.unwrap_or_default(), "."].concat());
        let called = conduits
            .iter()
            .map(|id| ["The one ", &names::conduit_ends(self.registry, *id)].concat());
        for (conduit, called) in conduits.iter().zip(told_apart(called.collect(), &[])) {
            let want = Want::RenumberConduit { conduit: *conduit };
            mending = mending.or(called + " gets the next free number", want);
        }
        mending
    }

    pub(super) fn joined_twice(&self, end: End, loose: &[LooseEndId]) -> Mending {
        let names: Vec<String> = loose.iter().map(|loose| self.loose_name(*loose)).collect();
        let mut mending = Mending::new(format!(
            "{} are both said to be {}.",
            names::listed(&names),
            self.end(end)
        ));
        for (loose, name) in loose.iter().zip(&names) {
            let row = self.registry.loose_ends.get(*loose);
            for said in row.into_iter().flat_map(|row| row.joined.all()) {
                mending = mending.because(format!(
                    "{name} was joined by {}.",
                    who(self.journal, said.stamp.act)
                ));
            }
            mending = mending.or(
                format!("{name} is another cable: part it"),
                Want::PartLooseEnd { loose: *loose },
            );
        }
        mending
    }

    pub(super) fn marks_differ(&self, cable: CableId) -> Mending {
        let code = self.name(cable);
        let mut mending = Mending::new(format!("{code} bears another code at an end."));
        let row = self.registry.cables.get(cable);
        for side in Side::BOTH {
            let at = names::side(self.registry, cable, side);
            let marks = row.and_then(|row| row.end(cable, side));
            let mut wrong = false;
            for said in marks.into_iter().flat_map(|end| end.marks.iter()) {
                wrong |= said.value.text != code;
                mending = mending.because(format!(
                    "At {at} it reads {}, by {}.",
                    said.value.text,
                    who(self.journal, said.stamp.act)
                ));
            }
            if wrong {
                let end = End::whole(cable, side);
                mending = mending.or(format!("The tag at {at} is off"), Want::LoseTag { end });
            }
        }
        mending.or_go("Show the cable", Screen::Cable(cable))
    }

    pub(super) fn code_moved(&self, cable: CableId) -> Mending {
        let row = self.registry.cables.get(cable);
        let now = row.and_then(|row| self.registry.label_of(*row.name.get()?));
        let now = now.map_or_else(String::new, |code| code.to_string());
        let code = self.name(cable);
        Mending::new(format!("{code} would be {now} by now."))
            .because(format!("As {code}: {}.", self.marked_words(cable)))
            .because(self.moved_words(cable))
            .or(
                format!("The old marks are void, the tags come off: mark it {now}"),
                Want::TagsAnew { cable },
            )
            .or(
                format!("It is right so: the tag says {code}, the run is called {now}"),
                Want::KeepTag { cable },
            )
            .or_go("Show the cable", Screen::Cable(cable))
    }

    /// What changed last of all that the name of a run follows from, and who changed it.
    fn moved_words(&self, cable: CableId) -> String {
        let of = self.registry;
        let name = of.cables.get(cable).and_then(|row| row.name.said());
        let mut said = Vec::new();
        match name.as_ref().map(|said| *said.value) {
            Some(RunName::Feeds { outlet, .. }) => {
                let number = of.outlets.get(outlet).and_then(|row| row.number.said());
                let room = number.as_ref().and_then(|at| of.rooms.get(at.value.room));
                let code = room.and_then(|row| row.code.said());
                let number = number.map(|said| said.fact);
                said.extend(number.map(|fact| (fact, "Its outlet has another number or room")));
                said.extend(code.map(|said| (said.fact, "Its room has another code")));
            }
            Some(RunName::Ties { near, far, .. }) => {
                let racks = [near, far]
                    .into_iter()
                    .filter_map(|rack| of.racks.get(rack));
                let spaces = racks.filter_map(|row| row.space.said());
                said.extend(spaces.map(|said| (said.fact, "A rack of it has another space")));
            }
            None => {}
        }
        said.extend(name.map(|said| (said.fact, "It has another outlet or letter")));
        let acts = said.into_iter().filter_map(|(fact, words)| {
            let act = self.first_said(fact)?;
            Some((act.stamp(), words))
        });
        let last = acts.max_by_key(|(stamp, _)| *stamp);
        last.map_or_else(String::new, |(stamp, words)| {
            format!("{words}, {}.", who(self.journal, stamp.act))
        })
    }

    /// The act that said first what a fact says: those that only said it again changed nothing.
    fn first_said(&self, mut fact: FactRef) -> Option<&Act> {
        let told = |fact: &FactRef| self.journal.act(fact.act)?.facts.get(fact.fact as usize);
        let mut act = self.journal.act(fact.act)?;
        loop {
            let mut before = act.replaces.iter();
            let before = before.find(|before| told(before) == told(&fact));
            let older = before.and_then(|before| Some((*before, self.journal.act(before.act)?)));
            // A link that points forward counts for nothing, and a file may hold a circle of them.
            match older.filter(|(_, older)| older.lamport < act.lamport) {
                Some(older) => (fact, act) = older,
                None => return Some(act),
            }
        }
    }
}
