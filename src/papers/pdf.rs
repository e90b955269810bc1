//! The file that prints at the right size: exact millimetres, the squares of the codes on whole dots
//! of the printer, and a word to the viewer that it must not scale.

use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::PageMode;
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

use super::drawing::{Piece, Sheet};
use super::font::Font;
use super::label::{Laid, lay};
use super::leaf::lay_leaf;
use crate::codes::qr::Matrix;
use crate::tags::{Booklet, Dots, Feed, Microns, Order, Stock, built_in, code_of};

/// A point is 1/72 inch, and an inch 25.4 mm.
pub const MICRONS_PER_POINT: f64 = 25_400.0 / 72.0;

const CATALOG: Ref = Ref::new(1);
const PAGES: Ref = Ref::new(2);
const INFO: Ref = Ref::new(3);
const PLAIN: Ref = Ref::new(4);
const BOLD: Ref = Ref::new(5);
const FIRST_PAGE: i32 = 6;

/// The ruler on the first page, by which a person checks the scale: 50 mm where there is room.
const RULER: i32 = 50_000;

/// Into how many parts a module is divided, so that rectangles have whole numbers.
const GRID: usize = 100;
const GRID_UNITS: f64 = 100.0;

/// How hard the pages are compressed: beyond this it takes longer and saves nothing to speak of.
const EFFORT: u8 = 6;

/// A file in the making, page by page, so that it can be given up between two pages.
pub struct Making {
    order: Order,
    pdf: Pdf,
    pages: Vec<Ref>,
    /// The labels still to come: each tag with its copies that are left.
    tag: usize,
    copy: u16,
    ruled: bool,
    /// The tag that was laid last, since its copies follow each other.
    laid: Option<(usize, Laid)>,
    /// Whole papers in the place of tags: those to come, and the pages of the one that is laid.
    booklet: Option<(Booklet, Vec<Sheet>)>,
}

impl Making {
    /// Begins a file. The order must have been looked at.
    #[must_use]
    pub fn of(order: Order) -> Self {
        let mut pdf = Pdf::new();
        for (font, id) in [("Helvetica", PLAIN), ("Helvetica-Bold", BOLD)] {
            pdf.type1_font(id)
                .base_font(Name(font.as_bytes()))
                .encoding_predefined(Name(b"WinAnsiEncoding"));
        }
        Self {
            order,
            pdf,
            pages: Vec::new(),
            tag: 0,
            copy: 0,
            ruled: false,
            laid: None,
            booklet: None,
        }
    }

    /// Begins a file of whole papers.
    #[must_use]
    pub fn of_booklet(mut booklet: Booklet) -> Self {
        // The last is taken first.
        booklet.leaves.reverse();
        let mut making = Self::of(Order {
            title: booklet.title.clone(),
            stock: built_in().swap_remove(0),
            dots: Dots::D600,
            start: 1,
            tags: Vec::new(),
        });
        making.booklet = Some((booklet, Vec::new()));
        making
    }

    /// How many pages whole papers take.
    #[must_use]
    pub fn pages_of(booklet: &Booklet) -> i32 {
        let pages = booklet
            .leaves
            .iter()
            .map(|leaf| lay_leaf(leaf, booklet).len());
        i32::try_from(pages.sum::<usize>()).unwrap_or(i32::MAX)
    }

    /// Makes the next page of whole papers. Each has the ruler at its foot, in the right corner.
    fn whole(&mut self) -> bool {
        let Some((booklet, sheets)) = &mut self.booklet else {
            return false;
        };
        if sheets.is_empty() {
            let Some(leaf) = booklet.leaves.pop() else {
                return false;
            };
            *sheets = lay_leaf(&leaf, booklet);
            sheets.reverse();
        }
        let mut page = Page::new(booklet.width, booklet.height, Dots::D600);
        if let Some(sheet) = sheets.pop() {
            page.put(&sheet, Microns(0), Microns(0));
        }
        let corner = Microns(booklet.width.0 - RULER - 12_000);
        page.ruler(corner, Microns(12_000), RULER);
        self.put(page);
        true
    }

