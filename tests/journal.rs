//! The journal: the rules of the model, merging in any order, and the stored form.
//!
//! Only `support` touches the interface under test in a way that more than one file needs.

pub(crate) mod made;
mod support;

mod clash;
mod codes;
mod disagreement;
mod golden;
mod histories;
mod hostile;
mod links;
mod newer;
mod undo;
mod waiting;
mod wire;
