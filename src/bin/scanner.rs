//! The module that reads tags: it is loaded to scan alone, and runs in another thread, where it sees
//! nothing but the pictures that it is given.

fn main() {}

#[cfg(target_arch = "wasm32")]
#[expect(
    unreachable_pub,
    reason = "what a script calls has to be public, although nothing of Rust names it"
)]
mod called {
    use std::cell::RefCell;

    use bothends::scan::{Reading, Sighting, Step};
    use wasm_bindgen::prelude::wasm_bindgen;

    thread_local! {
        static READING: RefCell<Option<Reading>> = const { RefCell::new(None) };
        static FOUND: RefCell<Option<Sighting>> = const { RefCell::new(None) };
    }

    /// Begins with a grey picture, row by row from the top; 0 is black.
    #[wasm_bindgen]
    pub fn begin(width: u32, height: u32, grey: Vec<u8>) {
        FOUND.set(None);
        READING.set(Some(Reading::of(width as usize, height as usize, grey)));
    }

    /// Begins with a picture as a canvas has it: red, green, blue and opacity of each pixel.
    #[wasm_bindgen]
    pub fn rgba(width: u32, height: u32, pixels: Vec<u8>) {
        let grey = bothends::scan::grey_of(&pixels);
        begin(width, height, grey);
    }

    /// Does a little more: 0 when there is more to do, 1 when a code was read, 2 when all was tried.
    #[wasm_bindgen]
    pub fn step() -> i32 {
        let step = READING.with_borrow_mut(|reading| reading.as_mut().map(Reading::step));
        match step {
            Some(Step::More) => 0,
            Some(Step::Found(sighting)) => {
                FOUND.set(Some(sighting));
                1
            }
            Some(Step::Nothing) | None => 2,
        }
    }

    /// The text that was read: hostile input.
    #[wasm_bindgen]
    pub fn text() -> String {
        FOUND.with_borrow(|found| {
            found
                .as_ref()
                .map_or_else(String::new, |found| found.text.clone())
        })
    }

    /// The text that a whole series of codes carried; none where it is no text, or far too long.
    #[wasm_bindgen]
    pub fn unpack(packed: &[u8]) -> Option<String> {
        bothends::relay::unpack(packed).ok()
    }

    /// Whether something looks like a code that is too small to be read.
    #[wasm_bindgen]
    pub fn too_small() -> bool {
        READING.with_borrow(|reading| reading.as_ref().is_some_and(Reading::is_small))
    }

    /// Whether the picture is too dark for anything to be read in it.
    #[wasm_bindgen]
    pub fn too_dark() -> bool {
        READING.with_borrow(|reading| reading.as_ref().is_some_and(Reading::is_dark))
    }

    /// The side of a module in pixels; 0 when nothing was read.
    #[wasm_bindgen]
    pub fn module_pixels() -> f32 {
        FOUND.with_borrow(|found| found.as_ref().map_or(0.0, |found| found.module))
    }

    /// x and y of the four corners, in turn from the upper left of the symbol; nothing when nothing was read.
    #[wasm_bindgen]
    pub fn corners() -> Vec<f32> {
        FOUND.with_borrow(|found| {
            let corners = found.iter().flat_map(|found| found.corners);
            corners.flat_map(|(x, y)| [x, y]).collect()
        })
    }
}
