//! What lies where on a label.

use bothends::papers::{CAPITALS, Piece, lay, look};
use bothends::tags::{Badge, Dots, Feed, Microns, Order, Shape, Tag, built_in};

use crate::tags::order::{order, tag};

/// The edges of whatever is printed: left, upper, right, lower.
fn edges(piece: &Piece, dots: Dots) -> [i32; 4] {
    match piece {
        Piece::Text {
            font,
            size,
            x,
            y,
            text,
        } => {
            let width = font.thousandths(text) * i64::from(size.0) / 1000;
            let width = i32::try_from(width).expect("on paper");
            // No letter of the two typefaces goes further below the line than 0.23 of its size
            // (Adobe Core 14 font metrics: descender 207, ascender 718).
            [x.0, y.0 - size.0 * CAPITALS / 1000, x.0 + width, y.0]
        }
        Piece::Bar {
            x,
            y,
            width,
            height,
        } => [x.0, y.0, x.0 + width.0, y.0 + height.0],
        Piece::Code {
            x,
            y,
            dots: count,
            matrix,
        } => {
            let modules = i32::try_from(matrix.size()).expect("few");
            let module = count * 25_400 / dots.per_inch();
            // The quiet zone is part of what must be on the label.
            [
                x.0 - 4 * module,
                y.0 - 4 * module,
                x.0 + (modules + 4) * module,
                y.0 + (modules + 4) * module,
            ]
        }
    }
}

fn odd_tags() -> Vec<Tag> {
    let mut tags = vec![tag("KIT2-C"), tag("DBEDROOM12-C"), tag("A1-A")];
    for words in [
        "",
        "W",
        "MMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMM",
        "A B C D E F G H I J K L M N O P Q R S T U V W X Y Z",
    ] {
        for badge in [Badge::None, Badge::Future] {
            tags.push(Tag {
                words: words.to_owned(),
                far: words.repeat(3),
                badge,
                ..tag("KIT2-C")
            });
        }
    }
    for diameter in [0, 1_500, 3_000, 6_100, 9_400, 12_200, 25_000, 60_000] {
        tags.push(Tag {
            diameter: Microns(diameter),
            ..tag("KIT2-C")
        });
    }
    tags.push(Tag {
        qr: "HTTPS://REGISTRY.EXAMPLE/".repeat(8),
        ..tag("KIT2-C")
    });
    tags.push(Tag {
        qr: String::new(),
        ..tag("KIT2-C")
    });
    tags
}

#[test]
fn nothing_is_outside_its_label_whatever_its_length() {
    for stock in built_in() {
        for dots in Dots::ALL {
            for tag in odd_tags() {
                let laid = lay(&tag, &stock, dots);
                assert!(
                    laid.width.0 > 0 && laid.width <= stock.width,
                    "{}",
                    stock.name
                );
                for piece in &laid.sheet.pieces {
                    let [left, upper, right, lower] = edges(piece, dots);
                    let inside =
                        left >= 0 && upper >= 0 && right <= laid.width.0 && lower <= stock.height.0;
                    assert!(inside, "{} {dots:?} {tag:?}: {piece:?}", stock.name);
                }
            }
        }
    }
}

#[test]
fn a_wrap_prints_on_its_printed_part_alone() {
    for stock in built_in() {
        let Shape::Wrap { print } = stock.shape else {
            continue;
        };
        for tag in odd_tags() {
            for piece in &lay(&tag, &stock, Dots::D300).sheet.pieces {
                let [_, _, _, lower] = edges(piece, Dots::D300);
                assert!(lower <= print.0, "{}: {piece:?}", stock.name);
            }
        }
    }
}

#[test]
fn the_code_is_the_largest_text_and_always_there() {
    for stock in built_in()
        .into_iter()
        .filter(|stock| !matches!(stock.shape, Shape::Strip { .. }))
    {
        for tag in odd_tags() {
            let laid = lay(&tag, &stock, Dots::D300);
            let size = |wanted: bool| {
                let sizes = laid.sheet.pieces.iter().filter_map(|piece| match piece {
                    Piece::Text { size, text, .. } if (*text == tag.code) == wanted => Some(size.0),
                    _ => None,
                });
                sizes.max().unwrap_or(0)
            };
            assert!(size(true) > 0, "{}: {}", stock.name, tag.code);
            let is_insert = stock.shape == Shape::Insert;
            assert!(
                is_insert || size(true) >= size(false) || tag.badge != Badge::None,
                "{} {tag:?}",
                stock.name
            );
        }
    }
}