    /// How many pages an order takes.
    #[must_use]
    pub fn pages(order: &Order) -> i32 {
        let labels = order.labels();
        match (order.stock.feed, order.stock.per_page()) {
            (Feed::Sheet(_), Some(count)) if count > 0 => {
                let pages = (order.start - 1 + labels + count - 1) / count;
                pages + i32::from(begins_with_ruler(order))
            }
            _ => labels + 1,
        }
    }

    /// Makes the next page; false when there is none any more.
    pub fn step(&mut self) -> bool {
        if self.booklet.is_some() {
            return self.whole();
        }
        match self.order.stock.feed {
            Feed::Sheet(grid) => {
                if !self.ruled && begins_with_ruler(&self.order) {
                    self.ruled = true;
                    let mut page = Page::new(grid.page_width, grid.page_height, self.order.dots);
                    page.ruler(Microns(10_000), Microns(20_000), RULER);
                    self.put(page);
                    return true;
                }
                self.sheet(&grid)
            }
            Feed::Roll | Feed::Tape => self.one_by_one(),
        }
    }

    fn next(&mut self) -> Option<usize> {
        let tag = self.order.tags.get(self.tag)?;
        if self.copy >= tag.copies {
            self.tag += 1;
            self.copy = 0;
            return self.next();
        }
        self.copy += 1;
        Some(self.tag)
    }

    fn sheet(&mut self, grid: &crate::tags::Grid) -> bool {
        let first = if self.pages.is_empty() || self.tag == 0 && self.copy == 0 {
            self.order.start - 1
        } else {
            0
        };
        let mut page = Page::new(grid.page_width, grid.page_height, self.order.dots);
        let mut is_empty = true;
        for at in first..grid.columns * grid.rows {
            let Some(tag) = self.next() else {
                break;
            };
            is_empty = false;
            let (column, row) = (at % grid.columns, at / grid.columns);
            let x = Microns(grid.left.0 + column * grid.across.0);
            let y = Microns(grid.top.0 + row * grid.down.0);
            page.put(&self.laid(tag).sheet, x, y);
        }
        if is_empty {
            return false;
        }
        if !self.ruled {
            self.ruled = true;
            if let Some((x, y)) = ruler_place(&self.order) {
                page.ruler(x, y, RULER.min(grid.page_width.0 - 2 * x.0));
            }
        }
        self.put(page);
        true
    }

    fn laid(&mut self, tag: usize) -> &Laid {
        if self.laid.as_ref().is_none_or(|(of, _)| *of != tag) {
            let laid = lay(&self.order.tags[tag], &self.order.stock, self.order.dots);
            self.laid = Some((tag, laid));
        }
        let laid = self.laid.as_ref().map(|(_, laid)| laid);
        laid.expect("it was laid just now")
    }

    fn one_by_one(&mut self) -> bool {
        let height = self.order.stock.height;
        if !self.ruled {
            self.ruled = true;
            let is_tape = self.order.stock.feed == Feed::Tape;
            let width = if is_tape {
                Microns(RULER + 4_000)
            } else {
                self.order.stock.width
            };
            let mut page = Page::new(width, height, self.order.dots);
            let length = roll_ruler(width);
            page.ruler(Microns(1_000), Microns(height.0 / 2), length);
            self.put(page);
            return true;
        }
        let Some(tag) = self.next() else {
            return false;
        };
        let dots = self.order.dots;
        let laid = self.laid(tag);
        let mut page = Page::new(laid.width, height, dots);
        page.put(&laid.sheet, Microns(0), Microns(0));
        self.put(page);
        true
    }

    fn put(&mut self, page: Page) {
        let count = i32::try_from(self.pages.len()).unwrap_or(i32::MAX - 8) * 2;
        let (id, content) = (
            Ref::new(FIRST_PAGE + count),
            Ref::new(FIRST_PAGE + count + 1),
        );
        self.pages.push(id);
        let bytes = compress_to_vec_zlib(&page.content.finish(), EFFORT);
        let mut written = self.pdf.page(id);
        written
            .parent(PAGES)
            .media_box(Rect::new(0.0, 0.0, points(page.width), points(page.height)))
            .contents(content);
        written
            .resources()
            .fonts()
            .pair(Name(b"P"), PLAIN)
            .pair(Name(b"B"), BOLD);
        written.finish();
        self.pdf.stream(content, &bytes).filter(Filter::FlateDecode);
    }

