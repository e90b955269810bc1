//! Printed tags: what is on an end or at a place, from which sheet, and whether it still holds.

use super::run::{Marked, Run};
use crate::domain::ids::{ActId, PanelId};
use crate::domain::order::Order;
use crate::domain::place::{End, TaggedPlace};
use crate::domain::work::MarkKind;
use crate::journal::{Mark, Registry, Said, side_index};

/// The tag of an end or a place as it stands now.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tag {
    /// How far it is: of the marks that say what the last one says, the one that says most. None:
    /// nothing was ever noted.
    pub kind: Option<MarkKind>,
    /// The sheet that it was printed on; none for a pen, and where no sheet was noted with it.
    pub sheet: Option<u16>,
    /// The sheet that it was printed on once more since it is on, for the drawer.
    pub again: Option<u16>,
    /// The act that says so, for who and when.
    pub act: Option<ActId>,
    /// How many there are.
    pub copies: u8,
    /// What stands on it.
    pub text: String,
    /// Whether it is gone; the rest is then what it was.
    pub lost: bool,
    /// Why it does not hold any more; none when it does.
    pub void: Option<Void>,
}

/// Why a tag does not hold any more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Void {
    /// It hangs on copper that was pulled anew since, and the new one has none yet.
    Repulled,
    /// What it hangs on is called otherwise now.
    Recoded {
        /// The code that it has now.
        text: String,
    },
}

/// Whether the strip of a panel still says what is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StripState {
    /// None was printed.
    NeverPrinted,
    /// It does.
    Current {
        /// The sheet that it was printed on.
        sheet: Option<u16>,
    },
    /// It does not.
    Stale {
        /// The sheet that it was printed on.
        sheet: Option<u16>,
        /// At how many positions.
        positions: usize,
    },
}

/// A sheet or roll of tags that was printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Its number; two phones may have given one both.
    pub number: u16,
    /// What it was printed on.
    pub stock: String,
    /// How many labels.
    pub tags: u16,
    /// The act that says so, for who and when.
    pub act: ActId,
}

/// The tag of an end of the pull that lies there now.
#[must_use]
pub fn end_tag(registry: &Registry, end: End) -> Tag {
    let Some(row) = registry.cables.get(end.cable) else {
        return Tag::default();
    };
    let run = Run::new(registry, end.cable, row);
    let marked = run.marked(end.side);
    let mut tag = match (marked, run.end(end.side)) {
        (Marked::No, Some(record)) => read(registry, &mut record.marks.iter()),
        (Marked::Yes | Marked::Printed, _) | (_, None) => read(registry, &mut run.borne(end.side)),
    };
    if tag.kind.is_some() {
        tag.lost = marked == Marked::No;
        let label = row.name.get().and_then(|name| registry.label_of(*name));
        let now = label.map(|label| label.to_string());
        let now = now.or_else(|| registry.cable_code(end.cable).map(|code| code.text));
        tag.void = recoded(now, &tag.text);
    } else {
        let older = row.copper.iter();
        let mut older = older.map(|(_, copper)| &copper.ends[side_index(end.side)].marks);
        if let Some(mark) = older.find_map(|marks| marks.last()) {
            tag.text.clone_from(&mark.text);
            tag.void = Some(Void::Repulled);
        }
    }
    tag
}

/// The tag of a place.
#[must_use]
pub fn place_tag(registry: &Registry, place: TaggedPlace) -> Tag {
    let Some(marks) = registry.place_tags(place) else {
        return Tag::default();
    };
    let mut tag = read(registry, &mut marks.iter());
    if tag.kind.is_some() {
        tag.void = recoded(registry.place_code(place), &tag.text);
    }
    tag
}

/// Whether the strip of a panel says what it would say if it were printed now: `now` is the words of
/// all its fields, a line for each position.
#[must_use]
pub fn strip_state(registry: &Registry, panel: PanelId, now: &str) -> StripState {
    let row = registry.panels.get(panel);
    let Some(strip) = row.and_then(|row| row.strips.iter().next_back()) else {
        return StripState::NeverPrinted;
    };
    let sheet = sheet_of(registry, strip.fact.act);
    match differing(strip.value, now) {
        0 => StripState::Current { sheet },
        positions => StripState::Stale { sheet, positions },
    }
}

/// The places whose printed tags nobody has fixed yet.
#[must_use]
pub fn to_fix(registry: &Registry) -> Vec<TaggedPlace> {
    let outlets = registry.outlets.iter();
    let panels = registry.panels.iter();
    let racks = registry.racks.iter();
    let conduits = registry.conduits.iter();
    let boxes = registry.job.box_tags.keys();
    let mut found: Vec<TaggedPlace> = Vec::new();
    found.extend(outlets.map(|(id, _)| TaggedPlace::Outlet(id)));
    found.extend(panels.map(|(id, _)| TaggedPlace::Panel(id)));
    found.extend(racks.map(|(id, _)| TaggedPlace::Rack(id)));
    found.extend(conduits.map(|(id, _)| TaggedPlace::Conduit(id)));
    found.extend(boxes.map(|number| TaggedPlace::Box(*number)));
    found.retain(|place| {
        let tag = place_tag(registry, *place);
        tag.kind == Some(MarkKind::Printed) && tag.void.is_none()
    });
    found.put_in_order();
    found
}

/// The sheets that were printed, the newest first.
#[must_use]
pub fn sheets(registry: &Registry) -> Vec<Sheet> {
    let printed = registry.job.sheets.iter().rev();
    let sheets = printed.map(|said| Sheet {
        number: said.value.number,
        stock: said.value.stock.clone(),
        tags: said.value.tags,
        act: said.fact.act,
    });
    sheets.collect()
}

/// What marks come to, in the order of display. A tag that is on stays on when it is printed again.
pub(super) fn read<'a>(
    registry: &Registry,
    marks: &mut dyn Iterator<Item = Said<'a, Mark>>,
) -> Tag {
    let mut tag = Tag::default();
    let mut printed_on = None;
    for said in marks {
        let (mark, act) = (said.value, said.fact.act);
        if tag.text != mark.text {
            printed_on = None;
            tag = Tag {
                text: mark.text.clone(),
                ..Tag::default()
            };
        }
        if mark.kind == MarkKind::Printed {
            printed_on = sheet_of(registry, act);
            if tag.kind == Some(MarkKind::Fixed) {
                tag.again = printed_on;
            }
        }
        if tag.kind <= Some(mark.kind) {
            tag.kind = Some(mark.kind);
            tag.copies = mark.copies;
            tag.act = Some(act);
            tag.sheet = printed_on;
            tag.again = None;
        }
    }
    tag
}

/// The sheet that an act noted as printed.
fn sheet_of(registry: &Registry, act: ActId) -> Option<u16> {
    let mut sheets = registry.job.sheets.iter().rev();
    let sheet = sheets.find(|said| said.fact.act == act)?;
    Some(sheet.value.number)
}

fn recoded(now: Option<String>, text: &str) -> Option<Void> {
    let text = now.filter(|now| now != text)?;
    Some(Void::Recoded { text })
}

/// How many lines of two texts differ, place by place.
fn differing(one: &str, other: &str) -> usize {
    let (mut one, mut other) = (one.split('\n'), other.split('\n'));
    let mut count = 0;
    loop {
        match (one.next(), other.next()) {
            (None, None) => return count,
            (one, other) => count += usize::from(one != other),
        }
    }
}