/// The lines of a label in their order, with their sizes.
fn lines(tag: &Tag, stock: &str) -> Vec<(i32, String)> {
    let order = order(stock, vec![tag.clone()]);
    texts(&lay(tag, &order.stock, Dots::D300).sheet.pieces)
}

fn texts(pieces: &[Piece]) -> Vec<(i32, String)> {
    let texts = pieces.iter().filter_map(|piece| match piece {
        Piece::Text { size, text, .. } => Some((size.0, text.clone())),
        Piece::Bar { .. } | Piece::Code { .. } => None,
    });
    texts.collect()
}

fn stands(tag: &Tag, stock: &str, words: &str) -> bool {
    lines(tag, stock)
        .iter()
        .any(|(_, text)| text.contains(words))
}

#[test]
fn the_far_place_stays_as_long_as_any_line_but_the_code_does() {
    for stock in built_in()
        .into_iter()
        .filter(|stock| !matches!(stock.shape, Shape::Strip { .. } | Shape::Insert))
    {
        for tag in odd_tags() {
            let first: String = tag.far.chars().take(3).collect();
            let own = [tag.code.as_str(), tag.badge.words()];
            let lines = texts(&lay(&tag, &stock, Dots::D300).sheet.pieces);
            let mut others = lines.iter().filter(|(_, text)| !own.contains(&&**text));
            assert!(
                others.clone().next().is_none() || others.any(|(_, text)| text.starts_with(&first)),
                "{} {tag:?}",
                stock.name
            );
        }
    }
}

#[test]
fn a_flag_with_a_position_and_long_words_keeps_the_far_place() {
    let long = Tag {
        words: "GROUND FLOOR CONSERVATORY BEHIND THE TELEVISION / CAT 6A F/UTP".to_owned(),
        short: "CONS BEHIND THE TELEVISION / CAT 6A F/UTP".to_owned(),
        far: "MAIN RACK IN THE CELLAR".to_owned(),
        ..tag("CONS12-C")
    };
    for stock in ["Flags, A4", "Flags on a roll"] {
        for tag in [&tag("KIT2-C"), &long] {
            assert!(stands(tag, stock, "MAIN RACK"), "{:?}", lines(tag, stock));
        }
        assert!(stands(&tag("KIT2-C"), stock, "1A-B07"));
        assert!(!stands(&long, stock, "CONSERVATORY"));
        assert!(stands(&long, stock, "CONS"), "{:?}", lines(&long, stock));
    }
}

#[test]
fn a_wrap_says_a_room_by_its_name_and_leaves_out_what_the_jacket_says() {
    let long = Tag {
        words: "GROUND FLOOR CONSERVATORY TELEVISION ON THE NORTHERN WALL / CAT 6A F/UTP"
            .to_owned(),
        short: "GROUND FLOOR CONSERVATORY TELEVISION".to_owned(),
        ..tag("CONS2-C")
    };
    let stock = "Wraps for data cable, A4";
    let shown = lines(&long, stock);
    assert!(
        stands(&long, stock, "CONSERVATORY") && stands(&long, stock, "MAIN RACK"),
        "{shown:?}"
    );
    assert!(!stands(&long, stock, "CAT 6A"), "{shown:?}");
    // Two cables of one outlet say the same as long as both fit, though one of them in more height.
    let shorter = Tag {
        words: "CONSERVATORY KEYPAD / CAT 6".to_owned(),
        short: "CONSERVATORY KEYPAD".to_owned(),
        diameter: Microns(6_100),
        position: String::new(),
        ..tag("CONS3-A")
    };
    assert!(
        stands(&shorter, stock, "CAT 6"),
        "{:?}",
        lines(&shorter, stock)
    );
    // Words without a shorter form are cut, and that is told.
    let cut = Tag {
        short: String::new(),
        words: "GROUND FLOOR CONSERVATORY TELEVISION ON THE NORTHERN WALL / CAT 6A".to_owned(),
        ..long
    };
    assert!(
        stands(&cut, stock, "GROUND FLOOR") && stands(&cut, stock, "MAIN RACK"),
        "{:?}",
        lines(&cut, stock)
    );
    let (_, warning) = told(&order(stock, vec![cut]));
    assert!(
        warning.contains("are cut. It is so on CONS2-C"),
        "{warning}"
    );
}

