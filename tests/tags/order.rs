//! What is printed in one go, as one text.

use bothends::tags::{Badge, Dots, Microns, Order, Ports, Tag, built_in};

/// A tag with something in every field.
pub(crate) fn tag(code: &str) -> Tag {
    Tag {
        code: code.to_owned(),
        words: "KITCHEN TV / CAT 6 U/UTP".to_owned(),
        short: "KIT TV / CAT 6 U/UTP".to_owned(),
        far: "MAIN RACK".to_owned(),
        position: "1A-B07".to_owned(),
        badge: Badge::None,
        qr: format!("{code} HM26K4X9"),
        diameter: Microns(6_100),
        made_of: "Cat 6 U/UTP".to_owned(),
        ports: Ports {
            pitch: Microns(15_875),
            group: 6,
        },
        copies: 2,
    }
}

/// An order of tags on a built-in stock.
pub(crate) fn order(stock: &str, tags: Vec<Tag>) -> Order {
    let mut all = built_in().into_iter();
    let stock = all.find(|known| known.name == stock).expect("a stock");
    Order {
        title: "Marrowby Mill".to_owned(),
        stock,
        dots: Dots::D300,
        start: 1,
        tags,
    }
}

#[test]
fn it_is_read_back_as_it_was_whatever_stands_in_it() {
    let mut odd = tag("KIT2-C");
    odd.words = "Ä; \"b\"\n\tc, 表 \u{1F600}".to_owned();
    odd.far = String::new();
    odd.badge = Badge::Future;
    odd.copies = u16::MAX;
    let mut order = order("Flags, A4", vec![tag("KIT2-A"), odd]);
    order.start = 12;
    order.dots = Dots::D203;
    assert_eq!(Order::read(&order.to_string()), Ok(order));
}

#[test]
fn the_signs_between_its_parts_are_taken_out_of_texts() {
    let mut odd = tag("KIT2-C");
    odd.words = "one\u{1E}two\u{1F}three".to_owned();
    let read = Order::read(&order("Flags, A4", vec![odd]).to_string()).expect("an order");
    assert_eq!(read.tags[0].words, "one two three");
}

#[test]
fn anything_else_is_refused() {
    let whole = order("Flags, A4", vec![tag("KIT2-A")]).to_string();
    for cut in [0, 5, whole.len() / 2, whole.len() - 8] {
        assert!(Order::read(&whole[..cut]).is_err(), "{cut}");
    }
}
