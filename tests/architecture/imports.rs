//! Every `crate::` path of the sources, held against the table.

use super::source::{self, is_word};
use super::table::{self, is_within};
use super::{TextFile, files, no_complaints, root};

#[test]
fn modules_name_only_what_the_table_allows() {
    let sources = files("src", &["rs"]);
    assert!(sources.len() > 3, "the sources were not found");
    let manifests = ["Cargo.toml", "src/Cargo.toml"].map(|path| root().join(path));
    let manifests = manifests.map(|path| std::fs::read_to_string(path).unwrap_or_default());
    let outside: Vec<String> = manifests
        .iter()
        .flat_map(|text| dependencies(text))
        .collect();
    for known in ["yew", "thin_vec"] {
        let found = outside.iter().any(|name| name == known);
        assert!(found, "the dependencies with {known} were not found");
    }
    let complaints: Vec<String> = sources
        .iter()
        .flat_map(|file| judge(file, &outside))
        .collect();
    no_complaints(&complaints);
}

/// The complaints about one file.
fn judge(file: &TextFile, outside: &[String]) -> Vec<String> {
    let module = module_of(&file.path);
    let Some(row) = table::row_of(&module) else {
        return vec![format!(
            "{}: the module `{module}` has no row in tests/architecture/table.rs",
            file.path
        )];
    };
    let code = source::read(&file.text).code;
    let mut complaints = Vec::new();
    let mut complain = |at: usize, what: String| {
        let line = code[..at].matches('\n').count() + 1;
        complaints.push(format!("{}:{line}: {what}", file.path));
    };
    for (at, path) in own_paths(&code, &module) {
        if !may_name(row, &path) {
            complain(at, format!("`{}` may not name `crate::{path}`", row.module));
        }
    }
    for (at, _) in code.match_indices("super::super") {
        complain(
            at,
            "`super::super`: write the path from `crate::`".to_owned(),
        );
    }
    for name in outside {
        let named =
            words(&code, name).find(|at| code[at + name.len()..].trim_start().starts_with("::"));
        if let Some(at) = named.filter(|_| !row.crates.contains(&name.as_str())) {
            complain(
                at,
                format!("`{}` may not name the crate `{name}`", row.module),
            );
        }
    }
    complaints
}

/// `src/journal/wire/v1.rs` is `journal::wire::v1`.
fn module_of(path: &str) -> String {
    path.trim_start_matches("src/")
        .trim_end_matches(".rs")
        .replace('/', "::")
}

fn may_name(row: &table::Row, path: &str) -> bool {
    let Some(target) = table::row_of(path) else {
        return false;
    };
    let listed = |allowed: &str| {
        is_within(path, allowed)
            && table::row_of(allowed).is_some_and(|it| it.module == target.module)
    };
    target.module == row.module || row.modules.iter().any(|allowed| listed(allowed))
}

/// All paths from the root of the crate: by `crate::`, by its name, and by `super::` where that is the root.
fn own_paths(code: &str, module: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for start in ["crate", "bothends"] {
        for at in words(code, start).filter(|at| !code[..*at].ends_with('$')) {
            if let Some(rest) = code[at + start.len()..].trim_start().strip_prefix("::") {
                found.extend(expand(rest, "").into_iter().map(|path| (at, path)));
            }
        }
    }
    if !module.contains("::") {
        for at in words(code, "super") {
            if let Some(rest) = code[at + "super".len()..].trim_start().strip_prefix("::") {
                let reached = expand(rest, "")
                    .into_iter()
                    .filter(|path| table::row_of(path).is_some());
                found.extend(reached.map(|path| (at, path)));
            }
        }
    }
    found
}

/// The places where `word` stands as a whole word.
fn words<'code>(code: &'code str, word: &'code str) -> impl Iterator<Item = usize> + 'code {
    code.match_indices(word)
        .map(|(at, _)| at)
        .filter(move |at| {
            let before = code[..*at].chars().next_back().is_some_and(is_word);
            let after = code[at + word.len()..].chars().next().is_some_and(is_word);
            !before && !after
        })
}

