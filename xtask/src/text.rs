//! Light reduction of styles, and the marks in our sources that the build fills in.

use crate::failure::{Failure, Outcome};

/// Takes comments and needless blanks out of a style sheet; strings stay as they are.
///
/// Blanks are taken only beside braces, semicolons and commas, where none can mean anything: round
/// a colon they tell `a :hover` from `a:hover`, and round `+` they belong to `calc`.
pub(crate) fn reduce_css(css: &str) -> String {
    let mut out = String::with_capacity(css.len());
    let mut rest = css;
    while let Some(first) = rest.chars().next() {
        if let Some(comment) = rest.strip_prefix("/*") {
            rest = comment.split_once("*/").map_or("", |(_, after)| after);
        } else if first == '"' || first == '\'' {
            let length = string_length(rest, first);
            out.push_str(&rest[..length]);
            rest = &rest[length..];
        } else if first.is_whitespace() {
            rest = rest.trim_start();
            if !out.is_empty() && !out.ends_with([' ', '{', '}', ';', ',']) {
                out.push(' ');
            }
        } else {
            if matches!(first, '{' | '}' | ';' | ',') && out.ends_with(' ') {
                out.pop();
            }
            if first == '}' && out.ends_with(';') {
                out.pop();
            }
            out.push(first);
            rest = &rest[first.len_utf8()..];
        }
    }
    out.truncate(out.trim_end().len());
    out
}

fn string_length(text: &str, quote: char) -> usize {
    let mut escaped = false;
    for (at, letter) in text.char_indices().skip(1) {
        match letter {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            _ if letter == quote => return at + quote.len_utf8(),
            _ => {}
        }
    }
    text.len()
}

/// Fills in the marks `%NAME%` of one of our sources. Every mark given must occur, and none may be
/// left over, so that a misspelt one cannot reach a browser.
pub(crate) fn fill(source: &str, name: &str, marks: &[(&str, &str)]) -> Outcome<String> {
    let mut text = source.to_owned();
    for (mark, value) in marks {
        let written = format!("%{mark}%");
        if !text.contains(&written) {
            return Err(Failure::new(format!("{name} holds no {written}")));
        }
        text = text.replace(&written, value);
    }
    match left_over(&text) {
        Some(mark) => Err(Failure::new(format!("{name} still holds {mark}"))),
        None => Ok(text),
    }
}

fn left_over(text: &str) -> Option<String> {
    let mut parts = text.split('%');
    parts.next();
    let mark = parts.find(|part| {
        !part.is_empty()
            && part
                .bytes()
                .all(|byte| byte.is_ascii_uppercase() || byte == b'_')
    })?;
    text.contains(&format!("%{mark}%"))
        .then(|| format!("%{mark}%"))
}

/// A job file whose lines do not repeat what the line before tells; `exchange::heads` of the app says
/// how, and puts it back. A line that is not written like an act stays as it is.
pub(crate) fn short_heads(job: &str) -> String {
    let mut short = String::new();
    let mut writer = "";
    let mut before = [0; 3];
    for line in job.split_inclusive('\n') {
        let Some((by, counts, rest)) = head(line) else {
            short.push_str(line);
            continue;
        };
        let mut steps = counts.iter().zip(before);
        if by != writer || steps.any(|(now, then)| *now < then) {
            short.push_str(&format!("={by}\n"));
            before = [0; 3];
        }
        let [n, lamport, wall] = [0, 1, 2].map(|count| counts[count] - before[count]);
        short.push_str(&format!("+{n} {lamport} {wall},{rest}"));
        (writer, before) = (by, counts);
    }
    short
}

/// The writer, the counts and the rest of an act's line.
fn head(line: &str) -> Option<(&str, [u64; 3], &str)> {
    let (writer, rest) = line
        .strip_prefix("{\"v\":1,\"writer\":\"")?
        .split_once("\",\"n\":")?;
    let (n, rest) = rest.split_once(",\"lamport\":")?;
    let (lamport, rest) = rest.split_once(",\"wall\":")?;
    let (wall, rest) = rest.split_once(',')?;
    let counts = [n.parse().ok()?, lamport.parse().ok()?, wall.parse().ok()?];
    Some((writer, counts, rest))
}

#[cfg(test)]
mod tests {
    use super::{fill, reduce_css, short_heads};

    #[test]
    fn styles_lose_comments_and_blanks_and_keep_their_meaning() {
        for (given, wanted) in [
            ("/* a */ body {\n  color: red;\n}\n", "body{color: red}"),
            (
                "a :hover , b{ width: calc(1px + 2px) ; }",
                "a :hover,b{width: calc(1px + 2px)}",
            ),
            (
                "q::before { content: \"/* } ; \\\" x\"; }",
                "q::before{content: \"/* } ; \\\" x\"}",
            ),
            (
                "@media (min-width: 40rem) { p { margin: 0 auto } }",
                "@media (min-width: 40rem){p{margin: 0 auto}}",
            ),
            ("a{} /* never closed", "a{}"),
        ] {
            assert_eq!(reduce_css(given), wanted);
        }
    }

    #[test]
    fn a_mark_is_filled_or_complained_of() {
        assert_eq!(
            fill("x = \"%BUILD%\"", "a", &[("BUILD", "1")])
                .ok()
                .as_deref(),
            Some("x = \"1\"")
        );
        assert!(fill("x", "a", &[("BUILD", "1")]).is_err());
        assert!(fill("%BUILD% %MAIN%", "a", &[("BUILD", "1")]).is_err());
        assert!(fill("%BUILD% 50% of 20%", "a", &[("BUILD", "1")]).is_ok());
    }

    #[test]
    fn a_line_says_only_what_is_more_than_before() {
        let line = |writer, n, lamport, wall| {
            format!(
                "{{\"v\":1,\"writer\":\"{writer}\",\"n\":{n},\"lamport\":{lamport},\"wall\":{wall},\"by\":\"PW\"}}\n"
            )
        };
        let job = [
            "{\"format\":1}\n".to_owned(),
            line("A", 1, 7, 60),
            line("A", 2, 9, 60),
            line("A", 3, 9, 50),
            line("B", 4, 9, 60),
        ]
        .concat();
        let by = ",\"by\":\"PW\"}\n";
        // Time that goes backwards begins anew, as another writer does.
        let short =
            format!("{{\"format\":1}}\n=A\n+1 7 60{by}+1 2 0{by}=A\n+3 9 50{by}=B\n+4 9 60{by}");
        assert_eq!(short_heads(&job), short);
    }
}
