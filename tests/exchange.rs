//! Files that people carry in and out.

mod jobfile;
