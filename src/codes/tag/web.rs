//! The web address that a job may set before the text of its tags.

use std::fmt;

use crate::domain::text::visible;

const SCHEMES: [&str; 2] = ["HTTPS://", "HTTP://"];

/// The longest address taken: with the longest code and group the QR code still is one that a
/// tag can carry.
const LONGEST: usize = 60;

/// A web address for the tags of a job, in capitals and ending in a slash.
///
/// It is a path, because `#`, `?` and small letters would force the QR code out of its compact
/// alphanumeric mode. Capitals do not matter in the name of a host; a server must take them in
/// the path.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WebAddress(String);

impl WebAddress {
    /// Checks a web address; small letters become capitals, and a slash is added at the end.
    ///
    /// # Errors
    /// When it is no web address, is too long, or has a character that the QR code's
    /// alphanumeric mode or a path lacks.
    pub fn new(text: &str) -> Result<Self, BadAddress> {
        let mut address = text.trim().to_ascii_uppercase();
        if !address.ends_with('/') {
            address.push('/');
        }
        let scheme = SCHEMES
            .iter()
            .find_map(|scheme| address.strip_prefix(scheme));
        let host = scheme.and_then(|rest| rest.split('/').next());
        if host.is_none_or(str::is_empty) {
            return Err(BadAddress::NotWeb);
        }
        if let Some(character) = address.chars().find(|c| !is_allowed(*c)) {
            return Err(BadAddress::Character(character));
        }
        if address.len() > LONGEST {
            return Err(BadAddress::TooLong {
                length: address.len(),
            });
        }
        Ok(Self(address))
    }

    /// The address.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// Letters, digits and what both a path and the alphanumeric mode know.
fn is_allowed(character: char) -> bool {
    character.is_ascii_uppercase() || character.is_ascii_digit() || "-./:%".contains(character)
}

impl fmt::Display for WebAddress {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl fmt::Debug for WebAddress {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// Why a text cannot be the web address of a job's tags.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BadAddress {
    /// It does not begin like one.
    NotWeb,
    /// It has a character that cannot stand in it.
    Character(char),
    /// It is too long for a small QR code.
    TooLong {
        /// The number of its characters.
        length: usize,
    },
}

impl fmt::Display for BadAddress {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotWeb => f.write_str(
                "This is not a web address. Begin it with https:// and the name of the server.",
            ),
            Self::Character(character) => write!(
                f,
                "“{}” cannot stand in the address on a tag. Use letters, digits, dash, point and \
                 slash; a short address without it may lead to the long one.",
                visible(&character.to_string())
            ),
            Self::TooLong { length } => write!(
                f,
                "The address has {length} characters, and a small QR code has room for {LONGEST}. \
                 Use a shorter one."
            ),
        }
    }
}

/// The part of a text behind the scheme of a web address, in whatever case it was pasted.
pub(super) fn behind_scheme(text: &str) -> Option<&str> {
    SCHEMES.iter().find_map(|scheme| {
        let head = text.get(..scheme.len())?;
        let rest = text.get(scheme.len()..)?;
        head.eq_ignore_ascii_case(scheme).then_some(rest)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_brought_to_capitals() {
        for text in ["https://registry.example", " HTTPS://REGISTRY.EXAMPLE/ "] {
            let address = WebAddress::new(text).expect("an address");
            assert_eq!(address.as_str(), "HTTPS://REGISTRY.EXAMPLE/");
        }
        let address = WebAddress::new("http://registry.example:8080/mill/t").expect("an address");
        assert_eq!(address.to_string(), "HTTP://REGISTRY.EXAMPLE:8080/MILL/T/");
    }

    #[test]
    fn what_cannot_be_an_address_says_why() {
        for (text, fault) in [
            ("", BadAddress::NotWeb),
            ("registry.example", BadAddress::NotWeb),
            ("https://", BadAddress::NotWeb),
            ("https:///t", BadAddress::NotWeb),
            ("ftp://registry.example", BadAddress::NotWeb),
            ("https://registry.example/#t", BadAddress::Character('#')),
            ("https://registry.example/?t=1", BadAddress::Character('?')),
            (
                "https://registry.example/my tags",
                BadAddress::Character(' '),
            ),
            ("https://bücher.example", BadAddress::Character('ü')),
        ] {
            assert_eq!(WebAddress::new(text), Err(fault), "{text}");
        }
        let long = format!("https://registry.example/{}", "t".repeat(40));
        assert_eq!(
            WebAddress::new(&long),
            Err(BadAddress::TooLong { length: 66 })
        );
    }
}
