//! The codes on tags, checked against outside sources and against each other.

mod any_code;
mod check;
mod propose;
mod qr;
mod qr_reader;
mod strict;
mod tag;
mod typed;
