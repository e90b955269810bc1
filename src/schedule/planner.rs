//! What becomes of each row: a cable that is added, one that is here already, or a reason.
//! What the cells say is left to `cells`, and what a cable needs beside itself to `beside`.

use super::cells::{
    code_of, from_of, letter, medium_of, more_than_medium, panel_alone, position_of, start_of,
};
use super::export;
use super::{Outcome, Plan, Reason, What, rack, rooms};
use crate::domain::ids::{Bits80, CableId, OutletId, PullId, RackId, ThingId};
use crate::domain::label::{
    LabelCode, Letter, OutletCode, OutletNumber, PositionCode, RoomCode, SpaceCode,
};
use crate::domain::length::{LengthUnit, Millimetres};
use crate::domain::medium::Medium;
use crate::domain::place::{End, Leaves, Place, Position, RunName, Side};
use crate::domain::sorted::{SortedMap, SortedSet};
use crate::domain::text::folded;
use crate::exchange::schedule::{Column, Reading, Row};
use crate::journal::{CableFact, EndFact, EndOfPull, Fact, Registry};
use crate::names;

/// Rooms, outlets, racks and panels.
mod beside;
/// Rows with neither a code nor an outlet number.
mod numbering;

/// Works out what taking in the rows of a schedule would do to a job.
#[must_use]
pub fn plan(schedule: &Reading, registry: &Registry, origin: Bits80) -> Plan {
    let rows = &schedule.rows;
    let mut planner = Planner::new(registry, origin);
    let heading = schedule.length_heading.as_deref().map(str::trim);
    planner.length = heading
        .filter(|words| !words.is_empty())
        .unwrap_or("Length");
    // A panel that is added must have room for every position that any row asks for.
    for row in rows {
        let ends = position_of(row).ok().flatten();
        let starts = start_of(row).ok().flatten();
        let ends = ends.map(|(position, _)| position).into_iter();
        ends.chain(starts)
            .for_each(|position| planner.racks.ask(position));
        if let Some(rack) = row.cell(Column::Rack) {
            planner.called.insert(folded(rack));
        }
    }
    let is_bare =
        |row: &Row| row.cell(Column::Code).is_none() && row.cell(Column::Outlet).is_none();
    if rows.iter().all(is_bare) {
        planner.begin_numbering();
        planner.plan.numbers = rows.iter().any(|row| planner.rooms.code_for(row).is_ok());
    }
    for row in rows {
        let line = row.line.number();
        let what = planner
            .row(row, line)
            .unwrap_or_else(|reason| What::Bad { reason });
        planner.plan.rows.push(Outcome { line, what });
    }
    planner.plan
}

/// What a row adds, told apart by the last part of the id.
#[derive(Clone, Copy)]
enum Part {
    Cable,
    Outlet,
    Room,
    Floor,
    Unit,
    Rack,
    Panel,
    FromOutlet,
    FromRoom,
    FarRack,
    NearPanel,
}

struct Planner<'a> {
    registry: &'a Registry,
    origin: Bits80,
    line: u32,
    /// What lengths are called, with their unit where the schedule gives it so.
    length: &'a str,
    plan: Plan,
    rooms: rooms::Rooms,
    racks: rack::Racks,
    /// What racks are called in the column for them, in any row.
    called: SortedSet<String>,
    outlets: SortedMap<OutletCode, OutletId>,
    /// The codes of this file, with the line that had each first.
    codes: SortedMap<String, u32>,
    /// Present where the file leaves the numbers of the outlets to us.
    numbering: Option<numbering::Numbering>,
}

/// Where the cable of a row leaves.
enum Start {
    Outlet(OutletCode),
    Rack(RackId),
    Space(SpaceCode),
    /// A rack that another row of the file names, and that is added with it.
    Called(String),
}

/// The run that a row speaks of.
struct Run {
    outlet: OutletCode,
    letter: Option<Letter>,
}

impl<'a> Planner<'a> {
    fn new(registry: &'a Registry, origin: Bits80) -> Self {
        Self {
            registry,
            origin,
            line: 0,
            length: "",
            plan: Plan::default(),
            rooms: rooms::Rooms::of(registry, origin),
            racks: rack::Racks::of(registry),
            called: SortedSet::new(),
            outlets: SortedMap::new(),
            codes: SortedMap::new(),
            numbering: None,
        }
    }

