//! The punch list in words: what each finding says, who said what, and what mends it.
//!
//! Every finding has a sentence. Where one tap can mend it, the tap is offered; where somebody
//! must look first, the way there is.

use crate::app::Screen;
use crate::command::{self, Want};
use crate::domain::ids::OutletId;
use crate::journal::{Journal, Registry};
use crate::query::{Finding, Item, What};

/// Codes and places that several things claim.
mod claims;
/// Patch cords.
mod cords;
/// Work on what is gone.
mod gone;
/// What the set of everything done says about itself.
mod health;
/// What hangs where something else hangs, or outside of its rack.
mod mounts;
/// Where people disagree about one thing.
mod sides;
/// Panel strips that are out of date.
mod strips;
/// Work that is not done yet, and ends that need a word.
mod work;

pub use health::{DAY, clocks, health, missing, reminder, walls};
pub use sides::field_words;
pub use strips::stale_strips;

/// What an item of the punch list says and offers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mending {
    /// What is wrong or left to do, as a sentence.
    pub title: String,
    /// The rest of it: both sides of a disagreement with who said what, or why it matters; each a
    /// sentence.
    pub detail: Vec<String>,
    /// What mends it, the likeliest first.
    pub fixes: Vec<Fix>,
}

/// One way to mend a finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// What the button says.
    pub label: String,
    /// What it does.
    pub step: Step,
}

/// What a fix does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// It mends the finding at once.
    Do(Want),
    /// It leads to where the finding can be mended.
    Go(Screen),
}

impl Mending {
    fn new(title: impl Into<String>) -> Self {
        Self {
            title: title.into(),
            detail: Vec::new(),
            fixes: Vec::new(),
        }
    }

    fn because(mut self, detail: impl Into<String>) -> Self {
        self.detail.push(detail.into());
        self
    }

    fn or(self, label: impl Into<String>, want: Want) -> Self {
        self.fix(label.into(), Step::Do(want))
    }

    fn or_go(self, label: impl Into<String>, screen: Screen) -> Self {
        self.fix(label.into(), Step::Go(screen))
    }

    fn fix(mut self, label: String, step: Step) -> Self {
        self.fixes.push(Fix { label, step });
        self
    }
}

/// What a description reads.
#[derive(Clone, Copy)]
struct Desk<'a> {
    registry: &'a Registry,
    journal: &'a Journal,
}

/// Describes a finding.
#[must_use]
pub fn describe(journal: &Journal, finding: &Finding) -> Mending {
    let item = Item {
        gate: finding.gate,
        outlet: finding.outlet,
        findings: vec![finding.clone()],
    };
    describe_item(journal, &item)
}

/// An outlet as a heading of the list: two of one code are told apart.
#[must_use]
pub fn heading(journal: &Journal, outlet: OutletId) -> String {
    Desk {
        registry: journal.registry(),
        journal,
    }
    .heading(outlet)
}

/// Describes an item: one finding, or several of one kind at one outlet, which one tap mends.
#[must_use]
pub fn describe_item(journal: &Journal, item: &Item) -> Mending {
    let desk = Desk {
        registry: journal.registry(),
        journal,
    };
    let mut mending = desk.words(item);
    // What would be refused without a way on is no fix.
    mending.fixes.retain(|fix| match &fix.step {
        Step::Go(_) => true,
        Step::Do(want) => match command::draft(want, journal) {
            Ok(_) => true,
            Err(refusal) => !refusal.ways_out.is_empty(),
        },
    });
    mending
}