#[test]
fn words_take_a_second_line_before_they_are_cut() {
    // On the usual data cable, 6.1 mm, a third of the turn has room for one line of words.
    let tag = Tag {
        words: "UTILITY ROOM WASHING MACHINE / CAT 6 U/UTP".to_owned(),
        short: String::new(),
        position: String::new(),
        diameter: Microns(6_100),
        ..tag("UTI2-C")
    };
    let stock = "Wraps for data cable, A4";
    let shown = lines(&tag, stock);
    let words: Vec<&str> = shown.iter().map(|(_, text)| text.as_str()).collect();
    assert_eq!(
        words,
        [
            "UTI2-C",
            "UTILITY ROOM WASHING",
            "MACHINE / CAT 6 U/UTP",
            "MAIN RACK"
        ]
    );
    assert_eq!(told(&order(stock, vec![tag])).1, "");
}

#[test]
fn what_a_cable_is_made_of_is_not_torn_apart_where_a_line_has_room_for_it() {
    let tag = Tag {
        words: "FLAT C KITCHEN ISLAND / CAT 6 U/UTP".to_owned(),
        short: "FLAT C KITCHEN ISLAND".to_owned(),
        position: String::new(),
        diameter: Microns(6_100),
        ..tag("CKIT4-B")
    };
    for stock in ["Tape, 12 mm", "Wraps for data cable, A4"] {
        let shown = lines(&tag, stock);
        assert!(
            shown.iter().any(|(_, text)| text == "CAT 6 U/UTP"),
            "{stock}: {shown:?}"
        );
    }
    // The face of a flat label has no such room, and cuts nothing all the same.
    let narrow = Tag {
        words: "YARD SPEAKERS / SPEAKER 14/2, DIRECT BURIAL".to_owned(),
        ..tag
    };
    let (_, warnings) = told(&order("Flat labels on a roll", vec![narrow]));
    assert!(!warnings.contains("cut"), "{warnings}");
}

#[test]
fn a_text_is_seen_at_once_and_its_type_never_shrinks_as_the_cable_grows() {
    let long = Tag {
        words: "GROUND FLOOR CONSERVATORY TELEVISION / CAT 6A F/UTP".to_owned(),
        short: "CONS TELEVISION / CAT 6A F/UTP".to_owned(),
        ..tag("CONS12-C")
    };
    let wraps = built_in().into_iter();
    for stock in wraps.filter(|stock| matches!(stock.shape, Shape::Wrap { .. })) {
        for text in [&tag("KIT2-C"), &long] {
            for dots in Dots::ALL {
                let mut before = (0, 0);
                for tenths in 10..400 {
                    let diameter = Microns::tenths(tenths);
                    let laid = lay(
                        &Tag {
                            diameter,
                            ..text.clone()
                        },
                        &stock,
                        dots,
                    );
                    // Half the circumference, π being 355/113.
                    let seen = tenths * 100 * 355 / 113 / 2;
                    assert!(
                        laid.block.0 <= seen,
                        "{} {diameter}: {}",
                        stock.name,
                        laid.block
                    );
                    let shown = texts(&laid.sheet.pieces);
                    let of_code = |wanted: bool| {
                        let sizes = shown
                            .iter()
                            .filter(|(_, words)| (*words == text.code) == wanted);
                        sizes.map(|(size, _)| *size).min().unwrap_or(0)
                    };
                    let type_sizes = (of_code(true), of_code(false));
                    assert!(
                        type_sizes.0 >= before.0 && type_sizes.1 >= before.1,
                        "{} {dots:?} {diameter}: {before:?}, then {type_sizes:?}",
                        stock.name
                    );
                    before = type_sizes;
                }
            }
        }
    }
}

fn told(order: &Order) -> (String, String) {
    let look = look(order);
    assert_eq!(look.refused, None);
    (look.reasons.join("\n"), look.warnings.join("\n"))
}

