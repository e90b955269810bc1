//! The page as Lighthouse judges it: `cargo xtask bench page`.

use std::path::Path;

use crate::failure::{Failure, Outcome};
use crate::run::Run;
use crate::{browser, paths, rows, serve, settings, site};

/// A page with nothing to find fault with, for what the machine and the host do to any page.
const PLAIN: &str = r#"<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<meta name="description" content="A page of one sentence.">
<link rel="icon" href="data:,">
<title>One sentence</title>
<main><h1>This page says no more than this.</h1></main>
</html>
"#;

/// Builds the app, serves it and the plain page, and has both judged.
pub(crate) fn bench(rows: &Path) -> Outcome {
    site::build_and_report()?;
    let folder = paths::root().join("target/page-bench");
    let plain = folder.join("plain");
    std::fs::create_dir_all(&plain).map_err(|error| Failure::file("write", &plain, &error))?;
    let file = plain.join("index.html");
    std::fs::write(&file, PLAIN).map_err(|error| Failure::file("write", &file, &error))?;
    install(&folder)?;
    let app = serve::beside(paths::dist())?;
    let plain = serve::beside(plain)?;
    browser::script("page.mjs")?
        .arg(folder)
        .arg(app)
        .arg(plain)
        .env(rows::FILE, rows)
        .show()
}

/// Lighthouse, in a folder of its own.
fn install(folder: &Path) -> Outcome {
    let stamp = folder.join("installed");
    if std::fs::read_to_string(&stamp).is_ok_and(|found| found == settings::LIGHTHOUSE) {
        return Ok(());
    }
    Run::new("npm")
        .words("install --no-audit --no-fund --no-save --prefix")
        .arg(folder)
        .arg(settings::LIGHTHOUSE)
        .within(folder)
        .show()?;
    std::fs::write(&stamp, settings::LIGHTHOUSE)
        .map_err(|error| Failure::file("write", &stamp, &error))
}
