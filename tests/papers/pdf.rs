//! The file that prints at the right size.

use bothends::papers::{Making, texts};
use bothends::tags::{Order, built_in};

use crate::support::flags::flags;
use crate::tags::order::{order, tag};

fn made(order: &Order) -> (i32, Vec<u8>) {
    let mut making = Making::of(order.clone());
    let mut pages = 0;
    while making.step() {
        pages += 1;
    }
    (pages, making.finish())
}

#[test]
fn it_has_as_many_pages_as_were_told_on_every_stock() {
    for stock in built_in() {
        for (tags, start) in [(1, 1), (1, 20), (40, 1), (40, 22), (49, 2)] {
            let tags = (1..=tags)
                .map(|number| tag(&format!("KIT{number}-C")))
                .collect();
            let mut order = order(&stock.name, tags);
            order.start = order.stock.per_page().map_or(1, |count| start.min(count));
            assert_eq!(
                made(&order).0,
                Making::pages(&order),
                "{} from {start}",
                stock.name
            );
        }
    }
}

#[test]
fn it_asks_not_to_be_scaled_and_says_its_size() {
    let (_, bytes) = made(&order("Flags, A4", vec![tag("KIT2-C")]));
    let text = String::from_utf8_lossy(&bytes);
    // ISO 32000-1, tables 150 and 30. A4 is 595.276 by 841.890 points.
    assert!(text.contains("/PrintScaling /None"));
    assert!(
        text.contains("/MediaBox [0 0 595.27") && text.contains("841.88"),
        "{text}"
    );
    assert!(text.contains("/BaseFont /Helvetica-Bold") && text.contains("/WinAnsiEncoding"));
    assert!(text.starts_with("%PDF-1.7"));
}

#[test]
fn the_same_order_gives_the_same_file() {
    let order = order(
        "Flags, A4",
        (1..=40).map(|n| tag(&format!("KIT{n}-C"))).collect(),
    );
    assert_eq!(made(&order).1, made(&order).1);
}

#[test]
fn a_thousand_tags_stay_small() {
    let (_, bytes) = made(&flags(1_000));
    assert!(bytes.len() < 2_000_000, "{}", bytes.len());
}

#[test]
fn the_texts_go_to_other_printers_as_a_table() {
    let bytes = texts(&order("Flags, A4", vec![tag("KIT2-C")]));
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    let rows: Vec<csv::StringRecord> = reader
        .records()
        .collect::<Result<_, _>>()
        .expect("RFC 4180");
    assert_eq!(rows.len(), 1);
    assert_eq!(
        rows[0].iter().collect::<Vec<_>>(),
        [
            "KIT2-C",
            "KITCHEN TV / CAT 6 U/UTP",
            "MAIN RACK",
            "1A-B07",
            "",
            "KIT2-C HM26K4X9",
            "2"
        ]
    );
}
