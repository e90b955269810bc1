//! A reader of Rust text that tells code from comments and strings; it does not parse further.

/// Rust text in two views.
pub(super) struct Source {
    /// The text with every comment, string and character blanked; lines stay where they are.
    pub(super) code: String,
    /// Every string with the number of the line it begins on, comments left out.
    pub(super) strings: Vec<(usize, String)>,
}

/// Reads a whole file.
pub(super) fn read(text: &str) -> Source {
    let mut source = Source {
        code: String::with_capacity(text.len()),
        strings: Vec::new(),
    };
    let mut at = 0;
    while at < text.len() {
        let rest = &text[at..];
        let word_before = source.code.chars().next_back().is_some_and(is_word);
        let length = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            block_comment(rest)
        } else if let Some((open, body, whole)) = string(rest, word_before) {
            source.strings.push((
                text[..at].lines().count().max(1),
                rest[open..open + body].to_owned(),
            ));
            whole
        } else if let Some(whole) = character(rest) {
            whole
        } else {
            let letter = rest.chars().next().map_or(1, char::len_utf8);
            source.code.push_str(&rest[..letter]);
            at += letter;
            continue;
        };
        source.code.extend(
            rest[..length]
                .chars()
                .map(|letter| if letter == '\n' { '\n' } else { ' ' }),
        );
        at += length;
    }
    source
}

/// Whether a letter can be part of a name.
pub(super) fn is_word(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

/// Block comments nest.
fn block_comment(rest: &str) -> usize {
    let mut depth = 0_usize;
    let mut at = 0;
    while at < rest.len() {
        if rest[at..].starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest[at..].starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += rest[at..].chars().next().map_or(1, char::len_utf8);
        }
    }
    rest.len()
}

/// The lengths of the opening, the body and the whole of a string that `rest` begins with.
fn string(rest: &str, word_before: bool) -> Option<(usize, usize, usize)> {
    let prefix = if word_before {
        ""
    } else {
        ["br", "cr", "r", "b", "c"]
            .into_iter()
            .find(|it| rest.starts_with(it))
            .unwrap_or("")
    };
    let after = &rest[prefix.len()..];
    let hashes = after.bytes().take_while(|byte| *byte == b'#').count();
    let raw = prefix.ends_with('r');
    if !after[hashes..].starts_with('"') || (hashes > 0 && !raw) {
        return None;
    }
    let open = prefix.len() + hashes + 1;
    let body = &rest[open..];
    let length = if raw {
        body.find(&format!("\"{}", "#".repeat(hashes)))
            .unwrap_or(body.len())
    } else {
        let mut escaped = false;
        let end = body.char_indices().find(|(_, letter)| {
            let ends = *letter == '"' && !escaped;
            escaped = *letter == '\\' && !escaped;
            ends
        });
        end.map_or(body.len(), |(at, _)| at)
    };
    Some((open, length, (open + length + 1 + hashes).min(rest.len())))
}

/// The length of a character such as `'a'` or `'\n'`; a lifetime is none.
fn character(rest: &str) -> Option<usize> {
    let inner = rest.strip_prefix('\'')?;
    let first = inner.chars().next()?;
    if first == '\\' {
        let close = inner[2..].find('\'')?;
        return Some(close + 4);
    }
    inner[first.len_utf8()..]
        .starts_with('\'')
        .then_some(first.len_utf8() + 2)
}

#[test]
fn code_is_told_from_comments_strings_and_characters() {
    let text = "use a; // crate::x\nlet s = \"crate::y \\\" z\"; /* /* crate::b */ */ let c = '\"'; let l: &'static str = r#\"raw \" it\"#;\nb'\\'' end";
    let source = read(text);
    assert!(!source.code.contains("crate"), "{}", source.code);
    assert!(
        source.code.contains("let c =")
            && source.code.contains("&'static str")
            && source.code.contains("end")
    );
    assert_eq!(source.code.lines().count(), text.lines().count());
    assert_eq!(
        source.strings,
        [
            (2, "crate::y \\\" z".to_owned()),
            (2, "raw \" it".to_owned())
        ]
    );
}