impl Desk<'_> {
    fn words(&self, item: &Item) -> Mending {
        let Some(finding) = item.findings.first() else {
            return Mending::new("Nothing is left to do here.");
        };
        match &finding.what {
            What::DoubleClaim { place, ends } => self.double_claim(place, ends),
            What::PlannedTwice { place, ends } => self.planned_twice(place, ends),
            What::EndAtTwoPlaces { end, .. } => self.end_disputed(*end),
            What::EndDisputed { end } => self.end_disputed(*end),
            What::CodeTwice { cables } => self.code_twice(cables),
            What::OutletCodeTwice { outlets } => self.outlet_code_twice(outlets),
            What::RoomCodeTwice { rooms } => self.room_code_twice(rooms),
            What::PanelLettersTwice { panels } => self.panel_letters_twice(panels),
            What::SpaceTwice { racks } => self.space_twice(racks),
            What::UnitsShared { rack, face, things } => self.units_shared(*rack, *face, things),
            What::OutsideRack { rack, thing } => self.outside_rack(*rack, *thing),
            What::JoinedTwice { end, loose } => self.joined_twice(*end, loose),
            What::LooseNumberTwice { loose } => self.loose_number_twice(loose),
            What::PatchedTwice { place, from, ends } => self.patched_twice(place, from, ends),
            What::ConduitNumberTwice { conduits } => self.conduit_number_twice(conduits),
            What::Disputed { thing, field } => self.disputed(*thing, *field),
            What::MarksDiffer { cable } => self.marks_differ(*cable),
            What::CodeMoved { cable } => self.code_moved(*cable),
            What::WorkOnWithdrawn { cable } => self.work_on_withdrawn(*cable),
            What::WorkOnCancelled { cable } => self.work_on_cancelled(*cable),
            What::WorkAstray { cable } => self.work_astray(*cable),
            What::NoSuchPosition { end, position } => self.no_such_position(*end, *position),
            What::LandedOnBad { end, position } => self.landed_on_kept(*end, *position, "bad"),
            What::LandedOnReserved { end, position } => {
                self.landed_on_kept(*end, *position, "kept for something else")
            }
            What::Misfit { end, position } => self.misfit(*end, *position),
            What::PullTrouble { cable, outcome } => self.pull_trouble(*cable, *outcome),
            What::MarksDoubtful { cable } => self.marks_doubtful(*cable, finding.outlet),
            What::TestFailed { cable } => self.test_failed(*cable),
            What::CableWithoutCode { cable } => self.without_code(*cable),
            What::CableWithoutMedium { cable } => self.without_medium(*cable),
            What::NoRackChosen { .. } => self.no_rack(item),
            What::OutletWithoutCables { outlet } => self.without_cables(*outlet),
            What::OutletWithoutRoom { outlet } => self.without_room(*outlet),
            What::RoomWithoutCode { room } => self.room_without_code(*room),
            What::LocalRunOpen { cable } => self.local_run_open(*cable),
            What::OutletGone { cable } => self.outlet_gone(*cable),
            What::NotPulled { .. } => self.not_pulled(item),
            What::TooLong { cable } => self.too_long(*cable, finding.outlet),
            What::NotMarked { .. } => self.not_marked(item),
            What::NotVerified { .. } => self.not_verified(item),
            What::LooseEndOpen { loose } => self.loose_end_open(*loose),
            What::NotLanded { end } => self.not_landed(*end),
            What::SpareWithoutReason { end } => self.spare_without_reason(*end),
            What::DeadWithoutReason { end } => self.dead_without_reason(*end),
        }
    }
}

/// Names that stand side by side. Those that are the same get more words, of each kind in its turn
/// as long as they are the same, and numbers at last.
fn told_apart(mut names: Vec<String>, more: &[&dyn Fn(usize) -> String]) -> Vec<String> {
    for kind in more.iter().map(Some).chain([None]) {
        let before = names.clone();
        for (at, name) in before.iter().enumerate() {
            let is_same = |other: &&String| *other == name;
            if before.iter().filter(is_same).count() == 1 {
                continue;
            }
            let more = match kind {
                Some(words) => words(at),
                None => before[..=at].iter().filter(is_same).count().to_string(),
            };
            if !more.is_empty() {
                names[at] = format!("{name} ({more})");
            }
        }
    }
    names
}