    fn id<I: From<ThingId>>(&self, part: Part) -> I {
        I::from(ThingId {
            origin: self.origin,
            n: self.line,
            index: part as u32,
        })
    }

    fn row(&mut self, row: &Row, line: u32) -> Result<What, Reason> {
        self.line = line;
        let medium = medium_of(row)?;
        let own: CableId = self.id(Part::Cable);
        if self.is_here(own) {
            let code = names::cable(self.registry, own);
            self.codes.or_insert(code.clone(), line);
            self.remember_here(row, own);
            return Ok(self.here(row, &medium, code, own));
        }
        if let Some(LabelCode::Tie { near, far, number }) = code_of(row)? {
            return self.tie(row, near, far, number, &medium);
        }
        let mut run = match &self.numbering {
            Some(numbering) => {
                let room = self.rooms.code_for(row)?;
                if let Some(cable) = self.known_by_name(row, room, numbering)? {
                    self.remember_here(row, cable);
                    let code = names::cable(self.registry, cable);
                    self.codes.insert(code.clone(), line);
                    return Ok(self.here(row, &medium, code, cable));
                }
                self.numbered(row, room, numbering, own)?
            }
            None => self.run_of(row)?,
        };
        let label = code_of(row)?.map(|code| code.to_string());
        // What is no code is an old name too.
        let name = || {
            row.cell(Column::OldName)
                .filter(|_| self.numbering.is_some())
        };
        let label = label.or_else(|| row.cell(Column::Code).or_else(name).map(str::to_owned));
        if let Some(columns) = self.columns_beside(row, &run) {
            // The code on the tag of a cable of this job says which it is, wherever its outlet went.
            let label = label.as_deref().unwrap_or_default();
            if self.with_code(label).iter().any(|held| self.is_here(*held))
                && let Some(here) = self.here_or_twice(row, &medium, label)?
            {
                return Ok(here);
            }
            run = columns;
        }
        let letter = self.letter_of(&run, own)?;
        let code = LabelCode::Run {
            outlet: run.outlet,
            letter,
        }
        .to_string();
        if let Some(here) = self.here_or_twice(row, &medium, &code)? {
            return Ok(here);
        }
        // Everything that can be wrong with the row is found before anything is written for it.
        let position = position_of(row)?;
        let from = self.from(row)?;
        if let Some((position, space)) = &position {
            let leaves = match from {
                Some(Start::Outlet(_)) | None => None,
                Some(Start::Rack(_) | Start::Space(_) | Start::Called(_)) => row.cell(Column::From),
            };
            let rack = row.cell(Column::Rack).or(leaves);
            self.racks.refuse_elsewhere(*position, *space, rack)?;
            self.racks.claim(self.registry, *position, line)?;
        }
        let (outlet, unknown_type) = self.outlet(row, run.outlet);
        let leaves = match from {
            Some(Start::Outlet(from)) => Leaves::Outlet(self.outlet_bare(from)),
            Some(Start::Rack(rack)) => Leaves::Rack(Some(rack)),
            Some(Start::Space(space)) => Leaves::Rack(Some(self.rack_in(space, "", Part::Rack))),
            Some(Start::Called(name)) => {
                let space = self.racks.next_space();
                Leaves::Rack(space.map(|space| self.rack_in(space, &name, Part::Rack)))
            }
            None => Leaves::Rack(self.rack_of(row, position.as_ref())),
        };
        let cable = self.add_cable(row, &code, RunName::Feeds { outlet, letter }, &medium);
        let mut says = self.says(
            row,
            &medium,
            position.as_ref().map(|(position, _)| *position),
        );
        let old = label.filter(|label| *label != code);
        if let Some(label) = &old {
            says += &["; labelled ", label, ", which is kept as an old name"].concat();
        }
        if let Some(words) = unknown_type {
            says.push_str(&format!(
                "; no outlet type is called “{words}”: kept as the purpose of {}",
                run.outlet
            ));
        }
        self.remember(row, run.outlet);
        let facts = &mut self.plan.facts;
        facts.push(Fact::Cable(cable, CableFact::Leaves(leaves)));
        let old = old.filter(|label| row.cell(Column::OldName) != Some(label));
        facts.extend(old.map(|label| Fact::Cable(cable, CableFact::KnownAs(label))));
        if let Some(name) = self.rooms.unlike(run.outlet.room, row) {
            // The code decides; what the schedule calls the room is kept, and can be found.
            let said = row.cell(Column::Room).unwrap_or_default();
            let note = format!("Room in the schedule: {said}");
            says.push_str(&format!("; in {name}. {note}"));
            facts.push(Fact::Cable(cable, CableFact::Noted(note)));
        }
        if let Some((position, _)) = position {
            let rack = match leaves {
                Leaves::Rack(rack) => rack,
                Leaves::Outlet(_) => None,
            };
            self.plan_end(End::whole(cable, Side::Far), position, rack, &medium);
        }
        Ok(What::Adds { code, says })
    }

