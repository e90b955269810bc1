//! The punch list as somebody reads it and takes one of its ways out.

use bothends::app::mend::{Mending, Step, describe};
use bothends::query::{What, check};

use crate::mill::Mill;

/// What the punch list says of each finding that `of` picks.
pub(crate) fn told(mill: &Mill, of: impl Fn(&What) -> bool) -> Vec<Mending> {
    let findings = check(mill.registry());
    let picked = findings.iter().filter(|finding| of(&finding.what));
    picked
        .map(|finding| describe(&mill.journal, finding))
        .collect()
}

/// Takes the way out whose words begin so.
pub(crate) fn takes(mill: &mut Mill, mending: &Mending, words: &str) {
    let fix = mending.fixes.iter();
    let labels: Vec<&str> = fix.clone().map(|fix| fix.label.as_str()).collect();
    let fix = fix.clone().find(|fix| fix.label.starts_with(words));
    let fix = fix.unwrap_or_else(|| panic!("no “{words}” among {labels:?}"));
    let Step::Do(want) = fix.step.clone() else {
        panic!("“{words}” only leads somewhere");
    };
    mill.does(&want);
}

/// What both phones ask, alike, once each heard the other.
pub(crate) fn asked_alike(
    one: &mut Mill,
    other: &mut Mill,
    of: impl Fn(&What) -> bool,
) -> Vec<Mending> {
    one.hears(other);
    other.hears(one);
    let asked = told(one, &of);
    assert_eq!(asked, told(other, &of));
    asked
}
