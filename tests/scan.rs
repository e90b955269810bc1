//! Tags read from pictures.

mod made;
mod photographs;
