//! Whether every dependency may be used under one of the licences we accept.

use crate::failure::{Failure, Outcome};
use crate::metadata;
use crate::settings::LICENCES;

/// Checks the whole tree, the tools' and the tests' dependencies too.
pub(crate) fn check() -> Outcome {
    let packages = metadata::packages()?;
    let mut refused = Vec::new();
    for package in packages.iter().filter(|package| !package.ours) {
        let stated = package.licence.as_deref().unwrap_or("no licence stated");
        if !accepted(stated) {
            refused.push(format!("{} {}: {stated}", package.name, package.version));
        }
    }
    if refused.is_empty() {
        println!("{} packages, all under accepted licences", packages.len());
        return Ok(());
    }
    Err(Failure::new(format!(
        "licences that are not on the list in xtask/src/settings.rs:\n  {}",
        refused.join("\n  ")
    )))
}

/// Reads an SPDX expression: `OR` needs one side accepted, `AND` both; the old `/` means `OR`.
/// `AND` binds more tightly than `OR` (SPDX specification 2.3, annex D).
fn accepted(expression: &str) -> bool {
    let spaced = expression
        .replace('/', " OR ")
        .replace('(', " ( ")
        .replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    let result = any_of(&words, &mut at);
    result && at == words.len()
}

fn any_of(words: &[&str], at: &mut usize) -> bool {
    let mut result = all_of(words, at);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        result |= all_of(words, at);
    }
    result
}

fn all_of(words: &[&str], at: &mut usize) -> bool {
    let mut result = one(words, at);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        result &= one(words, at);
    }
    result
}

fn one(words: &[&str], at: &mut usize) -> bool {
    let Some(&word) = words.get(*at) else {
        return false;
    };
    *at += 1;
    if word == "(" {
        let inner = any_of(words, at);
        let closed = words.get(*at) == Some(&")");
        *at += 1;
        return inner && closed;
    }
    if words.get(*at) == Some(&"WITH") {
        let exception = words.get(*at + 1).copied().unwrap_or_default();
        *at += 2;
        return LICENCES.contains(&format!("{word} WITH {exception}").as_str());
    }
    LICENCES.contains(&word)
}

#[cfg(test)]
mod tests {
    use super::accepted;

    #[test]
    fn expressions_are_read_as_spdx_means_them() {
        for (expression, wanted) in [
            ("MIT", true),
            ("MIT/Apache-2.0", true),
            ("GPL-3.0-only", false),
            ("GPL-3.0-only OR MIT", true),
            ("MIT AND GPL-3.0-only", false),
            ("MIT OR GPL-3.0-only AND GPL-2.0-only", true),
            ("(MIT OR GPL-3.0-only) AND Unicode-3.0", true),
            ("(MIT OR Apache-2.0) AND GPL-3.0-only", false),
            ("Apache-2.0 WITH LLVM-exception", true),
            ("GPL-2.0-only WITH Classpath-exception-2.0", false),
            ("(MIT", false),
            ("MIT MIT", false),
            ("no licence stated", false),
        ] {
            assert_eq!(accepted(expression), wanted, "{expression}");
        }
    }
}
