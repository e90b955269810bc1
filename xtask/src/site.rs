//! The static folder: every file, its name, and what the service worker keeps.
//!
//! Scripts, styles and wasm carry a digest in their names and may be cached for ever. Plain names
//! (pages, manifest, icons, service worker) are asked for anew. All addresses are relative, so the
//! folder works under any path of any static host.

use std::path::Path;

use crate::failure::{Failure, Outcome};
use crate::wasm::Module;
use crate::{compress, hash, paths, report, scripts, text, wasm};

/// What a file counts for in the report.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Part {
    /// Transferred until the first screen is usable.
    First,
    /// Kept for offline use after the first paint.
    Later,
    /// Kept for offline use once the app is, and not missed while it is on its way.
    Beside,
    /// An icon, which the system asks for at most once.
    Icon,
    /// The service worker itself, which is not in its own list.
    Worker,
}

/// One file of the folder.
pub(crate) struct Asset {
    /// Address relative to the page.
    pub(crate) name: String,
    /// Its content, uncompressed.
    pub(crate) bytes: Vec<u8>,
    /// Its brotli form, where it was made before.
    packed: Option<Vec<u8>>,
    /// What it counts for.
    pub(crate) part: Part,
}

impl Asset {
    fn new(name: impl Into<String>, bytes: impl Into<Vec<u8>>, part: Part) -> Self {
        Self {
            name: name.into(),
            bytes: bytes.into(),
            packed: None,
            part,
        }
    }

    /// A file with its digest in its name: `style` and `css` give `style-0123456789ab.css`.
    fn hashed(stem: &str, extension: &str, bytes: impl Into<Vec<u8>>, part: Part) -> Self {
        let bytes = bytes.into();
        Self {
            name: format!("{stem}-{}.{extension}", hash::short(&bytes)),
            bytes,
            packed: None,
            part,
        }
    }
}

/// Builds `dist/`, prints its sizes, and fails above a budget.
pub(crate) fn build_and_report() -> Outcome<Vec<Module>> {
    let modules = wasm::build()?;
    let assets = assemble(&modules, "")?;
    write(&paths::dist(), &assets)?;
    report::check(&paths::dist(), &assets)?;
    Ok(modules)
}

/// Writes the same app as another build, for the tests of the update.
pub(crate) fn write_next(modules: &[Module]) -> Outcome {
    write(&paths::next_dist(), &assemble(modules, "next")?)
}

/// The addresses that pages and scripts need to know.
struct Addresses {
    style: String,
    front: String,
    rescue: String,
    papers: String,
    scan: String,
    /// All modules as the boot script reads them: `{"name": {"script": address, "wasm": address}}`.
    parts: String,
}

/// All files in an order in which each knows the names it needs. `variant` makes the build, the
/// style's name and so nearly every other name different without changing what the app does.
fn assemble(modules: &[Module], variant: &str) -> Outcome<Vec<Asset>> {
    let (mut assets, addresses) = independent_files(modules, variant)?;
    let build = build_name(&assets, &addresses)?;
    assets.extend(pages(&addresses, &build)?);
    let marks = [
        ("BUILD", build.as_str()),
        (
            "FILES",
            &precache_list(&assets, |part| part != Part::Beside),
        ),
        (
            "BESIDE",
            &precache_list(&assets, |part| part == Part::Beside),
        ),
    ];
    assets.push(Asset::new("sw.js", script("sw.js", &marks)?, Part::Worker));
    Ok(assets)
}

