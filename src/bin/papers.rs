//! The module that makes papers: it is loaded to print alone, and runs in another thread, where it
//! sees nothing but the order that it is given.

fn main() {}

#[cfg(target_arch = "wasm32")]
#[expect(
    unreachable_pub,
    reason = "what a script calls has to be public, although nothing of Rust names it"
)]
mod called {
    use std::cell::RefCell;

    use bothends::papers::{self, Making};
    use bothends::tags::{Booklet, Order};
    use wasm_bindgen::prelude::wasm_bindgen;

    thread_local! {
        static MAKING: RefCell<Option<Making>> = const { RefCell::new(None) };
    }

    /// How an order would come out, as the text of a `Look`.
    #[wasm_bindgen]
    pub fn look(order: &str) -> String {
        Order::read(order).map_or_else(|_| String::new(), |order| papers::look(&order).to_string())
    }

    /// Begins a file, and gives the number of its pages; 0 where the order cannot be printed.
    #[wasm_bindgen]
    pub fn begin(order: &str) -> i32 {
        if let Some(booklet) = Booklet::read(order) {
            let pages = Making::pages_of(&booklet);
            MAKING.set(Some(Making::of_booklet(booklet)));
            return pages;
        }
        let order = Order::read(order)
            .ok()
            .filter(|order| papers::check(order).is_ok());
        let Some(order) = order else {
            return 0;
        };
        let pages = Making::pages(&order);
        MAKING.set(Some(Making::of(order)));
        pages
    }

    /// Makes the next page; false when there is none any more.
    #[wasm_bindgen]
    pub fn step() -> bool {
        MAKING.with_borrow_mut(|making| making.as_mut().is_some_and(Making::step))
    }

    /// The whole file.
    #[wasm_bindgen]
    pub fn finish() -> Vec<u8> {
        MAKING.take().map(Making::finish).unwrap_or_default()
    }

    /// The texts of the tags as a table.
    #[wasm_bindgen]
    pub fn texts(order: &str) -> Vec<u8> {
        Order::read(order)
            .map(|order| papers::texts(&order))
            .unwrap_or_default()
    }

    /// A text as a series of codes, a line each.
    #[wasm_bindgen]
    pub fn series(text: &str) -> String {
        papers::series(text)
    }

    /// How many dots the printer has to the inch.
    #[wasm_bindgen]
    pub fn dots(order: &str) -> i32 {
        Order::read(order).map_or(0, |order| order.dots.per_inch())
    }

    /// The first tag alone as SVG.
    #[wasm_bindgen]
    pub fn single(order: &str) -> String {
        Order::read(order)
            .map(|order| papers::single(&order))
            .unwrap_or_default()
    }
}
