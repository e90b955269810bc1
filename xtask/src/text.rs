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

#[cfg(test)]
mod tests {
    use super::{fill, reduce_css};

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
}