#[test]
fn the_choice_is_told_with_its_reason() {
    let wrap = |diameter| {
        order(
            "Wraps for data cable, A4",
            vec![Tag {
                diameter: Microns(diameter),
                ..tag("KIT2-C")
            }],
        )
    };
    let (reason, warning) = told(&wrap(6_100));
    assert_eq!(
        reason,
        "Cat 6 U/UTP, 6.1 mm: wrap with text alone, since a code needs 9.57 mm of flat width and this cable shows 3.19 mm; take flags for codes. Once round the turn of 19.16 mm, as two of these texts take 17.1 mm of print and there are 12.7 mm, and the label passes its beginning by 18.94 mm."
    );
    assert_eq!(warning, "");
    let (_, warning) = told(&wrap(9_400));
    assert!(
        warning.starts_with(
            "The clear tail of Wraps for data cable, A4 does not cover the whole print"
        ),
        "{warning}"
    );
    let (_, warning) = told(&wrap(12_200));
    assert!(warning.contains("does not reach round"), "{warning}");
    let (_, warning) = told(&wrap(3_000));
    assert!(warning.contains("goes round more than once"), "{warning}");
    let (_, warning) = told(&wrap(0));
    assert!(
        warning.starts_with("No outside diameter is known of"),
        "{warning}"
    );
    let (reason, warning) = told(&order("Flags, A4", vec![tag("KIT2-C")]));
    assert_eq!(
        reason,
        "Cat 6 U/UTP, 6.1 mm: flag folded over the cable, with its code, 0.51 mm a module, flat enough to scan."
    );
    assert_eq!(warning, "");
    // A thick conduit is flat enough for a code on a wrap.
    let (reason, _) = told(&order(
        "Wraps for thick cable, A4",
        vec![Tag {
            diameter: Microns(24_000),
            ..tag("KIT2-C")
        }],
    ));
    assert!(
        reason.contains("wrap with its code, 0.42 mm a module"),
        "{reason}"
    );
}

#[test]
fn tape_and_flat_labels_are_folded_over_a_cable_and_lie_flat_on_a_place() {
    let stocks = built_in().into_iter();
    for stock in stocks.filter(|stock| stock.shape == Shape::Flat) {
        let laid = lay(&tag("KIT2-C"), &stock, Dots::D300);
        // What is between the faces goes round: π times 6.1 mm are 19.16 mm (computed).
        assert!(laid.face.0 >= 12_000, "{}", stock.name);
        assert!(laid.width.0 - 2 * laid.face.0 >= 19_163, "{}", stock.name);
        for piece in &laid.sheet.pieces {
            let [left, _, right, _] = edges(piece, Dots::D300);
            let is_on_a_face = right <= laid.face.0 || left >= laid.width.0 - laid.face.0;
            assert!(is_on_a_face, "{}: {piece:?}", stock.name);
        }
        assert!(
            laid.reason.contains(
                "folded over the cable like a flag, its ends back to back, with its code"
            ),
            "{}",
            laid.reason
        );
        let place = Tag {
            diameter: Microns(0),
            made_of: String::new(),
            ..tag("KIT2")
        };
        let laid = lay(&place, &stock, Dots::D300);
        assert_eq!(laid.face.0, 0, "{}", stock.name);
        assert!(!laid.reason.contains("cable"), "{}", laid.reason);
    }
    let (reason, _) = told(&order("Tape, 12 mm", vec![tag("KIT2-C")]));
    assert_eq!(
        reason,
        "Cat 6 U/UTP, 6.1 mm: tape folded over the cable like a flag, its ends back to back, with its code, 0.34 mm a module, flat enough to scan."
    );
    let (reason, _) = told(&order("Flat labels, A4", vec![tag("KIT2-C")]));
    assert!(
        reason.contains("with its code on one face and the text on the other"),
        "{reason}"
    );
}

#[test]
fn what_is_too_short_to_fold_goes_along_its_cable_with_a_code_where_that_is_flat() {
    // Tape of 100 mm: of a cable of 30 mm the turn is 94.2 mm, and a sixth of it 15.7 mm, are flat; of
    // one of 25 mm the turn is 78.5 mm, which leaves less than 12 mm for a face. 29 modules of 0.33 mm
    // are 9.57 mm, so a code needs a cable of 18.3 mm (computed).
    for (stock, width, diameter, has_code) in [
        ("Tape, 12 mm", 100_000, 30_000, true),
        ("Tape, 12 mm", 100_000, 25_000, true),
        ("Flat labels on a roll", 30_000, 6_100, false),
        ("Tape, 12 mm", 30_000, 15_000, false),
    ] {
        let mut order = order(
            stock,
            vec![Tag {
                diameter: Microns(diameter),
                ..tag("KIT2-C")
            }],
        );
        order.stock.width = Microns(width);
        let laid = lay(&order.tags[0], &order.stock, order.dots);
        let codes = laid.sheet.pieces.iter();
        let codes = codes.filter(|piece| matches!(piece, Piece::Code { .. }));
        assert_eq!(codes.count(), usize::from(has_code), "{}", laid.reason);
        assert_eq!(laid.face.0, 0);
        assert!(
            laid.reason.contains(": along the cable with"),
            "{}",
            laid.reason
        );
        // Half of the turn is in sight.
        assert!(laid.block.0 <= diameter * 355 / 113 / 2, "{}", laid.block);
        assert!(
            look(&order).picture.contains("linearGradient"),
            "on its cable"
        );
    }
}

