//! Scripts as a browser needs them: without comments, blanks and long names.

use crate::failure::{Failure, Outcome};
use crate::run::Run;
use crate::{hash, paths};

/// The same script, smaller. Everything in it may be renamed but its exports and what it hangs on
/// `globalThis`, so every script of ours is read as a module or stands alone in its page.
pub(crate) fn minify(script: &str) -> Outcome<String> {
    let folder = paths::cache();
    let given = folder.join(format!("script-{}.js", hash::short(script.as_bytes())));
    std::fs::create_dir_all(&folder)
        .and_then(|()| std::fs::write(&given, script))
        .map_err(|error| Failure::file("write", &given, &error))?;
    let small = Run::new("node")
        .arg(paths::browser().join("node_modules/terser/bin/terser"))
        .words("--module --compress --mangle --")
        .arg(&given)
        .read();
    std::fs::remove_file(&given).map_err(|error| Failure::file("remove", &given, &error))?;
    small
}