    /// Where a row says that its cable leaves: an outlet, or the rack of a home run.
    fn from(&self, row: &Row) -> Result<Option<Start>, Reason> {
        let words = match from_of(row) {
            None => return Ok(None),
            Some(Ok(outlet)) => return Ok(Some(Start::Outlet(outlet))),
            Some(Err(words)) => words,
        };
        let rack = self.racks.named(words).map(Start::Rack);
        let rack = rack.or_else(|| rooms::space(words).map(Start::Space));
        // The row that names it may come later, and does not when the file is taken in again.
        let is_called = self.called.contains(&folded(words));
        let rack = rack.or_else(|| is_called.then(|| Start::Called(words.to_owned())));
        rack.map(Some).ok_or_else(|| {
            format!("“{words}” is no outlet, and no rack of this job. If the column holds racks, choose “Rack” for it under “What the columns hold”, or add that rack first. If it holds rooms, choose “Room”. Outlets are written as KIT1.")
        })
    }

    /// What a row adds, in words: what the cable is made of, where it belongs, and what is taken as a
    /// note alone.
    fn says(&self, row: &Row, medium: &Medium, position: Option<PositionCode>) -> String {
        let mut says = medium.to_string();
        if let Some(position) = position {
            let new = if self.racks.knows(position.panel) {
                ""
            } else {
                ", on a panel that is added"
            };
            says += &format!(" on {position}{new}");
            if let Some(reason) = self.racks.misfit(position.panel, medium) {
                says += &format!(", where it does not fit: {reason}");
            }
        }
        if let Some(purpose) = row.cell(Column::Purpose) {
            says += &["; for ", purpose].concat();
        }
        if let Some(length) = row.cell(Column::Length) {
            says += &format!("; {} {length}", self.length);
            if !is_length(length) {
                says += ", which is no length of a cable: kept as a note";
            }
        }
        if let Some(panel) = panel_alone(row) {
            says += &["; panel ", panel, " without a port: kept as a note"].concat();
        }
        if let Some(note) = row.cell(Column::Notes) {
            says += &format!("; note: {note}");
        }
        if let Some(words) = more_than_medium(row) {
            says += &["; “", words, "” is kept as a note"].concat();
        }
        says
    }

    /// Whether a cable is in the job. One whose adding was taken back is not.
    fn is_here(&self, cable: CableId) -> bool {
        let row = self.registry.cables.get(cable);
        row.is_some_and(|row| !row.added.is_empty())
    }

