//! What has nearly the code, or nearly the text on its tag, that was read or typed: a character wrong,
//! missing or too many, two that changed places, or the second part of the text alone.

use super::Target;
use crate::codes::tag::{JobKey, PullMark, TagText, Tagged};
use crate::codes::typed::{is_gap, latin};
use crate::domain::ids::JobId;
use crate::domain::order::Order;
use crate::domain::text::is_hidden;
use crate::journal::Registry;
use crate::names;

/// How many nearly right codes are offered.
pub(super) const OFFERED: usize = 4;
/// The characters behind the code on a tag.
const GROUP: usize = 8;
/// What differs in more is something else.
const FARTHEST: usize = 3;

/// Capitals and digits alone, as the check character counts them. What stands in no code is a wrong character,
/// and not nothing; what merely stands round a code is.
pub(super) fn bare(text: &str) -> String {
    let is_round = |c: char| is_gap(c) || is_hidden(c) || "()[]{}<>\"'“”‘’«»".contains(c);
    let kept = text.chars().filter(|c| !is_round(*c)).map(latin);
    kept.map(|c| match c.to_ascii_uppercase() {
        c if c.is_ascii_alphanumeric() => c,
        _ => '?',
    })
    .collect()
}

/// What is nearly called so, the nearest first.
#[derive(Default)]
pub(super) struct Near {
    pub(super) targets: Vec<Target>,
    /// What is called so to the letter, once separators are left out; none where several are, or none.
    pub(super) same: Option<Target>,
}

/// Looks for what is nearly called so.
pub(super) fn near(registry: &Registry, job: JobId, text: &str) -> Near {
    let typed = bare(text);
    let mut found: Vec<(usize, String, Target)> = Vec::new();
    if typed.len() < 2 {
        return Near::default();
    }
    let job_key = JobKey::of(job);
    let mut offer = |code: String, tagged: Option<Tagged>, target| {
        let mut changes = changes(&bare(&code), &typed);
        if let Some(tagged) = tagged.filter(|_| typed.len() + 1 >= GROUP) {
            let tag = bare(&TagText { tagged, job_key }.to_string());
            let group = &tag[tag.len().saturating_sub(GROUP)..];
            // The second part alone is eight characters, of which five are those of the job.
            let of_group = self::changes(group, &typed).map_or(FARTHEST, |changes| changes + 1);
            let of_tag = self::changes(&tag, &typed).unwrap_or(FARTHEST);
            // Somebody may have typed the head of it.
            let is_head = typed.len() > bare(&code).len() && tag.starts_with(&typed);
            let least = of_tag.min(of_group).min(if is_head { 1 } else { FARTHEST });
            if least < FARTHEST {
                changes = Some(least);
            }
        }
        if let Some(changes) = changes {
            found.push((changes, code, target));
        }
    };
    for (id, row) in registry
        .cables
        .iter()
        .filter(|(_, row)| !row.added.is_empty())
    {
        let label = row.name.get().and_then(|name| registry.label_of(*name));
        let pull = PullMark::of(row.pull(id));
        let tagged = label.map(|code| Tagged::Run { code, pull });
        offer(names::cable(registry, id), tagged, Target::Cable(id));
    }
    for (id, _) in registry.outlets.iter() {
        let code = registry.outlet_code(id);
        let name = code.map_or_else(String::new, |code| code.to_string());
        offer(name, code.map(Tagged::Outlet), Target::Outlet(id));
    }
    found.put_in_order();
    let same = match found.as_slice() {
        [(0, _, target)] | [(0, _, target), (1.., ..), ..] => Some(*target),
        _ => None,
    };
    found.truncate(OFFERED);
    let targets = found.into_iter().map(|(_, _, target)| target).collect();
    Near { targets, same }
}

/// In how many characters two texts differ, those that are wrong, missing, too many, or changed places with
/// their neighbour; none where that is more than a third of what was typed, or too much by any means.
fn changes(has: &str, typed: &str) -> Option<usize> {
    let (has, typed) = (has.as_bytes(), typed.as_bytes());
    let most = typed.len().div_ceil(3).min(FARTHEST);
    if has.len().abs_diff(typed.len()) > most {
        return None;
    }
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=has.len()).collect();
    for (row, c) in typed.iter().enumerate() {
        let mut here = vec![row + 1];
        for (at, other) in has.iter().enumerate() {
            let mut least = (above[at] + usize::from(c != other))
                .min(above[at + 1] + 1)
                .min(here[at] + 1);
            let swapped = row > 0 && at > 0 && *c == has[at - 1] && typed[row - 1] == *other;
            if swapped {
                least = least.min(before[at - 1] + 1);
            }
            here.push(least);
        }
        before = std::mem::replace(&mut above, here);
    }
    above.pop().filter(|changes| *changes <= most)
}