    /// The whole file.
    #[must_use]
    pub fn finish(mut self) -> Vec<u8> {
        let count = i32::try_from(self.pages.len()).unwrap_or(i32::MAX);
        self.pdf
            .pages(PAGES)
            .kids(self.pages.iter().copied())
            .count(count);
        self.pdf
            .document_info(INFO)
            .title(TextStr(&self.order.title))
            .producer(TextStr("Bothends"));
        let mut catalog = self.pdf.catalog(CATALOG);
        catalog.pages(PAGES).page_mode(PageMode::UseNone);
        let mut wishes = catalog.viewer_preferences();
        wishes.display_doc_title(true);
        // ISO 32000-1, table 150: the print dialog opens without scaling.
        wishes.pair(Name(b"PrintScaling"), Name(b"None"));
        wishes.finish();
        catalog.finish();
        self.pdf.finish()
    }
}

/// Whether the ruler is a page of its own, before the labels: on a roll or a tape it is the first label.
pub(super) fn begins_with_ruler(order: &Order) -> bool {
    ruler_place(order).is_none()
}

/// How long the ruler is on a label of its own: whole centimetres, as many as there is room for.
fn roll_ruler(width: Microns) -> i32 {
    ((width.0 - 2_000) / 10_000 * 10_000).clamp(5_000, RULER)
}

/// What is to be said of a ruler that is shorter than usual, before it is printed; nothing of any other.
pub(super) fn short_ruler(stock: &Stock) -> Option<String> {
    let length = roll_ruler(stock.width);
    (stock.feed == Feed::Roll && length < RULER).then(|| {
        format!(
            "The ruler of the first label is {} mm, as these labels are too narrow for 50 mm. Measure it to check the scale.",
            length / 1000
        )
    })
}

/// Where the ruler stands on a sheet: in the lower margin, else in the upper one; none where neither
/// has room.
fn ruler_place(order: &Order) -> Option<(Microns, Microns)> {
    const ROOM: i32 = 7_000;
    let Feed::Sheet(grid) = order.stock.feed else {
        return None;
    };
    let below = grid.top.0 + (grid.rows - 1) * grid.down.0 + order.stock.height.0;
    let x = Microns(10_000.min(grid.page_width.0 / 10));
    if grid.page_height.0 - below >= ROOM {
        Some((x, Microns(below + (grid.page_height.0 - below) / 2)))
    } else if grid.top.0 >= ROOM {
        Some((x, Microns(grid.top.0 / 2)))
    } else {
        None
    }
}

fn points(length: Microns) -> f32 {
    to_f32(f64::from(length.0) / MICRONS_PER_POINT)
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a page has few points, and the format has no more digits"
)]
fn to_f32(number: f64) -> f32 {
    number as f32
}

/// A page with what is drawn on it. Everything is measured from the upper left corner, as printers
/// count their dots.
struct Page {
    content: Content,
    width: Microns,
    height: Microns,
    dots: Dots,
}

impl Page {
    fn new(width: Microns, height: Microns, dots: Dots) -> Self {
        Self {
            content: Content::new(),
            width,
            height,
            dots,
        }
    }

    fn put(&mut self, sheet: &Sheet, right: Microns, down: Microns) {
        for piece in &sheet.pieces {
            match piece {
                Piece::Text {
                    font,
                    size,
                    x,
                    y,
                    text,
                } => {
                    self.text(
                        *font,
                        *size,
                        Microns(x.0 + right.0),
                        Microns(y.0 + down.0),
                        text,
                    );
                }
                Piece::Bar {
                    x,
                    y,
                    width,
                    height,
                } => {
                    let top = self.height.0 - (y.0 + down.0) - height.0;
                    self.content.rect(
                        points(Microns(x.0 + right.0)),
                        points(Microns(top)),
                        points(*width),
                        points(*height),
                    );
                    self.content.fill_nonzero();
                }
                Piece::Code { x, y, dots, matrix } => {
                    self.code(Microns(x.0 + right.0), Microns(y.0 + down.0), *dots, matrix);
                }
            }
        }
    }

