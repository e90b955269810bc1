//! What people want, turned into acts or refusals.
//!
//! Only `support` touches the interface under test in a way that more than one file needs. All
//! sites are flats of Marrowby Mill, which does not exist.

mod support;

mod bench;
mod check;
mod conduit;
/// Patch cords, devices, exchanged panels.
mod cord;
mod correct;
mod done;
/// Several phones that act and meet.
mod histories;
mod land;
mod loose;
mod mark;
mod picture;
mod plan;
mod print;
mod random;
mod rough;
mod settle;
mod twice;
mod undo;
mod walk;
