//! The project's own build, serve and test commands.
fn main() {}
