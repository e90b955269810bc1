//! What was asked for on the command line.

use crate::bench::Part;
use crate::failure::{Failure, Outcome};
use crate::settings;

/// The text of `cargo xtask help`.
pub(crate) const HELP: &str = "\
cargo xtask serve [--port N] [--host-path /name/]
                     build the app and serve it on http://localhost:8080
cargo xtask test [--no-browser]
                     the one gate: format, lints, tests, dist with its budgets, browser tests,
                     licences, unused dependencies
cargo xtask dist     the static folder dist/, for any sub-path of any static host
cargo xtask browser [NAME ...]
                     build, then only the browser tests (of the named spec files)
cargo xtask long [--seeds N] [--fuzz-seconds N]
                     what takes too long for the gate: N random seeds in each generated test (default 2000),
                     10,000 histories of several phones, the check against SQLite by time,
                     ten minutes of hostile input for each reader, a browser killed while it stores
cargo xtask bench    the timings: the four parts below one after the other, and at the end one table of
                     what each measured, with what stands beside it, ratios and goals
cargo xtask bench core
                     of the core beside other programs, compiled for speed and as the app is
cargo xtask bench scan
                     of the reader of tags beside two others, on photographs
cargo xtask bench browser
                     of the app with large jobs, in a slowed browser
cargo xtask bench page
                     of the page as Lighthouse judges it, beside a page of one sentence