#[test]
fn nobody_has_to_guess_what_the_pages_are() {
    let counts = |stock: &str| look(&order(stock, vec![tag("KIT2-C")])).counts;
    assert_eq!(
        counts("Flags on a roll"),
        "2 labels on 3 pages, the first of them the ruler to check the size by. For a printer of 300 dots to the inch."
    );
    assert_eq!(
        counts("Flags, A4"),
        "2 labels on 1 page. For a printer of 300 dots to the inch.",
        "the ruler stands in the margin"
    );
    // The code of a tag of three groups is a QR code of version 2, 25 modules with 4 of quiet zone on each
    // side (ISO/IEC 18004), for which a wrap on the usual cable has no flat width.
    let mut wrap = order(
        "Wraps for data cable, A4",
        vec![tag("KIT2-C"), tag("KIT2-D")],
    );
    let said = " They have no QR code: text alone.";
    assert!(look(&wrap).counts.ends_with(said), "{}", look(&wrap).counts);
    wrap.tags[0].qr.clear();
    let said = " One tag has no QR code: text alone.";
    assert!(look(&wrap).counts.ends_with(said), "{}", look(&wrap).counts);
}

#[test]
fn a_wrap_is_drawn_flat_and_round_in_one_scale() {
    let order = order("Wraps for data cable, A4", vec![tag("KIT2-C")]);
    let svg = look(&order).picture;
    // The cable of 6.1 mm and the label of 25.4 by 12.7 mm, whose lines keep their width, in one
    // drawing of a millimetre to a millimetre.
    assert!(
        svg.contains("height=\"6100\"") && svg.contains("width=\"25400\" height=\"12700\""),
        "{svg}"
    );
    let size = |name: &str| {
        let (_, rest) = svg.split_once(name).expect("its size");
        rest.split('"').next().expect("a number").to_owned()
    };
    let number = |text: String| {
        text.trim_end_matches("mm")
            .parse::<f64>()
            .expect("a number")
    };
    let (width, height) = (number(size("width=\"")), number(size("height=\"")));
    let (_, seen) = svg.split_once("viewBox=\"0 0 ").expect("its box");
    let seen: Vec<f64> = seen
        .split('"')
        .next()
        .expect("two numbers")
        .split(' ')
        .map(|number| number.parse().expect("a number"))
        .collect();
    assert!((seen[0] / width - 1000.0).abs() < 1.0 && (seen[1] / height - 1000.0).abs() < 1.0);
    // Each line stands there twice: once flat, and once on the cable if it is in sight.
    let texts = svg.matches(">KIT2-C<").count();
    assert_eq!(texts, 2, "{svg}");
    let flat = svg.split("<g ").next().expect("what lies flat");
    assert!(
        flat.contains(">KIT2-C<") && !flat.contains("scale("),
        "{flat}"
    );
}

#[test]
fn a_label_too_small_for_its_type_is_warned_of() {
    let mut order = order("Flat labels on a roll", vec![tag("DBEDROOM12-C")]);
    (order.stock.width, order.stock.height) = (Microns(8_000), Microns(4_000));
    let (_, warning) = told(&order);
    assert!(warning.contains("some type is under 4 points"), "{warning}");
}

#[test]
fn small_modules_are_warned_of() {
    let mut order = order("Tape, 12 mm", vec![tag("KIT2-C")]);
    order.stock.height = Microns(9_000);
    let (_, warning) = told(&order);
    assert!(
        warning.contains("below 0.33 mm not every phone reads it"),
        "{warning}"
    );
}

#[test]
fn many_tags_with_one_trouble_are_told_once() {
    let long = |code: &str| Tag {
        words: "W".repeat(80),
        short: String::new(),
        ..tag(code)
    };
    let tags = (1..=30)
        .map(|number| long(&format!("KIT{number}-A")))
        .collect();
    let (_, warning) = told(&order("Flags, A4", tags));
    assert_eq!(
        warning.lines().next().expect("a warning"),
        "The words are too long for the label, and are cut. It is so on KIT1-A, KIT2-A, KIT3-A, KIT4-A and 26 more."
    );
}