/// The paths that begin here: `a::{b, c::D}` gives `a::b` and `a::c::D`.
fn expand(text: &str, prefix: &str) -> Vec<String> {
    let text = text.trim_start();
    if let Some(group) = text.strip_prefix('{') {
        return items(group)
            .into_iter()
            .flat_map(|item| expand(item, prefix))
            .collect();
    }
    let length = text.find(|letter| !is_word(letter)).unwrap_or(text.len());
    let name = &text[..length];
    let path = if prefix.is_empty() {
        name.to_owned()
    } else {
        format!("{prefix}::{name}")
    };
    match text[length..].trim_start().strip_prefix("::") {
        Some(rest) if !rest.trim_start().starts_with(['<', '*']) => expand(rest, &path),
        _ => vec![path],
    }
}

/// The items of a group, whose opening brace is already taken, up to its closing one.
fn items(group: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut depth = 0_usize;
    let mut begin = 0;
    for (at, letter) in group.char_indices() {
        match letter {
            '{' => depth += 1,
            '}' if depth == 0 => {
                found.push(&group[begin..at]);
                break;
            }
            '}' => depth -= 1,
            ',' if depth == 0 => {
                found.push(&group[begin..at]);
                begin = at + 1;
            }
            _ => {}
        }
    }
    found.retain(|item| !item.trim().is_empty());
    found
}

/// The crates of all `dependencies` sections of a Cargo.toml, those for tests apart, as sources name them.
fn dependencies(manifest: &str) -> Vec<String> {
    let mut inside = false;
    let mut found = Vec::new();
    for line in manifest.lines() {
        if line.starts_with('[') {
            inside = line.contains("dependencies]") && !line.contains("dev-dependencies");
        } else if let Some((name, _)) = line.split_once('=').filter(|_| inside) {
            found.push(name.trim().replace('-', "_"));
        }
    }
    found
}

#[test]
fn a_forbidden_path_is_found_however_it_is_written() {
    let outside = ["serde".to_owned(), "web_sys".to_owned()];
    let complaints = |path: &str, text: &str| {
        judge(
            &TextFile {
                path: path.to_owned(),
                text: text.to_owned(),
            },
            &outside,
        )
    };
    for (path, text) in [
        ("src/domain/ids.rs", "use crate::journal::Act;"),
        ("src/domain.rs", "fn f() { super::journal::run() }"),
        (
            "src/query/list.rs",
            "use crate::{\n    domain::ids,\n    journal::wire::v1::Act,\n};",
        ),
        ("src/app.rs", "fn f() -> crate::journal::wire::Line {}"),
        ("src/platform/clock.rs", "use crate::app::Model;"),
        ("src/ui/parts.rs", "use crate::platform::Clock;"),
        (
            "src/journal/act.rs",
            "#[derive(serde::Serialize)] struct A;",
        ),
        ("src/ui/screens/job.rs", "use web_sys::Element;"),
        ("src/journal/wire/v1.rs", "use super::super::act::Act;"),
        ("src/elsewhere.rs", ""),
        ("src/main.rs", "fn main() { bothends::app::run() }"),
    ] {
        assert_eq!(
            complaints(path, text).len(),
            1,
            "{path}: {text}: {:?}",
            complaints(path, text)
        );
    }
    for (path, text) in [
        (
            "src/journal/wire/v1.rs",
            "use crate::journal::Act; use serde::Serialize;",
        ),
        ("src/journal.rs", "use crate::journal::wire::v1;"),
        ("src/domain.rs", "use crate::domain::ids; // crate::journal"),
        ("src/platform/clock.rs", "use crate::app::ports::Clock;"),
        ("src/paint.rs", "use web_sys::Event;"),
        (
            "src/app.rs",
            "const A: &str = \"crate::ui\"; pub(crate) fn f() {}",
        ),
        ("src/main.rs", "fn main() { bothends::shell::start() }"),
    ] {
        assert_eq!(complaints(path, text), Vec::<String>::new(), "{path}");
    }
}
