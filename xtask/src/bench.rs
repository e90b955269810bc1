//! The timings: `cargo xtask bench`, part by part or all of them, with one table of their rows at the end.

use std::path::Path;

use crate::failure::{Failure, Outcome};
use crate::rows::{self, Measured};
use crate::{extras, page, paths, readers};

/// What can be measured by itself.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Part {
    /// The core, natively, beside other programs.
    Core,
    /// The reader of tags beside others.
    Scan,
    /// The app with a large job in a slowed browser.
    Browser,
    /// The page as Lighthouse judges it.
    Page,
}

/// Programs whose rows stand under one name in the table; they are given the file for these.
struct Section {
    name: &'static str,
    measure: fn(&Path) -> Outcome,
}

impl Part {
    /// All of them, in the order in which they are measured.
    pub(crate) const ALL: [Self; 4] = [Self::Core, Self::Scan, Self::Browser, Self::Page];

    /// The part by its name on the command line.
    pub(crate) fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|part| part.name() == name)
    }

    fn name(self) -> &'static str {
        match self {
            Self::Core => "core",
            Self::Scan => "scan",
            Self::Browser => "browser",
            Self::Page => "page",
        }
    }

    fn sections(self) -> Vec<Section> {
        let section = |name, measure| Section { name, measure };
        match self {
            Self::Core => vec![
                section("core-for-speed", extras::bench_core_for_speed),
                section("core", extras::bench_core),
            ],
            Self::Scan => vec![section(self.name(), readers::bench)],
            Self::Browser => vec![section(self.name(), extras::bench_browser)],
            Self::Page => vec![section(self.name(), page::bench)],
        }
    }
}

/// Measures one part after the other and prints the table. A part that fails holds up none of the others,
/// and is said in the table and in the end.
pub(crate) fn run(parts: &[Part]) -> Outcome {
    let folder = paths::rows();
    std::fs::create_dir_all(&folder).map_err(|error| Failure::file("make", &folder, &error))?;
    let mut all = Vec::new();
    for section in parts.iter().flat_map(|part| part.sections()) {
        let file = folder.join(format!("{}.tsv", section.name));
        std::fs::write(&file, "").map_err(|error| Failure::file("write", &file, &error))?;
        let failure = (section.measure)(&file).err();
        let lines =
            std::fs::read_to_string(&file).map_err(|error| Failure::file("read", &file, &error))?;
        all.push(Measured {
            section: section.name,
            lines,
            failure: failure.map(|failure| failure.within(paths::root())),
        });
    }
    println!("\n{}", rows::table(&all));
    let failed: Vec<&str> = all
        .iter()
        .filter(|measured| measured.failure.is_some())
        .map(|measured| measured.section)
        .collect();
    if failed.is_empty() {
        Ok(())
    } else {
        Err(Failure::new(format!(
            "not all measured, or a goal missed: {}",
            failed.join(", ")
        )))
    }
}