#[test]
fn what_cannot_be_printed_is_refused_in_words() {
    let refused = |order: &Order| look(order).refused.expect("refused");
    assert!(refused(&order("Flags, A4", Vec::new())).starts_with("Nothing is chosen"));
    let mut late = order("Flags, A4", vec![tag("KIT2-C")]);
    late.start = 33;
    assert_eq!(
        refused(&late),
        "A sheet of Flags, A4 has the labels 1 to 32. Write the number of the first one that is still there."
    );
    let mut bad = order("Flags, A4", vec![tag("KIT2-C")]);
    bad.stock.width = Microns(0);
    assert!(refused(&bad).starts_with("The width of Flags, A4 is 0 mm."));
    let odd = Tag {
        words: "KITCHEN 厨房".to_owned(),
        ..tag("KIT2-C")
    };
    let words = refused(&order("Flags, A4", vec![tag("KIT2-A"), odd]));
    assert!(
        words.starts_with("The typeface of the tags lacks “厨” of KIT2-C in “KITCHEN 厨房”. "),
        "{words}"
    );
}

#[test]
fn the_picture_shows_the_tag_on_its_cable_in_millimetres() {
    for stock in built_in() {
        let look = look(&order(
            &stock.name,
            vec![Tag {
                words: "A&B <TV>".to_owned(),
                ..tag("KIT2-C")
            }],
        ));
        let svg = look.picture;
        assert!(
            svg.starts_with("<svg ") && svg.ends_with("</svg>") && svg.contains("mm\""),
            "{}",
            stock.name
        );
        assert!(
            !svg.contains("<TV>") && !svg.contains("A&B"),
            "texts are no markup: {svg}"
        );
        assert_eq!(svg.matches("<g ").count(), svg.matches("</g>").count());
    }
}

#[test]
fn an_insert_says_what_its_outlet_is_for_where_that_fits() {
    let insert = |words: &str, short: &str| Tag {
        words: words.to_owned(),
        short: short.to_owned(),
        far: "A B C D".to_owned(),
        ..tag("KIT2")
    };
    let stock = "Faceplate inserts, A4";
    let short = insert("KITCHEN TV", "KIT TV");
    for words in ["KIT2", "KITCHEN TV", "A", "D"] {
        assert!(stands(&short, stock, words), "{:?}", lines(&short, stock));
    }
    assert!(!stands(&short, stock, "1A-B07"));
    let long = insert(
        "GROUND FLOOR CONSERVATORY BEHIND THE LARGE SCREEN ON THE WALL",
        "CONS LARGE SCREEN",
    );
    assert!(
        stands(&long, stock, "CONS LARGE"),
        "{:?}",
        lines(&long, stock)
    );
    assert!(!stands(&long, stock, "CONSERVATORY"));
}

#[test]
fn a_strip_says_where_its_measures_are_from_and_where_it_is_cut_apart() {
    let strip = Tag {
        words: ["B01\tKITCHEN\tKIT1-B"; 12].join("\n"),
        made_of: "as you wrote".to_owned(),
        ..tag("Panel B")
    };
    let order = order("Panel strips, A4", vec![strip.clone()]);
    let (reason, _) = told(&order);
    assert!(
        reason.starts_with("Strips with a port every 15.88 mm, as you wrote, to be cut"),
        "{reason}"
    );
    let laid = lay(&strip, &order.stock, Dots::D300);
    // The middles of the lines between the ports: each port every 5/8 inch, the sixth line a wide one.
    let mut between: Vec<(i32, i32)> = laid
        .sheet
        .pieces
        .iter()
        .filter_map(|piece| match piece {
            Piece::Bar {
                x, width, height, ..
            } if *height == order.stock.height && x.0 > 0 => Some((x.0 + width.0 / 2, width.0)),
            _ => None,
        })
        .collect();
    between.sort_unstable();
    between.truncate(11);
    for (at, (middle, width)) in (1..).zip(&between) {
        assert_eq!(*middle, at * 15_875);
        assert_eq!(*width > 100, at == 6, "{at}: {width}");
    }
}

#[test]
fn a_ruler_shorter_than_usual_is_told_before_it_is_printed() {
    for (width, said) in [(25_400, true), (60_000, false)] {
        let roll = built_in().into_iter();
        let mut roll = roll.filter(|stock| stock.feed == Feed::Roll);
        let name = roll.next().expect("a roll").name;
        let mut order = order(&name, vec![tag("KIT2-C")]);
        order.stock.width = Microns(width);
        let warnings = look(&order).warnings.join(" ");
        assert_eq!(
            warnings.contains("The ruler of the first label is 20 mm"),
            said,
            "{warnings}"
        );
    }
}
