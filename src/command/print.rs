//! Tags that were printed, and tags of places that are on.

use super::{Desk, Done, Refusal, Want, words};
use crate::domain::ids::{CableId, PanelId, ThingId};
use crate::domain::label::box_code;
use crate::domain::order::Order;
use crate::domain::place::{End, Side, TaggedPlace};
use crate::domain::work::MarkKind;
use crate::journal::{
    ConduitFact, Draft, Fact, JobFact, Log, Mark, OutletFact, PanelFact, PrintedSheet, RackFact,
};
use crate::names;

/// The most tags of one cable, both ends together.
const MOST: u8 = 6;

/// What was printed.
struct Chosen<'a> {
    set: u8,
    cables: Vec<CableId>,
    places: &'a [TaggedPlace],
    strips: &'a [(PanelId, String)],
}

impl Desk<'_> {
    pub(super) fn print(&self, want: &Want, draft: &mut Draft) -> Option<Done> {
        Some(match want {
            Want::PrintTags {
                stock,
                tags,
                set,
                cables,
                places,
                strips,
            } => {
                let mut cables = cables.clone();
                cables.put_in_order();
                cables.dedup();
                let chosen = Chosen {
                    set: *set,
                    cables,
                    places,
                    strips,
                };
                let sheet = PrintedSheet {
                    number: self.next_sheet(),
                    stock: stock.clone(),
                    tags: *tags,
                };
                self.print_tags(draft, sheet, &chosen)
            }
            Want::FixPlaceTags { places } => self.fix_tags(draft, places),
            _ => return None,
        })
    }

    fn print_tags(&self, draft: &mut Draft, sheet: PrintedSheet, chosen: &Chosen<'_>) -> Done {
        let Chosen {
            set,
            cables,
            places,
            strips,
        } = chosen;
        // Inserts behind plates are labels too, and no tags of anything: their sheet alone is noted.
        if cables.is_empty() && places.is_empty() && strips.is_empty() && sheet.tags == 0 {
            return Err(Refusal::new(
                "Nothing is chosen. Choose the cables, places or strips that were printed.",
            ));
        }
        if !cables.is_empty() && !(1..=MOST).contains(set) {
            return Err(Refusal::new(
                "A cable has 1 to 6 tags, both ends together. Choose how many.",
            ));
        }
        words(&sheet.stock, "The name of the label stock")?;
        self.refuse_untaggable(cables, places, MarkKind::Printed)?;
        draft.push(Fact::Job(JobFact::TagsPrinted(sheet)));
        for cable in cables {
            self.print_cable(draft, *cable, *set)?;
        }
        self.tag_places(draft, places, MarkKind::Printed);
        for (panel, words) in *strips {
            let printed = PanelFact::StripPrinted(words.clone());
            draft.push(Fact::Panel(*panel, printed));
        }
        Ok(())
    }

    fn fix_tags(&self, draft: &mut Draft, places: &[TaggedPlace]) -> Done {
        if places.is_empty() {
            return Err(Refusal::new(
                "Nothing is chosen. Choose the places whose tags are on.",
            ));
        }
        self.refuse_untaggable(&[], places, MarkKind::Fixed)?;
        self.tag_places(draft, places, MarkKind::Fixed);
        Ok(())
    }

    /// Two phones that do not meet may give one number both; nothing hangs on it.
    fn next_sheet(&self) -> u16 {
        let sheets = self.registry.job.sheets.iter();
        let numbers = sheets.map(|said| said.value.number);
        numbers.max().unwrap_or(0).saturating_add(1)
    }

    /// The tags of a set are alike, so that nobody sorts them: the larger half is for the wall. The
    /// legs of a split end bear the code of the whole.
    fn print_cable(&self, draft: &mut Draft, cable: CableId, set: u8) -> Done {
        for (side, copies) in [(Side::Near, set - set / 2), (Side::Far, set / 2)] {
            if copies > 0 {
                let end = End::whole(cable, side);
                self.mark_end(draft, end, MarkKind::Printed, copies)?;
            }
        }
        Ok(())
    }

    fn tag_places(&self, draft: &mut Draft, places: &[TaggedPlace], kind: MarkKind) {
        for place in places {
            let Some(text) = self.tag_text(*place, kind) else {
                continue;
            };
            let mark = Mark {
                kind,
                copies: 1,
                text,
            };
            draft.push(match *place {
                TaggedPlace::Outlet(id) => Fact::Outlet(id, OutletFact::Tagged(mark)),
                TaggedPlace::Panel(id) => Fact::Panel(id, PanelFact::Tagged(mark)),
                TaggedPlace::Rack(id) => Fact::Rack(id, RackFact::Tagged(mark)),
                TaggedPlace::Conduit(id) => Fact::Conduit(id, ConduitFact::Tagged(mark)),
                TaggedPlace::Box(number) => Fact::Job(JobFact::BoxTagged {
                    number,
                    kind: mark.kind,
                    text: mark.text,
                }),
            });
        }
    }

    /// What a tag of a place says: what is printed is its code, and what is put on is the tag that
    /// was printed last, whatever the place is called by now.
    fn tag_text(&self, place: TaggedPlace, kind: MarkKind) -> Option<String> {
        let printed = match kind {
            MarkKind::Fixed => self.registry.place_tags(place).and_then(Log::last),
            MarkKind::Pen | MarkKind::Printed => None,
        };
        match printed {
            Some(mark) => Some(mark.text.clone()),
            None => self.registry.place_code(place),
        }
    }

    /// All that cannot have a tag is named at once, so that nobody mends one after the other.
    fn refuse_untaggable(
        &self,
        cables: &[CableId],
        places: &[TaggedPlace],
        kind: MarkKind,
    ) -> Done {
        let of_cables = cables.iter().filter_map(|id| self.untaggable_cable(*id));
        let of_places = places.iter();
        let of_places = of_places.filter_map(|place| self.untaggable_place(*place, kind));
        let mut named = Vec::new();
        for name in of_cables.chain(of_places) {
            if !named.contains(&name) {
                named.push(name);
            }
        }
        if named.is_empty() {
            return Ok(());
        }
        let refusal = Refusal::new(format!(
            "No tag can be noted for {}: give each a code of its own or leave it out.",
            names::listed(&named)
        ));
        let mut twice = cables.iter().filter_map(|id| {
            let all = self.called_alike(*id)?;
            self.tell_apart(*id, all)
        });
        Err(match twice.next() {
            Some(want) => refusal.or("Give one of them another letter", want),
            None => refusal,
        })
    }

    /// The cables of one code, where that is several.
    fn called_alike(&self, cable: CableId) -> Option<&[CableId]> {
        let code = self.registry.cable_code(cable)?.text;
        let all = self.registry.index.cables_by_code.get(&code);
        (all.len() > 1).then_some(all)
    }

    /// What a cable is called that cannot have a tag, with the reason.
    fn untaggable_cable(&self, cable: CableId) -> Option<String> {
        let name = names::cable(self.registry, cable);
        if self.gone(cable.0).is_some() {
            return Some(name + GONE);
        }
        if self.registry.cable_code(cable).is_none() {
            let end = End::whole(cable, Side::Near);
            return Some(names::end(self.registry, end) + NO_CODE);
        }
        self.called_alike(cable)?;
        Some(name + " (two cables are called so)")
    }

    /// The same of a place.
    fn untaggable_place(&self, place: TaggedPlace, kind: MarkKind) -> Option<String> {
        let (thing, name): (ThingId, _) = match place {
            TaggedPlace::Conduit(id) => (id.0, names::conduit(self.registry, id)),
            TaggedPlace::Box(number) => {
                let name = box_code(number);
                return (number == 0).then(|| name + NO_CODE);
            }
            TaggedPlace::Outlet(id) => (id.0, names::outlet(self.registry, id)),
            TaggedPlace::Panel(id) => (id.0, names::panel(self.registry, id)),
            TaggedPlace::Rack(id) => (id.0, names::rack(self.registry, id)),
        };
        if self.gone(thing).is_some() {
            return Some(name + GONE);
        }
        match self.tag_text(place, kind) {
            Some(_) => None,
            None => Some(name + NO_CODE),
        }
    }
}

const GONE: &str = " (no longer in the job)";
const NO_CODE: &str = " (no code yet)";
