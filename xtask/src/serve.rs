//! A small server for this machine, which sends what a good static host sends.

use std::path::{Path, PathBuf};

use tiny_http::{Header, Method, Request, Response, Server};

use crate::arguments::ServeWish;
use crate::failure::{Failure, Outcome};
use crate::{paths, site};

/// Builds the app and serves it until it is stopped.
pub(crate) fn build_and_serve(wish: &ServeWish) -> Outcome {
    site::build_and_report()?;
    let server = Server::http(("127.0.0.1", wish.port)).map_err(|error| {
        Failure::new(format!("cannot listen on port {}: {error}", wish.port)).mend(format!(
            "cargo xtask serve --port {}",
            wish.port.wrapping_add(1)
        ))
    })?;
    println!(
        "\nBothends is at http://localhost:{}{}  (stop with Ctrl+C)",
        wish.port, wish.host_path
    );
    answer_all(&server, &paths::dist(), &wish.host_path);
    Ok(())
}

/// Serves a folder on a free port for as long as this program runs, and gives its address.
pub(crate) fn beside(folder: PathBuf) -> Outcome<String> {
    let trouble = |error: &dyn std::fmt::Display| Failure::new(format!("cannot listen: {error}"));
    let server = Server::http(("127.0.0.1", 0)).map_err(|error| trouble(&error))?;
    let port = server.server_addr().to_ip().map(|address| address.port());
    let port = port.ok_or_else(|| trouble(&"no port"))?;
    std::thread::spawn(move || answer_all(&server, &folder, "/"));
    Ok(format!("http://localhost:{port}/"))
}

fn answer_all(server: &Server, folder: &Path, host_path: &str) {
    for request in server.incoming_requests() {
        if let Err(error) = answer(request, folder, host_path) {
            println!("an answer could not be sent: {error}");
        }
    }
}

fn answer(request: Request, folder: &Path, host_path: &str) -> std::io::Result<()> {
    if !matches!(request.method(), Method::Get | Method::Head) {
        return request.respond(Response::from_string("only GET and HEAD").with_status_code(405));
    }
    if request.url() == host_path.trim_end_matches('/') {
        let mut response =
            Response::from_string("the app is one slash further").with_status_code(301);
        if let Ok(header) = Header::from_bytes("Location", host_path) {
            response.add_header(header);
        }
        return request.respond(response);
    }
    let Some(name) = wanted_file(request.url(), host_path) else {
        return request.respond(Response::from_string("not found").with_status_code(404));
    };
    let plain = folder.join(&name);
    let accepted = request
        .headers()
        .iter()
        .filter(|header| header.field.equiv("Accept-Encoding"))
        .map(|header| header.value.as_str().to_owned())
        .collect::<Vec<_>>()
        .join(",");
    let (path, encoding) = best_form(&plain, &accepted);
    let Ok(bytes) = std::fs::read(path) else {
        return request.respond(Response::from_string("not found").with_status_code(404));
    };
    let mut response = Response::from_data(bytes);
    for (field, value) in headers(&name, encoding) {
        if let Ok(header) = Header::from_bytes(field, value) {
            response.add_header(header);
        }
    }
    request.respond(response)
}

/// The file that an address means, or nothing for addresses outside the app.
fn wanted_file(url: &str, host_path: &str) -> Option<String> {
    let path = url.split(['?', '#']).next().unwrap_or_default();
    let inside = path.strip_prefix(host_path)?;
    if inside.is_empty() {
        return Some("index.html".to_owned());
    }
    let safe = inside
        .split('/')
        .all(|part| !part.is_empty() && !part.starts_with('.'));
    (safe && !inside.contains(['\\', '%'])).then(|| inside.to_owned())
}

/// The smallest stored form that the browser accepts.
fn best_form(plain: &Path, accepted: &str) -> (PathBuf, Option<&'static str>) {
    for (word, extension) in [("br", "br"), ("gzip", "gz")] {
        let packed = PathBuf::from(format!("{}.{extension}", plain.display()));
        let takes = accepted
            .split(',')
            .any(|item| item.split(';').next().unwrap_or_default().trim() == word);
        if takes && packed.is_file() {
            return (packed, Some(word));
        }
    }
    (plain.to_path_buf(), None)
}

fn headers(name: &str, encoding: Option<&'static str>) -> Vec<(&'static str, &'static str)> {
    let lasting = if has_digest(name) {
        "public, max-age=31536000, immutable"
    } else {
        "no-cache"
    };
    let mut headers = vec![
        ("Content-Type", mime(name)),
        ("Cache-Control", lasting),
        ("X-Content-Type-Options", "nosniff"),
        ("Vary", "Accept-Encoding"),
    ];
    headers.extend(encoding.map(|word| ("Content-Encoding", word)));
    headers
}

/// Whether the name ends in a dash, 12 hexadecimal digits and an extension.
fn has_digest(name: &str) -> bool {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let digest = stem.rsplit_once('-').map_or("", |(_, digest)| digest);
    digest.len() == 12 && digest.bytes().all(|byte| byte.is_ascii_hexdigit())
}

fn mime(name: &str) -> &'static str {
    match name.rsplit_once('.').map_or("", |(_, extension)| extension) {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "wasm" => "application/wasm",
        "webmanifest" => "application/manifest+json",
        "png" => "image/png",
        "svg" => "image/svg+xml",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::{has_digest, wanted_file};

    #[test]
    fn only_files_of_the_app_are_sent() {
        for (url, host_path, wanted) in [
            ("/", "/", Some("index.html")),
            ("/?x=1", "/", Some("index.html")),
            ("/mill/", "/mill/", Some("index.html")),
            ("/mill/icons/a.png", "/mill/", Some("icons/a.png")),
            ("/mill", "/mill/", None),
            ("/other/a.js", "/mill/", None),
            ("/../Cargo.toml", "/", None),
            ("/%2e%2e/Cargo.toml", "/", None),
            ("//etc/passwd", "/", None),
        ] {
            assert_eq!(wanted_file(url, host_path).as_deref(), wanted, "{url}");
        }
    }

    #[test]
    fn only_names_with_a_digest_may_be_kept_for_ever() {
        assert!(has_digest("boot-0123456789ab.js"));
        assert!(!has_digest("index.html"));
        assert!(!has_digest("icons/maskable-512.png"));
    }
}
