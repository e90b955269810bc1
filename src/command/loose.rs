//! Ends whose cable is not known yet.

use super::fill::is_unsettled;
use super::plan::add_run;
use super::{Desk, Done, Fault, Refusal, Want};
use crate::domain::ids::{LooseEndId, OutletId, PullId};
use crate::domain::medium::Medium;
use crate::domain::place::{End, Leaves, RunKind, RunName, Side};
use crate::domain::work::{TestMethod, TestOutcome};
use crate::journal::{
    CableFact, CopperTest, Draft, EndOfPull, Fact, Found, LooseEndFact, PullFact, PullRef,
};
use crate::names;

impl Desk<'_> {
    pub(super) fn loose(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::AddLooseEnd { found } => self.add_loose_end(draft, found),
            Want::NumberTails {
                panel,
                stretch,
                note,
            } => self.number_tails(draft, *panel, *stretch, note),
            Want::DescribeLooseEnd { loose, found } => {
                draft.push(Fact::LooseEnd(
                    *loose,
                    LooseEndFact::Found(Box::new(found.clone())),
                ));
                Ok(())
            }
            Want::RenumberLooseEnd { loose } => self.renumber(draft, *loose),
            Want::JoinLooseEnd { loose, end } => self.join_one(draft, *loose, *end),
            Want::JoinLooseEnds {
                near,
                far,
                outlet,
                medium,
            } => self.join_two(draft, [*near, *far], *outlet, medium),
            Want::Toned { join } => self.toned(draft, join),
            Want::PartLooseEnd { loose } => self.part(draft, *loose),
            _ => return None,
        })
    }

    fn add_loose_end(&self, draft: &mut Draft, found: &Found) -> Done {
        if found.place.trim().is_empty() && found.room.is_none() {
            let words = "Say where this end is, so that it can be found again.";
            return Err(Refusal::of(Fault::Missing, words));
        }
        let number = self.next_loose_number()?;
        let loose: LooseEndId = draft.mint();
        draft.push(Fact::LooseEnd(loose, LooseEndFact::Added { number }));
        draft.push(Fact::LooseEnd(
            loose,
            LooseEndFact::Found(Box::new(found.clone())),
        ));
        Ok(())
    }

    fn renumber(&self, draft: &mut Draft, loose: LooseEndId) -> Done {
        let row = self.registry.loose_ends.get(loose);
        // One that was withdrawn would come back with its number.
        if row.and_then(|row| row.number.get()).is_none() {
            return Err(Refusal::new("This loose end is no longer in the job."));
        }
        let number = self.next_loose_number()?;
        draft.push(Fact::LooseEnd(loose, LooseEndFact::Added { number }));
        Ok(())
    }

    pub(super) fn next_loose_number(&self) -> Result<u16, Refusal> {
        let ends = self.registry.loose_ends.iter();
        // The withdrawn ones count too: their numbers may stand on a tag.
        let had = ends.flat_map(|(_, loose)| loose.number.ever().copied());
        let next = had.max().unwrap_or(0).checked_add(1);
        next.ok_or_else(|| Refusal::new("The numbers of loose ends are used up."))
    }

    fn join_one(&self, draft: &mut Draft, loose: LooseEndId, end: End) -> Done {
        let of = self.end_of(end)?;
        let holder = self
            .registry
            .index
            .loose_by_end
            .get(&end)
            .iter()
            .find(|other| **other != loose);
        if let Some(holder) = holder {
            let number = self
                .registry
                .loose_ends
                .get(*holder)
                .and_then(|row| row.number.get())
                .copied();
            return Err(Refusal::new(format!(
                "{} is loose end {} already.",
                names::end(self.registry, end),
                number.unwrap_or_default()
            ))
            .or(
                "That one was wrong: part it",
                Want::PartLooseEnd { loose: *holder },
            ));
        }
        let cable = self.registry.cables.get(end.cable);
        if cable.is_some_and(|cable| cable.standing.is_cancelled()) {
            let cable = end.cable;
            let code = names::cable(self.registry, cable);
            return Err(Refusal::new(format!("{code} is cancelled."))
                .or("It is still wanted", Want::RestoreCable { cable }));
        }
        draft.push(Fact::LooseEnd(loose, LooseEndFact::Joined(end)));
        // Only an end that comes to a rack can sit there.
        let at_rack = matches!(
            (names::run_kind(self.registry, end.cable), end.side),
            (RunKind::HomeRun, Side::Far) | (RunKind::TieLine, _)
        );
        if at_rack && is_unsettled(self.end_record(end.cable, end.side)) {
            let medium = cable.and_then(|cable| cable.medium.get());
            self.sits_there(draft, loose, of, medium);
        }
        Ok(())
    }

    fn toned(&self, draft: &mut Draft, join: &Want) -> Done {
        self.write(join, draft)?;
        let joined = draft.facts.iter().find_map(|fact| match fact {
            Fact::LooseEnd(_, LooseEndFact::Joined(end)) => Some(end.cable),
            _ => None,
        });
        if let Some(cable) = joined {
            let row = self.registry.cables.get(cable);
            let pull = row.map_or(PullId(cable.0), |row| row.pull(cable));
            let test = CopperTest {
                method: TestMethod::Toner,
                outcome: TestOutcome::Passed,
                note: String::new(),
            };
            let pull = PullRef { cable, pull };
            draft.push(Fact::Pull(pull, PullFact::Tested(test)));
        }
        Ok(())
    }

    /// A cable that exists only because this end was joined with another goes with it, and the other
    /// end is loose again too.
    fn part(&self, draft: &mut Draft, loose: LooseEndId) -> Done {
        let row = self.registry.loose_ends.get(loose);
        if let Some(said) = row.and_then(|row| row.joined.said()) {
            let joining = self.journal.act(said.stamp.act);
            let made = |cable| {
                let added = Fact::Cable(cable, CableFact::Added);
                joining.is_some_and(|act| act.facts.contains(&added))
            };
            if said.value.is_some_and(|end| made(end.cable)) {
                return self.undo(draft, said.stamp.act);
            }
        }
        self.sits_there_unknown(draft, loose);
        draft.push(Fact::LooseEnd(loose, LooseEndFact::Parted));
        Ok(())
    }

    fn refuse_joined(&self, loose: LooseEndId) -> Done {
        let row = self.registry.loose_ends.get(loose);
        let Some(Some(end)) = row.and_then(|row| row.joined.get()) else {
            return Ok(());
        };
        let number = row.and_then(|row| row.number.get()).copied();
        Err(Refusal::new(format!(
            "Loose end {} is {} already.",
            number.unwrap_or_default(),
            names::end(self.registry, *end)
        ))
        .or("That was wrong: part it", Want::PartLooseEnd { loose }))
    }

    /// Two loose ends toned as one cable: it gets a code at the outlet where one of them is, and
    /// keeps what was written on either as an old name.
    fn join_two(
        &self,
        draft: &mut Draft,
        loose: [LooseEndId; 2],
        outlet: OutletId,
        medium: &Medium,
    ) -> Done {
        if loose[0] == loose[1] {
            return Err(Refusal::new(
                "A cable has two ends. Choose the other loose end.",
            ));
        }
        loose
            .into_iter()
            .try_for_each(|loose| self.refuse_joined(loose))?;
        let letter = self.next_letter(outlet, medium)?;
        let cable = add_run(
            draft,
            RunName::Feeds { outlet, letter },
            Leaves::Rack(None),
            medium,
            "",
        );
        for (loose, side) in loose.into_iter().zip(Side::BOTH) {
            let found = self
                .registry
                .loose_ends
                .get(loose)
                .and_then(|row| row.found.get());
            if let Some(note) = found
                .map(|found| found.note.trim())
                .filter(|note| !note.is_empty())
            {
                draft.push(Fact::Cable(cable, CableFact::KnownAs(note.to_owned())));
            }
            let end = End::whole(cable, side);
            draft.push(Fact::LooseEnd(loose, LooseEndFact::Joined(end)));
            let pull = PullId(cable.0);
            if side == Side::Far {
                self.sits_there(draft, loose, EndOfPull { end, pull }, Some(medium));
            }
        }
        Ok(())
    }
}
