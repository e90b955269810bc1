//! Labels as they are bought.

use bothends::tags::{Feed, Microns, Shape, Stock, built_in};

fn of(name: &str) -> Stock {
    let mut all = built_in().into_iter();
    all.find(|stock| stock.name == name).expect("a stock")
}

#[test]
fn the_built_in_stocks_can_be_and_are_read_back() {
    let mut names: Vec<String> = Vec::new();
    for stock in built_in() {
        assert_eq!(stock.check(), Ok(()), "{}", stock.name);
        assert_eq!(Stock::read(&stock.line()).as_ref(), Some(&stock));
        names.push(stock.name);
    }
    let count = names.len();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), count, "each has a name of its own");
}

#[test]
fn labels_stand_in_the_middle_of_the_paper_of_the_standard() {
    // ISO 216: A4 is 210 mm by 297 mm. ANSI/ASME Y14.1: Letter is 8.5 in by 11 in.
    for (name, width, height) in [
        ("Flat labels, A4", 210_000, 297_000),
        ("Flat labels, Letter", 215_900, 279_400),
    ] {
        let stock = of(name);
        let Feed::Sheet(grid) = stock.feed else {
            panic!("a sheet");
        };
        assert_eq!((grid.page_width.0, grid.page_height.0), (width, height));
        let right = grid.left.0 + (grid.columns - 1) * grid.across.0 + stock.width.0;
        assert!((width - right - grid.left.0).abs() <= 100, "{name}");
    }
}

#[test]
fn measures_that_no_label_has_are_refused_in_words() {
    let good = of("Wraps for data cable, A4");
    let Feed::Sheet(grid) = good.feed else {
        panic!("a sheet");
    };
    let with = |change: &dyn Fn(&mut Stock)| {
        let mut stock = good.clone();
        change(&mut stock);
        stock.check().expect_err("refused").words
    };
    let mut said = vec![
        with(&|stock| stock.width = Microns(0)),
        with(&|stock| stock.height = Microns(-1000)),
        with(&|stock| stock.width = Microns(i32::MAX)),
        with(&|stock| stock.name = "  ".to_owned()),
        with(&|stock| {
            stock.shape = Shape::Wrap {
                print: Microns(50_000),
            }
        }),
        with(&|stock| {
            stock.shape = Shape::Flag {
                face: Microns(20_000),
            }
        }),
    ];
    let grids: [&dyn Fn(&mut bothends::tags::Grid); 6] = [
        &|grid| grid.columns = 9,
        &|grid| grid.columns = 0,
        &|grid| grid.rows = 9,
        &|grid| grid.across = Microns(20_000),
        &|grid| grid.left = Microns(-5),
        &|grid| grid.page_width = Microns(0),
    ];
    for change in grids {
        said.push(with(&|stock| {
            let mut other = grid;
            change(&mut other);
            stock.feed = Feed::Sheet(other);
        }));
    }
    let expected = [
        "The width of Wraps for data cable, A4 is 0 mm.",
        "The height of Wraps for data cable, A4 is -1 mm.",
        "The width of Wraps for data cable, A4 is 2147483.65 mm.",
        "The label stock has no name.",
        "The printed part of Wraps for data cable, A4 is 50 mm, more than the height of the label, 38.1 mm.",
        "The face of Wraps for data cable, A4 is 20 mm, more than half the width of the label, 12.7 mm.",
        "9 labels of Wraps for data cable, A4 reach",
        "A sheet of Wraps for data cable, A4 has 0 columns and 7 rows.",
        "9 labels of Wraps for data cable, A4 reach",
        "Labels of Wraps for data cable, A4 are 25.4 mm wide and follow each other every 20 mm",
        "The first label of Wraps for data cable, A4 begins -0.01 mm before the edge",
        "The width of the page is 0 mm.",
    ];
    for (said, expected) in said.iter().zip(expected) {
        assert!(said.starts_with(expected), "{said}");
        assert!(
            said.ends_with('.') && said.matches(". ").count() >= 1,
            "says what to do: {said}"
        );
    }
}

#[test]
fn what_is_no_stock_is_not_read() {
    for line in [
        "",
        "Name",
        "Name;wrap;1;2",
        "Name;wreath;1;2;3;roll",
        "Name;flat;0;2;x;roll",
        "Name;flat;0;2;3;sheet;1",
    ] {
        assert_eq!(Stock::read(line), None, "{line}");
    }
}
