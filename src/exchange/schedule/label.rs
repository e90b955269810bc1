//! What reads as the label code of a cable.

use crate::codes::strict;
use crate::codes::typed::{self, Reading};
use crate::domain::label::LabelCode;

/// The longest text that is looked at: no label with gaps between its parts is longer.
const LONGEST: usize = 24;

/// A label as pens write it, `KIT2 A` or `hal4c`. A digit is never taken for a letter.
#[must_use]
pub fn on_tag(text: &str) -> Option<LabelCode> {
    if text.len() > LONGEST {
        return None;
    }
    let bare = |text: &str| {
        let characters = text.chars().filter(char::is_ascii_alphanumeric);
        characters.collect::<String>().to_ascii_uppercase()
    };
    let readings = typed::read(text, None).readings.into_iter();
    let mut runs = readings.filter_map(|reading| match reading {
        Reading::Run(code @ LabelCode::Run { .. }) => {
            Some(code).filter(|code| bare(&code.to_string()) == bare(text))
        }
        _ => None,
    });
    let run = runs.next();
    run.filter(|_| runs.next().is_none())
}

/// Whether a text is a label code, in the form of ours or as pens write it.
pub(super) fn is_label(text: &str) -> bool {
    strict::label(&text.to_uppercase()).is_ok() || on_tag(text).is_some()
}