    fn with_code(&self, code: &str) -> &'a [CableId] {
        self.registry.index.cables_by_code.get(&code.to_owned())
    }

    /// The cable of a code that the job has already; a code that this file had before is refused.
    fn here_or_twice(
        &mut self,
        row: &Row,
        medium: &Medium,
        code: &str,
    ) -> Result<Option<What>, Reason> {
        if let Some(first) = self.codes.get(code) {
            return Err(format!(
                "{code} stands on line {first} already. Give one of the two another letter."
            ));
        }
        let mut held = self.with_code(code).iter();
        let Some(cable) = held.find(|held| self.is_here(**held)) else {
            return Ok(None);
        };
        self.codes.insert(code.to_owned(), self.line);
        Ok(Some(self.here(row, medium, code.to_owned(), *cable)))
    }

    /// A cable that is here, with what the row says otherwise of it.
    fn here(&self, row: &Row, medium: &Medium, code: String, id: CableId) -> What {
        let mut says = "here already".to_owned();
        let mut but = |words: &str, what: &str| {
            says += if says.contains(',') { "," } else { ", but" };
            says = [&says, words, what].join(" ").trim_end().to_owned();
        };
        if let Some(cable) = self.registry.cables.get(id) {
            if let Some(is) = cable.medium.get().filter(|is| *is != medium) {
                but("as", &is.to_string());
            }
            let run = match cable.name.get() {
                Some(RunName::Feeds { outlet, letter }) => {
                    let outlet = self.registry.outlet_code(*outlet);
                    let letter = Some(*letter);
                    outlet.map(|outlet| Run { outlet, letter })
                }
                Some(RunName::Ties { .. }) | None => None,
            };
            if let Some(run) = &run
                && self.columns_beside(row, run).is_some()
            {
                but("at", &run.outlet.to_string());
            }
            let outlet = run.map(|run| run.outlet);
            if let Some(name) = outlet.and_then(|outlet| self.rooms.unlike(outlet.room, row)) {
                but("in", name);
            }
            let purpose = cable.purpose.get().map_or("", |is| is.trim());
            match row.cell(Column::Purpose) {
                Some(said) if said == purpose => {}
                Some(_) if purpose.is_empty() => but("without a purpose", ""),
                Some(_) => but("for", purpose),
                None => {}
            }
            let at = export::position_of(self.registry, End::whole(id, Side::Far));
            let at = at.map(|at| names::position(self.registry, at));
            if let Ok(Some((said, _))) = position_of(row)
                && at.as_ref() != Some(&said.to_string())
            {
                but("on", at.as_deref().unwrap_or("no position"));
            }
            let is_noted = |words: &str| {
                let notes = || cable.notes.iter().map(|said| said.value);
                export::joined(notes()).is_some_and(|all| all == words)
                    || notes().any(|note| note.ends_with(words))
            };
            let length = row.cell(Column::Length).map(in_schedule);
            if length.is_some_and(|length| !is_noted(&length)) {
                but("without this length", "");
            }
            let more = more_than_medium(row).map(in_schedule);
            let is_more = more.is_some_and(|words| !is_noted(&words));
            if is_more || row.cell(Column::Notes).is_some_and(|note| !is_noted(note)) {
                but("without this note", "");
            }
        }
        What::Here { code, says }
    }

    /// Adds the cable of a row. A code is never given to a second run: whatever had it before it was
    /// taken back is added once more.
    fn add_cable(&mut self, row: &Row, code: &str, name: RunName, medium: &Medium) -> CableId {
        let own: CableId = self.id(Part::Cable);
        self.codes.insert(code.to_owned(), self.line);
        self.plan.taken_back |= self.registry.cables.get(own).is_some();
        // Another row of this file that had the code, when its columns were read otherwise, gets
        // the code of its own row.
        let mut before = self.with_code(code).iter().copied();
        let cable = before.find(|held| held.0.origin != self.origin);
        let cable = cable.unwrap_or(own);
        let facts = &mut self.plan.facts;
        facts.push(Fact::Cable(cable, CableFact::Added));
        facts.push(Fact::Cable(cable, CableFact::Named(name)));
        facts.push(Fact::Cable(cable, CableFact::MadeOf(medium.clone())));
        let mut say = |column, fact: fn(String) -> CableFact| {
            if let Some(text) = row.cell(column) {
                facts.push(Fact::Cable(cable, fact(text.to_owned())));
            }
        };
        say(Column::Purpose, CableFact::Purposed);
        say(Column::OldName, CableFact::KnownAs);
        say(Column::Notes, CableFact::Noted);
        if let Some(length) = row.cell(Column::Length) {
            let note = [self.length, &in_schedule(length)].concat();
            facts.push(Fact::Cable(cable, CableFact::Noted(note)));
        }
        if let Some(panel) = panel_alone(row) {
            let note = ["Panel", &in_schedule(panel)].concat();
            facts.push(Fact::Cable(cable, CableFact::Noted(note)));
        }
        if let Some(words) = more_than_medium(row) {
            let note = ["Cable type", &in_schedule(words)].concat();
            facts.push(Fact::Cable(cable, CableFact::Noted(note)));
        }
        cable
    }

    /// Plans an end of an added cable on a position, whose panel is added where there is none.
    fn plan_end(
        &mut self,
        end: End,
        position: PositionCode,
        rack: Option<RackId>,
        medium: &Medium,
    ) {
        let panel = self.panel(position, rack, medium, end.side);
        let place = Place::rear(Position {
            panel,
            number: position.number,
        });
        let of = EndOfPull {
            end,
            pull: PullId(end.cable.0),
        };
        self.plan
            .facts
            .push(Fact::End(of, EndFact::Planned(Some(place))));
    }

    fn tie(
        &mut self,
        row: &Row,
        near: SpaceCode,
        far: SpaceCode,
        number: u16,
        medium: &Medium,
    ) -> Result<What, Reason> {
        if near == far {
            return Err(
                "A tie line joins two different spaces. Write one of them anew.".to_owned(),
            );
        }
        let code = LabelCode::Tie { near, far, number }.to_string();
        if let Some(here) = self.here_or_twice(row, medium, &code)? {
            return Ok(here);
        }
        let start = start_of(row)?;
        let end = position_of(row)?.map(|(position, _)| position);
        for position in start.iter().chain(&end) {
            self.racks.claim(self.registry, *position, self.line)?;
        }
        let near = self.rack_in(near, "", Part::Rack);
        let far = self.rack_in(far, "", Part::FarRack);
        // Whichever way round the row has them, each end is in the rack that its panel is in.
        let is_in = |at: Option<PositionCode>, rack| {
            at.is_some_and(|at| self.racks.rack_of(at.panel) == Some(rack))
        };
        let (start, end) = if is_in(start, far) || is_in(end, near) {
            (end, start)
        } else {
            (start, end)
        };
        let mut says = self.says(row, medium, end);
        if let Some(start) = start {
            says += &format!("; from {start}");
        }
        let cable = self.add_cable(row, &code, RunName::Ties { near, far, number }, medium);
        for (side, position, rack) in [(Side::Near, start, near), (Side::Far, end, far)] {
            if let Some(position) = position {
                self.plan_end(End::whole(cable, side), position, Some(rack), medium);
            }
        }
        Ok(What::Adds { code, says })
    }

    /// The outlet and letter of a row, from its code or from its columns.
    fn run_of(&self, row: &Row) -> Result<Run, Reason> {
        if let Some(LabelCode::Run { outlet, letter }) = code_of(row)? {
            return Ok(Run {
                outlet,
                letter: Some(letter),
            });
        }
        let room = self.rooms.code_for(row)?;
        let number = row.cell(Column::Outlet).ok_or(
            "The row has neither a label code nor an outlet number. Write one of the two, such as KIT2-C or 2.",
        )?;
        let number = number.parse().ok().and_then(OutletNumber::new);
        let number = number.ok_or_else(|| {
            format!(
                "“{}” is no outlet number: 1 to 99.",
                row.cell(Column::Outlet).unwrap_or_default()
            )
        })?;
        let letter = row.cell(Column::Letter).map(letter).transpose()?;
        Ok(Run {
            outlet: OutletCode { room, number },
            letter,
        })
    }

    /// What room code, outlet number and letter say beside a label that says otherwise: they say where
    /// the cable is, whatever its tag bears.
    fn columns_beside(&self, row: &Row, label: &Run) -> Option<Run> {
        let room = RoomCode::new(&row.cell(Column::RoomCode)?.to_uppercase()).ok()?;
        let number = row.cell(Column::Outlet)?.parse().ok();
        let number = number.and_then(OutletNumber::new)?;
        let outlet = OutletCode { room, number };
        let by_column = row.cell(Column::Letter).and_then(|text| letter(text).ok());
        let letter = by_column.or(label.letter);
        let is_other = outlet != label.outlet || letter != label.letter;
        is_other.then_some(Run { outlet, letter })
    }

    /// The letter of a run, or the next free one of its outlet; one that the row had before it was
    /// taken back is free for it.
    fn letter_of(&self, run: &Run, own: CableId) -> Result<Letter, Reason> {
        let free = |letter: &Letter| {
            let code = LabelCode::Run {
                outlet: run.outlet,
                letter: *letter,
            }
            .to_string();
            !self.codes.contains_key(&code) && self.with_code(&code).iter().all(|held| *held == own)
        };
        let next = run.letter.or_else(|| Letter::all().find(free));
        next.ok_or_else(|| {
            format!(
                "{} has all 21 letters in use. Add a second outlet beside it.",
                run.outlet
            )
        })
    }
}

/// How a length is kept as a note, behind what lengths are called.
fn in_schedule(length: &str) -> String {
    format!(" in the schedule: {length}")
}

/// Whether what a schedule gives as a length can be one. Its heading may have the unit, so a number
/// alone is taken for the longer one.
fn is_length(text: &str) -> bool {
    let is_bare = !text.contains(|c: char| c.is_alphabetic() || "'\"′″".contains(c));
    let unit = if is_bare { " m" } else { "" };
    Millimetres::read(&[text, unit].concat(), LengthUnit::Feet).is_ok()
}
