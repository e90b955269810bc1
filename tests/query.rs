//! Answers for screens, over jobs that were made by commands.

mod wall;
