//! Files that people carry in and out.

mod bundle;
mod csv_encodings;
mod csv_oddities;
mod csv_properties;
mod csv_rules;
mod heads;
mod jobfile;
/// Files that are kept for ever.
mod kept;
/// What a phone has of a job.
mod known;
mod schedule_files;
mod schedule_headings;
mod schedule_rows;
/// The JSON Schemas of the documentation.
mod schema;
