//! Holds the sources to the map in `DEVELOPERS.md`: who may import whom, how long files may be, what
//! every file opens with, and which words may stand nowhere.

/// Finding the paths that a source names, and judging them by the table.
mod imports;
/// Files: their opening comment, their size, the length of their functions, their declaration.
mod layout;
/// Rust text with its comments and strings told apart from its code.
mod source;
/// Who may import whom: the part to change when a module is added.
mod table;
/// Versions that must agree.
mod versions;
/// Words that may not stand in the sources or on the screen.
mod words;

use std::path::{Path, PathBuf};

/// The project's folder.
fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A text file, by its path below the project's folder with `/` between the parts.
struct TextFile {
    path: String,
    text: String,
}

/// All files below `folder` whose extension is one of `extensions`, in the order of their paths.
fn files(folder: &str, extensions: &[&str]) -> Vec<TextFile> {
    const GENERATED: &[&str] = &["target", "dist", "shots", "node_modules", ".git"];
    let mut found = Vec::new();
    if root().join(folder).is_file() {
        return vec![read(&root().join(folder))];
    }
    let mut waiting = vec![root().join(folder)];
    while let Some(next) = waiting.pop() {
        let Ok(entries) = std::fs::read_dir(&next) else {
            continue;
        };
        for path in entries.flatten().map(|entry| entry.path()) {
            let name = path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            let wanted = path
                .extension()
                .is_some_and(|it| extensions.iter().any(|wanted| it == *wanted));
            if path.is_dir() && !GENERATED.contains(&name.as_str()) {
                waiting.push(path);
            } else if wanted && path.is_file() {
                found.push(read(&path));
            }
        }
    }
    found.sort_by(|one, other| one.path.cmp(&other.path));
    found
}

fn read(path: &PathBuf) -> TextFile {
    let bytes = std::fs::read(path)
        .unwrap_or_else(|error| panic!("cannot read {}: {error}", path.display()));
    // Schedules in Latin-1 are among the files; their words are checked all the same.
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let below = path.strip_prefix(root()).unwrap_or(path);
    TextFile {
        path: below.to_string_lossy().replace('\\', "/"),
        text,
    }
}

/// Fails with every complaint on a line of its own.
#[track_caller]
fn no_complaints(complaints: &[String]) {
    assert!(
        complaints.is_empty(),
        "{} complaints:\n{}",
        complaints.len(),
        complaints.join("\n")
    );
}

/// Says something in a passing test: written past the harness, which hides what a passing test prints.
fn remark(line: &str) {
    use std::io::Write;
    writeln!(std::io::stdout(), "remark: {line}").unwrap_or_default();
}