/// The files that name no other file.
fn independent_files(modules: &[Module], variant: &str) -> Outcome<(Vec<Asset>, Addresses)> {
    let style = Asset::hashed("style", "css", style(variant)?, Part::First);
    let records = Asset::hashed("records", "js", script("records.js", &[])?, Part::First);
    let reads = [("RECORDS", records.name.as_str())];
    let front = Asset::hashed("front", "js", script("front.js", &reads)?, Part::First);
    let rescue = Asset::hashed("rescue", "js", script("rescue.js", &reads)?, Part::Later);
    let compiled = Asset::hashed("compiled", "js", script("compiled.js", &[])?, Part::Beside);
    let compiles = [("COMPILED", compiled.name.as_str())];
    let papers = Asset::hashed(
        "papers",
        "js",
        script("papers.js", &compiles)?,
        Part::Beside,
    );
    let scan = Asset::hashed("scan", "js", script("scan.js", &compiles)?, Part::Beside);
    let mut addresses = Addresses {
        style: style.name.clone(),
        front: front.name.clone(),
        rescue: rescue.name.clone(),
        papers: papers.name.clone(),
        scan: scan.name.clone(),
        parts: String::new(),
    };
    let mut assets = plain_files()?;
    assets.push(demo_job()?);
    assets.extend(guide()?);
    assets.extend([style, records, front, rescue, compiled, papers, scan]);
    let mut parts = serde_json::Map::new();
    for (at, module) in modules.iter().enumerate() {
        let part = if at == 0 { Part::Later } else { Part::Beside };
        let loader = Asset::hashed(&module.name, "js", module.script.as_str(), part);
        let mut wasm = Asset::hashed(&module.name, "wasm", module.wasm.as_slice(), part);
        wasm.packed = Some(module.packed.clone());
        parts.insert(
            module.name.clone(),
            serde_json::json!({ "script": loader.name, "wasm": wasm.name }),
        );
        assets.extend([loader, wasm]);
        assets.extend(
            module
                .snippets
                .iter()
                .map(|(name, bytes)| Asset::new(name, bytes.as_slice(), part)),
        );
    }
    addresses.parts = serde_json::Value::Object(parts).to_string();
    // Two modules may import the same snippet.
    assets.sort_by(|one, other| one.name.cmp(&other.name));
    assets.dedup_by(|one, other| one.name == other.name);
    Ok((assets, addresses))
}

/// The page to print with its style and its script, which neither needs the app nor is needed by it.
fn guide() -> Outcome<[Asset; 3]> {
    let style = text::reduce_css(&source("guide.css")?);
    let style = Asset::hashed("guide", "css", style, Part::Beside);
    let script = Asset::hashed("guide", "js", script("guide.js", &[])?, Part::Beside);
    let names = [
        ("STYLE", style.name.as_str()),
        ("SCRIPT", script.name.as_str()),
    ];
    let page = page("guide.html", &names)?;
    Ok([Asset::new("guide.html", page, Part::Beside), style, script])
}

/// The pages and the scripts that start the app and keep it.
fn pages(addresses: &Addresses, build: &str) -> Outcome<Vec<Asset>> {
    let offline = Asset::hashed(
        "offline",
        "js",
        script("offline.js", &[("BUILD", build)])?,
        Part::Later,
    );
    let boot = script(
        "boot.js",
        &[
            ("FRONT", &addresses.front),
            ("OFFLINE", &offline.name),
            ("PAPERS", &addresses.papers),
            ("PARTS", &addresses.parts),
            ("RESCUE", &addresses.rescue),
            ("SCAN", &addresses.scan),
        ],
    )?;
    let boot = Asset::hashed("boot", "js", boot, Part::First);
    let index = page(
        "index.html",
        &[
            ("BUILD", build),
            ("STYLE", &addresses.style),
            ("BOOT", &boot.name),
        ],
    )?;
    let rescue = page(
        "rescue.html",
        &[("STYLE", &addresses.style), ("RESCUE", &addresses.rescue)],
    )?;
    Ok(vec![
        offline,
        boot,
        Asset::new("index.html", index, Part::First),
        Asset::new("rescue.html", rescue, Part::Later),
    ])
}

fn page(name: &str, marks: &[(&str, &str)]) -> Outcome<String> {
    text::fill(&source(name)?, &format!("web/{name}"), marks)
}

fn script(name: &str, marks: &[(&str, &str)]) -> Outcome<String> {
    scripts::minify(&page(name, marks)?)
}

/// The name of a build: a digest of every file as it would be without that name, so that equal
/// builds have equal names and no two builds that differ in anything share one.
fn build_name(assets: &[Asset], addresses: &Addresses) -> Outcome<String> {
    let nameless = pages(addresses, "")?;
    let mut all = script("sw.js", &[("BUILD", ""), ("FILES", "[]"), ("BESIDE", "[]")])?;
    for asset in assets.iter().chain(&nameless) {
        all.push_str(&format!("{} {}\n", asset.name, hash::sha256(&asset.bytes)));
    }
    Ok(hash::short(all.as_bytes()))
}

