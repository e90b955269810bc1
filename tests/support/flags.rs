//! Many different flags for a printer of labels, for printing to be measured on.

use bothends::tags::{Badge, Dots, Microns, Order, Ports, Stock, Tag};

/// An order of so many flags, each with a code and words of its own.
pub(crate) fn flags(count: usize) -> Order {
    Order {
        title: "Bench".to_owned(),
        stock: Stock::read("Flags;flag;30000;90000;16000;roll").expect("a stock"),
        dots: Dots::D300,
        start: 1,
        tags: (0..count).map(flag).collect(),
    }
}

fn flag(number: usize) -> Tag {
    let letter = char::from(b"ABCDEFGH"[number % 8]);
    let code = format!("R{}-{letter}", 1 + number / 8);
    Tag {
        words: "ROOM DATA / CAT 6 U/UTP".to_owned(),
        short: "ROOM / CAT 6 U/UTP".to_owned(),
        far: "MAIN RACK".to_owned(),
        position: String::new(),
        badge: Badge::None,
        qr: format!("{code} HM26K4X9"),
        diameter: Microns(6_100),
        made_of: "Cat 6 U/UTP".to_owned(),
        ports: Ports {
            pitch: Microns(15_875),
            group: 6,
        },
        copies: 1,
        code,
    }
}
