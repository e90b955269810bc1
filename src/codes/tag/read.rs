//! Reads the text of a tag.

use super::fault::TagFault;
use super::marks::{self, JobKey, PullMark};
use super::{TagText, Tagged, web};
use crate::codes::check::{Verdict, verify};
use crate::codes::strict;
use crate::domain::label::{BOX, CONDUIT, PanelLetters};
use crate::domain::text::is_hidden;

/// The longest text looked at, more than the longest tag behind the longest address.
pub(super) const LONGEST: usize = 100;

/// The code and the eight characters after it, still as text.
struct Parts<'a> {
    code: &'a str,
    group: &'a str,
}

pub(super) fn read(text: &str) -> Result<TagText, TagFault> {
    if text.is_empty() {
        return Err(TagFault::Empty);
    }
    if text.len() > LONGEST || text.chars().any(is_hidden) {
        return Err(TagFault::odd(text));
    }
    let parts = match web::behind_scheme(text) {
        Some(rest) => parts_of_path(rest),
        None => text
            .rsplit_once(' ')
            .map(|(code, group)| Parts { code, group }),
    };
    let parts = parts.ok_or_else(|| TagFault::not_ours(text))?;
    read_parts(&parts, text)
}

/// The last part of a path is the group. The code before it is one part, or two for a tie line,
/// which has a slash of its own. No code other than a tie line's ends like one (`2A-1`), so the
/// longer one is never taken wrongly.
fn parts_of_path(path: &str) -> Option<Parts<'_>> {
    let (before, group) = path.rsplit_once('/')?;
    let (head, last) = before.rsplit_once('/')?;
    let two = head.rfind('/').map(|slash| &before[slash + 1..]);
    let tie = two.filter(|code| strict::label(code).is_ok() || strict::leg(code).is_ok());
    Some(Parts {
        code: tie.unwrap_or(last),
        group,
    })
}

fn read_parts(parts: &Parts<'_>, whole: &str) -> Result<TagText, TagFault> {
    let not_ours = || TagFault::not_ours(whole);
    let Parts { code, group } = parts;
    // The check character may be any of 36; the seven before it are of the alphabet of ids.
    let job_key = group.get(..5).and_then(JobKey::new).ok_or_else(not_ours)?;
    let mark = group.get(5..7).ok_or_else(not_ours)?;
    let one_is_left = group.len() == 8 && group.as_bytes()[7].is_ascii_alphanumeric();
    let no_small_letters = !format!("{code}{group}").contains(|c: char| c.is_ascii_lowercase());
    if !one_is_left || !no_small_letters {
        return Err(not_ours());
    }
    let verdict = verify(&format!("{code}{group}")).map_err(|_| not_ours())?;
    match (verdict, tagged(code, mark)) {
        (Verdict::Right, Some(tagged)) => Ok(TagText { tagged, job_key }),
        (Verdict::Right, None) => Err(TagFault::unknown_form(whole)),
        (Verdict::Wrong { expected, found }, _) if is_some_code(code) => {
            Err(TagFault::CheckWrong {
                read: (*code).to_owned(),
                expected,
                found,
            })
        }
        (Verdict::Wrong { .. }, _) => Err(not_ours()),
    }
}

/// What a tag with this code and mark hangs on; none for a pair that no tag has.
fn tagged(code: &str, mark: &str) -> Option<Tagged> {
    // Codes that may carry zeros elsewhere have one spelling on a tag.
    let as_printed = |tagged: &Tagged| tagged.code() == code;
    let tagged = match mark {
        marks::OUTLET => strict::outlet(code).ok().map(Tagged::Outlet),
        marks::PANEL => PanelLetters::new(code).ok().map(Tagged::Panel),
        marks::SPACE => strict::space(code).ok().map(Tagged::Space),
        marks::CONDUIT => strict::numbered(code, CONDUIT).map(Tagged::Conduit),
        marks::BOX => strict::numbered(code, BOX).map(Tagged::Box),
        pull => {
            let pull = PullMark::new(pull)?;
            let run = strict::label(code).ok();
            let run = run.map(|code| Tagged::Run { code, pull });
            let leg = || strict::leg(code).ok();
            run.or_else(|| leg().map(|code| Tagged::Leg { code, pull }))
        }
    };
    tagged.filter(as_printed)
}

/// Whether the text is a code of any kind that a tag may carry.
fn is_some_code(code: &str) -> bool {
    strict::label(code).is_ok()
        || strict::leg(code).is_ok()
        || strict::outlet(code).is_ok()
        || strict::space(code).is_ok()
        || PanelLetters::new(code).is_ok()
        || strict::numbered(code, CONDUIT).is_some()
        || strict::numbered(code, BOX).is_some()
}