/// A list that the service worker fetches and checks: `[["address", "sha256"], ...]`.
fn precache_list(assets: &[Asset], holds: impl Fn(Part) -> bool) -> String {
    let list: Vec<(&str, String)> = assets
        .iter()
        .filter(|asset| holds(asset.part))
        .map(|asset| (asset.name.as_str(), hash::sha256(&asset.bytes)))
        .collect();
    serde_json::json!(list).to_string()
}

/// The page itself stands at the top of the project, everything else of the web in `web/`.
fn source(name: &str) -> Outcome<String> {
    let folder = if name == "index.html" {
        paths::root().to_path_buf()
    } else {
        paths::web()
    };
    let path = folder.join(name);
    std::fs::read_to_string(&path).map_err(|error| Failure::file("read", &path, &error))
}

/// The demo job, under a plain name because the app asks for it by that.
fn demo_job() -> Outcome<Asset> {
    let path = paths::root().join("demo-data/marrowby-mill.jobfile.txt");
    let job =
        std::fs::read_to_string(&path).map_err(|error| Failure::file("read", &path, &error))?;
    let name = "demo/marrowby-mill.short.txt".to_owned();
    Ok(Asset::new(
        name,
        text::short_heads(&job).into_bytes(),
        Part::Beside,
    ))
}

/// The style sheets in the order of their file names, as one.
fn style(variant: &str) -> Outcome<String> {
    let folder = paths::root().join("styles");
    let mut whole = String::new();
    for path in files(&folder, "css")? {
        whole.push_str(
            &std::fs::read_to_string(&path)
                .map_err(|error| Failure::file("read", &path, &error))?,
        );
        whole.push('\n');
    }
    let mut reduced = text::reduce_css(&whole);
    if !variant.is_empty() {
        reduced.push_str(&format!("\n/* {variant} */"));
    }
    Ok(reduced)
}

/// The manifest and the icons, whose names stay as they are.
fn plain_files() -> Outcome<Vec<Asset>> {
    let mut found = vec![Asset::new(
        "manifest.webmanifest",
        source("manifest.webmanifest")?,
        Part::Later,
    )];
    for path in files(&paths::web().join("icons"), "png")? {
        let bytes = std::fs::read(&path).map_err(|error| Failure::file("read", &path, &error))?;
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        found.push(Asset::new(format!("icons/{name}"), bytes, Part::Icon));
    }
    Ok(found)
}

fn files(folder: &Path, extension: &str) -> Outcome<Vec<std::path::PathBuf>> {
    let entries =
        std::fs::read_dir(folder).map_err(|error| Failure::file("read", folder, &error))?;
    let mut found: Vec<_> = entries
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|found| found == extension))
        .collect();
    found.sort();
    Ok(found)
}

/// Writes the folder anew: each file, and its compressed forms where they are smaller.
fn write(folder: &Path, assets: &[Asset]) -> Outcome {
    if folder.exists() {
        std::fs::remove_dir_all(folder).map_err(|error| Failure::file("remove", folder, &error))?;
    }
    for asset in assets {
        let path = folder.join(&asset.name);
        put(&path, &asset.bytes)?;
        if asset.part == Part::Icon {
            continue;
        }
        let brotli = match &asset.packed {
            Some(packed) => packed.clone(),
            None => compress::brotli(&path)?,
        };
        for (extension, packed) in [("br", brotli), ("gz", compress::gzip(&asset.bytes)?)] {
            if packed.len() < asset.bytes.len() {
                put(&folder.join(format!("{}.{extension}", asset.name)), &packed)?;
            }
        }
    }
    println!("wrote {}", folder.display());
    Ok(())
}

fn put(path: &Path, bytes: &[u8]) -> Outcome {
    let folder = path.parent().unwrap_or(Path::new("."));
    std::fs::create_dir_all(folder)
        .and_then(|()| std::fs::write(path, bytes))
        .map_err(|error| Failure::file("write", path, &error))
}
