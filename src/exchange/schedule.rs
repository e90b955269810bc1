//! A cable schedule as people keep it in a spreadsheet: which column holds what, and each row as
//! texts by column. What the texts mean for rooms, outlets and cables is not decided here.

mod column;
mod heading;
mod label;
mod mapping;
mod reading;
mod rows;
mod total;
mod write;

pub use column::Column;
pub use label::on_tag;
pub use mapping::{Mapping, Use};
pub use reading::{Header, Schedule};
pub use rows::{BadReason, BadRow, Reading, Row, SkipReason, Skipped};
pub use write::write;