    fn text(&mut self, font: Font, size: Microns, x: Microns, y: Microns, text: &str) {
        let name = match font {
            Font::Plain => Name(b"P"),
            Font::Bold => Name(b"B"),
        };
        // The order was looked at, so every character has a code.
        let bytes: Vec<u8> = text.chars().filter_map(code_of).collect();
        self.content
            .begin_text()
            .set_font(name, points(size))
            .next_line(points(x), points(Microns(self.height.0 - y.0)))
            .show(Str(&bytes))
            .end_text();
    }

    /// A code whose modules are whole dots, its corner on the nearest dot of the page.
    fn code(&mut self, x: Microns, y: Microns, dots: i32, matrix: &Matrix) {
        let per_inch = f64::from(self.dots.per_inch());
        let dot = 72.0 / per_inch;
        let corner = |length: Microns| (f64::from(length.0) / 25_400.0 * per_inch).round() * dot;
        let module = dot * f64::from(dots);
        let top = f64::from(self.height.0) / MICRONS_PER_POINT - corner(y);
        self.content.save_state();
        // From here on a module is `GRID`, and y counts downwards.
        let unit = module / GRID_UNITS;
        let scale = to_f32(unit);
        self.content
            .transform([scale, 0.0, 0.0, -scale, to_f32(corner(x)), to_f32(top)]);
        for (x, y, width, height) in rectangles(matrix) {
            // A hair within its dots: whoever paints every dot that is touched paints no further one
            // because of a rounded number.
            let [x, y] = [x, y].map(|at| small(at * GRID + 1));
            let [width, height] = [width, height].map(|side| small(side * GRID - 2));
            self.content.rect(x, y, width, height);
        }
        self.content.fill_nonzero();
        self.content.restore_state();
    }

    fn ruler(&mut self, x: Microns, y: Microns, length: i32) {
        let mut sheet = Sheet::default();
        sheet.bar(0, 0, length, 200);
        for at in 0..=length / 10_000 {
            let tall = if at * 10_000 % length == 0 {
                2_000
            } else {
                1_200
            };
            let left = (at * 10_000 - 100).clamp(0, length - 200);
            sheet.bar(left, -tall / 2, 200, tall + 200);
        }
        let words = format!("{} mm", length / 1000);
        let size = Microns(2_400.min(self.height.0 / 4));
        sheet.text(
            Font::Plain,
            size,
            (Microns(0), Microns(length)),
            Microns(-1_400.max(-y.0 + size.0)),
            &words,
        );
        self.put(&sheet, x, y);
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a code has at most 177 modules to a side, of a hundred parts each"
)]
fn small(number: usize) -> f32 {
    number as f32
}

/// The dark modules as few rectangles: runs of a row, put together with the same run of the rows
/// below.
pub(super) fn rectangles(matrix: &Matrix) -> Vec<(usize, usize, usize, usize)> {
    let mut done: Vec<(usize, usize, usize, usize)> = Vec::new();
    // Those that reach the row above, by their places in `done`.
    let (mut above, mut here): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
    for y in 0..matrix.size() {
        let mut x = 0;
        while x < matrix.size() {
            if !matrix.dark(x, y) {
                x += 1;
                continue;
            }
            let start = x;
            while matrix.dark(x, y) {
                x += 1;
            }
            let same = above
                .iter()
                .copied()
                .find(|at| (done[*at].0, done[*at].2) == (start, x - start));
            let at = same.unwrap_or(done.len());
            match done.get_mut(at) {
                Some((.., height)) => *height += 1,
                None => done.push((start, y, x - start, 1)),
            }
            here.push(at);
        }
        above.clear();
        std::mem::swap(&mut above, &mut here);
    }
    done
}