cargo xtask shots    pictures of every screen, into shots/
cargo xtask icons    draw the PNG icons anew from web/icons/*.svg";

/// One command with its wishes.
pub(crate) enum Command {
    /// Print [`HELP`].
    Help,
    /// Build `dist/`.
    Dist,
    /// Build and serve `dist/`.
    Serve(ServeWish),
    /// The gate.
    Test(Scope),
    /// Browser tests alone; an empty list means all of them.
    Browser(Vec<String>),
    /// The tests with random seeds.
    Long(LongWish),
    /// The timings of these parts, one after the other.
    Bench(Vec<Part>),
    /// Screenshots.
    Shots,
    /// Icons from their drawings.
    Icons,
}

/// How long a long test is.
pub(crate) struct LongWish {
    /// How many seeds each test tries.
    pub(crate) seeds: u64,
    /// For how many seconds each reader gets hostile input.
    pub(crate) fuzz_seconds: u64,
}

/// Where to serve.
pub(crate) struct ServeWish {
    /// TCP port on this machine.
    pub(crate) port: u16,
    /// Path the app is served under; begins and ends with a slash.
    pub(crate) host_path: String,
}

/// How much of the gate to run.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Scope {
    /// Everything.
    Whole,
    /// Everything but the browser tests; not enough before a merge.
    WithoutBrowser,
}

/// Reads the arguments that stand after `cargo xtask`.
pub(crate) fn parse(given: &[String]) -> Outcome<Command> {
    let Some((name, rest)) = given.split_first() else {
        return Ok(Command::Help);
    };
    match name.as_str() {
        "help" | "--help" | "-h" => Ok(Command::Help),
        "dist" => alone(name, rest, Command::Dist),
        "bench" => bench(rest).map(Command::Bench),
        "shots" => alone(name, rest, Command::Shots),
        "icons" => alone(name, rest, Command::Icons),
        "browser" => Ok(Command::Browser(rest.to_vec())),
        "serve" => serve(rest).map(Command::Serve),
        "long" => long(rest).map(Command::Long),
        "test" => match rest {
            [] => Ok(Command::Test(Scope::Whole)),
            [flag] if flag == "--no-browser" => Ok(Command::Test(Scope::WithoutBrowser)),
            _ => Err(unknown("test", rest)),
        },
        other => {
            Err(Failure::new(format!("there is no command `{other}`")).mend("cargo xtask help"))
        }
    }
}

fn alone(name: &str, rest: &[String], command: Command) -> Outcome<Command> {
    if rest.is_empty() {
        Ok(command)
    } else {
        Err(unknown(name, rest))
    }
}

fn unknown(name: &str, rest: &[String]) -> Failure {
    Failure::new(format!("`{name}` does not understand `{}`", rest.join(" ")))
        .mend("cargo xtask help")
}

fn bench(rest: &[String]) -> Outcome<Vec<Part>> {
    match rest {
        [] => Ok(Part::ALL.to_vec()),
        [name] => match Part::named(name) {
            Some(part) => Ok(vec![part]),
            None => Err(unknown("bench", rest)),
        },
        _ => Err(unknown("bench", rest)),
    }
}

fn long(mut rest: &[String]) -> Outcome<LongWish> {
    let mut wish = LongWish {
        seeds: settings::LONG_SEEDS,
        fuzz_seconds: settings::FUZZ_SECONDS,
    };
    while let [flag, number, tail @ ..] = rest {
        let wanted = number
            .parse()
            .map_err(|_| Failure::new(format!("`{number}` is not a whole number")))?;
        match flag.as_str() {
            "--seeds" => wish.seeds = wanted,
            "--fuzz-seconds" => wish.fuzz_seconds = wanted,
            _ => return Err(unknown("long", rest)),
        }
        rest = tail;
    }
    if rest.is_empty() {
        Ok(wish)
    } else {
        Err(unknown("long", rest))
    }
}

fn serve(mut rest: &[String]) -> Outcome<ServeWish> {
    let mut wish = ServeWish {
        port: settings::SERVE_PORT,
        host_path: "/".to_owned(),
    };
    while let [flag, value, tail @ ..] = rest {
        match flag.as_str() {
            "--port" => {
                wish.port = value
                    .parse()
                    .map_err(|_| Failure::new(format!("`{value}` is not a port number")))?;
            }
            "--host-path" => wish.host_path = host_path(value),
            _ => return Err(unknown("serve", rest)),
        }
        rest = tail;
    }
    if rest.is_empty() {
        Ok(wish)
    } else {
        Err(unknown("serve", rest))
    }
}

/// `name`, `/name` and `/name/` all mean `/name/`.
fn host_path(value: &str) -> String {
    match value.trim_matches('/') {
        "" => "/".to_owned(),
        inner => format!("/{inner}/"),
    }
}

#[cfg(test)]
mod tests {
    use super::{Command, HELP, host_path, parse};
    use crate::bench::Part;

    fn words(line: &str) -> Vec<String> {
        line.split_whitespace().map(str::to_owned).collect()
    }

    #[test]
    fn a_sub_path_has_a_slash_at_both_ends() {
        for (given, wanted) in [
            ("/", "/"),
            ("", "/"),
            ("mill", "/mill/"),
            ("/a/b", "/a/b/"),
            ("/mill/", "/mill/"),
        ] {
            assert_eq!(host_path(given), wanted);
        }
    }

    #[test]
    fn serve_takes_its_wishes_in_any_order() {
        let Ok(Command::Serve(wish)) = parse(&words("serve --host-path mill --port 9000")) else {
            panic!("not read as serve");
        };
        assert_eq!((wish.port, wish.host_path.as_str()), (9000, "/mill/"));
    }

    #[test]
    fn long_takes_its_wishes_in_any_order() {
        let Ok(Command::Long(wish)) = parse(&words("long --fuzz-seconds 5 --seeds 7")) else {
            panic!("not read as long");
        };
        assert_eq!((wish.seeds, wish.fuzz_seconds), (7, 5));
    }

    #[test]
    fn bench_is_all_parts_or_the_named_one_and_the_help_names_each() {
        for (line, wanted) in [
            ("bench", &Part::ALL[..]),
            ("bench core", &[Part::Core]),
            ("bench scan", &[Part::Scan]),
            ("bench browser", &[Part::Browser]),
            ("bench page", &[Part::Page]),
        ] {
            let Ok(Command::Bench(parts)) = parse(&words(line)) else {
                panic!("`{line}` was not read as bench");
            };
            assert_eq!(parts, wanted);
            assert!(HELP.contains(&format!("cargo xtask {line}")), "{line}");
        }
    }

    #[test]
    fn what_is_not_understood_is_refused_by_name() {
        for line in [
            "fly",
            "dist now",
            "serve --port",
            "serve --port x",
            "test --fast",
            "bench fast",
            "bench core scan",
            "long --seeds many",
            "long --seeds 5 --fuzz-seconds",
        ] {
            let Err(failure) = parse(&words(line)) else {
                panic!("`{line}` was accepted")
            };
            let wrong = line.split_whitespace().last().unwrap_or_default();
            assert!(failure.to_string().contains(wrong), "{failure}");
        }
    }
}
