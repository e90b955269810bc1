//! Starts the first screen in the browser; on any other target there is nothing to start.

fn main() {
    #[cfg(target_arch = "wasm32")]
    bothends::front::start();
}
