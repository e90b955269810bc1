//! Tags read from pictures.

mod made;
mod photographs;
mod read;
